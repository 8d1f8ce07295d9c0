package web

import (
	"errors"
	"net/http"
	"net/url"
	"sort"
	"strings"

	"halfwater/book"
	"halfwater/enclosure"
	"halfwater/internal/files"
	"halfwater/internal/keeper"
	"halfwater/internal/say"
)

// lineForm is a form for one line of the book; its fields are columns of the book file.
type lineForm struct {
	Kind, Title, Button string
	Fields              []*formField
	Open                bool
	Fault               string // about no field
}

// formField is one column as it is typed.
type formField struct {
	Name, Label, Unit, Help string
	Value                   string
	Text                    bool     // several lines
	Options                 []string // chosen, not typed
	Fault                   string
	Likely                  []string
}

// formOf is the form of a kind of line; nil for a kind that has none.
func formOf(kind string, f enclosure.Facts) *lineForm {
	for _, form := range formsOf(f) {
		if form.Kind == kind {
			return form
		}
	}
	return nil
}

// formsOf are the forms besides the pad. Every other kind of line is written by command or file.
func formsOf(f enclosure.Facts) []*lineForm {
	var waters []string
	for _, s := range f.Sources {
		waters = append(waters, s.Name)
	}
	help := ""
	if len(waters) > 0 {
		help = say.Sentence("form.in-help", waters)
	}
	return []*lineForm{
		{Kind: "change", Title: say.Sentence("form.change", nil), Button: say.Sentence("form.change-keep", nil), Fields: []*formField{
			{Name: "out_litres", Label: say.Sentence("form.out", nil), Unit: "L"},
			{Name: "in", Label: say.Sentence("form.in", nil), Help: help},
			{Name: "level_before_cm", Label: say.Sentence("form.before", nil), Unit: "cm"},
			{Name: "level_after_cm", Label: say.Sentence("form.after", nil), Unit: "cm"},
			{Name: "mix_ec_us_cm", Label: say.Sentence("form.mix-ec", nil), Unit: "µS/cm"},
			{Name: "temp_c", Label: say.Sentence("form.temp", nil), Unit: "°C"},
		}},
		{Kind: "top-up", Title: say.Sentence("form.top-up", nil), Button: say.Sentence("form.top-up-keep", nil), Fields: []*formField{
			{Name: "litres", Label: say.Sentence("form.litres", nil), Unit: "L"},
			{Name: "source", Label: say.Sentence("form.source", nil), Options: waters},
		}},
		{Kind: "reading", Title: say.Sentence("form.bare", nil), Button: say.Sentence("form.bare-keep", nil), Fields: []*formField{
			{Name: "of", Label: say.Sentence("form.of", nil), Help: say.Sentence("form.of-help", nil)},
			{Name: "shown", Label: say.Sentence("form.shown", nil)},
			{Name: "unit", Label: say.Sentence("form.unit", nil), Help: say.Sentence("form.unit-help", nil)},
			{Name: "basis", Label: say.Sentence("form.basis", nil), Options: []string{"", "as NO3", "as NO2", "as NH4", "as PO4", "as N", "as P", "not stated"}},
		}},
		{Kind: "note", Title: say.Sentence("form.note", nil), Button: say.Sentence("form.note-keep", nil), Fields: []*formField{
			{Name: "text", Label: say.Sentence("form.text", nil), Text: true},
		}},
	}
}

// fill writes values into their fields.
func (f *lineForm) fill(cells [][2]string) {
	for _, c := range cells {
		for _, field := range f.Fields {
			if field.Name == c[0] {
				field.Value = c[1]
			}
		}
	}
}

// blame sets a fault beside the field that it is about: the column, or the words that the column
// begins with.
func (f *lineForm) blame(fault *keeper.Fault) {
	f.Open = true
	want := strings.ReplaceAll(fault.Field, " ", "_")
	for _, field := range f.Fields {
		if want != "" && (field.Name == want || strings.HasPrefix(field.Name, want+"_")) {
			field.Fault, field.Likely = fault.Say, fault.Likely
			return
		}
	}
	f.Fault = fault.Say
}

// kept are the columns that the program gives and no form does.
var ours = map[string]bool{"id": true, "recorded": true, "by": true, "body": true}

// writeLine keeps one line, given as the columns of the book file.
func (s *site) writeLine(w http.ResponseWriter, r *http.Request) error {
	if err := r.ParseForm(); err != nil {
		return badForm(err)
	}
	cells := cellsOf(r.PostForm)
	kept, err := s.keep(r, cells)
	if err != nil {
		return s.formAgain(w, r, cells, err)
	}
	http.Redirect(w, r, "/kept?line="+queryEscape(string(kept.Line.ID)), http.StatusSeeOther)
	return nil
}

// cellsOf are the columns of a form in a fixed order. A value that was offered in place of a wrong
// one comes as likely-NAME.
func cellsOf(form url.Values) [][2]string {
	var cells [][2]string
	for name := range form {
		value := form.Get(name)
		if meant := form.Get("likely-" + name); meant != "" {
			value = meant
		}
		if !strings.HasPrefix(name, "likely-") && !ours[name] {
			cells = append(cells, [2]string{name, value})
		}
	}
	sort.Slice(cells, func(i, j int) bool { return cells[i][0] < cells[j][0] })
	return cells
}

// keep reads the columns as one row of a book file and keeps its line.
func (s *site) keep(r *http.Request, cells [][2]string) (keeper.Kept, error) {
	have, err := s.keeper.Lines(r.Context(), s.id)
	if err != nil {
		return keeper.Kept{}, err
	}
	now := s.keeper.Now()
	im, err := files.ReadRow(cells, files.Options{Now: now, Zone: now.Location(), NewID: keeper.NewID, Have: have})
	if err != nil {
		return keeper.Kept{}, &keeper.Fault{Kind: keeper.Bad, Say: say.Error(err), Err: err}
	}
	if len(im.Faults) > 0 {
		return keeper.Kept{}, rowFault(im.Faults[0])
	}
	if len(im.Lines) == 0 {
		return keeper.Kept{}, &keeper.Fault{Kind: keeper.Bad, Say: say.Sentence("door.there-already", nil)}
	}
	return s.keeper.Keep(r.Context(), s.id, im.Lines[0])
}

func rowFault(f files.RowFault) *keeper.Fault {
	out := &keeper.Fault{Kind: keeper.Bad, Field: f.Column, Say: say.Error(f.Err), Err: f.Err}
	var b book.Fault
	if out.Field == "" && errors.As(f.Err, &b) {
		out.Field = b.Field
		if b.Likely != "" {
			out.Likely = []string{b.Likely}
		}
	}
	var k files.KeyFault
	if out.Field == "" && errors.As(f.Err, &k) {
		out.Field = k.Key
	}
	return out
}

// formAgain shows the form with the fault beside its field and everything as it was typed.
func (s *site) formAgain(w http.ResponseWriter, r *http.Request, cells [][2]string, err error) error {
	var f *keeper.Fault
	if !errors.As(err, &f) {
		return err
	}
	l, shown, lookErr := s.standing(w, r)
	if shown {
		return nil
	}
	if lookErr != nil {
		return err
	}
	p := s.kits(l)
	for _, form := range p.Forms {
		if form.Kind == r.PostForm.Get("kind") {
			form.fill(cells)
			form.blame(f)
			return show(w, status(err), kitsTemplate, p)
		}
	}
	return err
}

func queryEscape(s string) string { return url.QueryEscape(s) }
