package web

import (
	"errors"
	"net/http"
	"time"

	"halfwater/internal/keeper"
	"halfwater/internal/report"
	"halfwater/internal/say"
)

// kitsPage asks what was read or done.
type kitsPage struct {
	Base
	Kits  []kitLink
	Forms []*lineForm
	Say   string // of a fault that is about no field
}

type kitLink struct{ Name, Of, Href string }

// padPage is one kit to be read. It shows neither the last reading nor what is expected.
type padPage struct {
	Base
	report.Pad
	Shown string // as typed or ticked
	Typed string // in the field, when it is none of the buttons
	Light string
	Where string
	At    string
	Fault *fieldFault
}

// fieldFault stands beside its field: what is odd, and what was probably meant.
type fieldFault struct {
	Field, Say string
	Likely     []string
}

// Bad reports whether a field is the one at fault.
func (f *fieldFault) Bad(field string) bool { return f != nil && f.Field == field }

// Elsewhere reports whether the fault is about none of these fields.
func (f *fieldFault) Elsewhere(fields ...string) bool {
	for _, field := range fields {
		if f.Bad(field) {
			return false
		}
	}
	return f != nil
}

var (
	kitsTemplate = inFrame("page/reading/kits.tmpl", "page/reading/form.tmpl")
	padTemplate  = inFrame("page/reading/pad.tmpl", "page/reading/form.tmpl")
)

// showReading asks for the kit, or shows the pad of the one that was chosen.
func (s *site) showReading(w http.ResponseWriter, r *http.Request) error {
	l, shown, err := s.standing(w, r)
	if err != nil || shown {
		return err
	}
	if name := r.URL.Query().Get("kit"); name != "" {
		p, err := s.pad(l, name)
		if err != nil {
			return err
		}
		return show(w, http.StatusOK, padTemplate, p)
	}
	return show(w, http.StatusOK, kitsTemplate, s.kits(l))
}

func (s *site) kits(l keeper.Standing) kitsPage {
	p := kitsPage{Base: s.base(l, PageReading), Forms: formsOf(l.Facts)}
	p.Kind, p.Kits = AtTank, kitLinks(l)
	return p
}

func kitLinks(l keeper.Standing) []kitLink {
	var out []kitLink
	for _, k := range l.Facts.Kits {
		out = append(out, kitLink{k.Name, report.PadOf(k, l.At).Of, "/reading?kit=" + queryEscape(k.Name)})
	}
	return out
}

func (s *site) pad(l keeper.Standing, name string) (padPage, error) {
	k, ok := l.Facts.Kit(name)
	if !ok {
		return padPage{}, &keeper.Fault{Kind: keeper.Missing, Field: "kit", Say: say.Sentence("door.no-kit", name)}
	}
	p := padPage{Base: s.base(l, PageReading), Pad: report.PadOf(k, l.At)}
	p.Base.Kind = AtTank
	p.When = p.Pad.Of + ", " + l.At.Format("15:04")
	return p, nil
}

// takeReading keeps what a kit showed. A fault comes back on the same page, with what was typed.
func (s *site) takeReading(w http.ResponseWriter, r *http.Request) error {
	if err := r.ParseForm(); err != nil {
		return badForm(err)
	}
	form := r.PostForm
	e := keeper.ReadingEntry{Kit: form.Get("kit"), Shown: form.Get("shown"), Light: form.Get("light"), Place: form.Get("place")}
	if typed := form.Get("typed"); typed != "" {
		e.Shown = typed
	}
	if likely := form.Get("likely"); likely != "" {
		e.Shown = likely
	}
	at, err := whenTyped(form.Get("at"), s.keeper.Now())
	if err == nil {
		e.At = at
		var kept keeper.Kept
		if kept, err = s.keeper.Reading(r.Context(), s.id, e); err == nil {
			http.Redirect(w, r, "/kept?line="+queryEscape(string(kept.Line.ID)), http.StatusSeeOther)
			return nil
		}
	}
	return s.padAgain(w, r, e, form.Get("at"), err)
}

// padAgain shows the pad with the fault beside its field and everything as it was typed.
func (s *site) padAgain(w http.ResponseWriter, r *http.Request, e keeper.ReadingEntry, at string, err error) error {
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
	p, padErr := s.pad(l, e.Kit)
	if padErr != nil {
		return err
	}
	p.Shown, p.Light, p.Where, p.At = e.Shown, e.Light, e.Place, at
	if !p.Pad.Has(e.Shown) {
		p.Typed = e.Shown
	}
	p.Fault = &fieldFault{f.Field, f.Say, f.Likely}
	return show(w, status(err), padTemplate, p)
}

// Ticked reports whether a button is the one that was chosen.
func (p padPage) Ticked(value string) bool { return p.Shown == value && p.Typed == "" }

// inputTime is how a browser writes a moment into a form.
const inputTime = "2006-01-02T15:04"

// whenTyped reads the time of a form; nothing typed is now.
func whenTyped(text string, now time.Time) (time.Time, error) {
	if text == "" {
		return time.Time{}, nil
	}
	for _, layout := range []string{inputTime, "2006-01-02 15:04"} {
		if at, err := time.ParseInLocation(layout, text, now.Location()); err == nil {
			return at, nil
		}
	}
	return time.Time{}, &keeper.Fault{Kind: keeper.Bad, Field: "at", Say: say.Sentence("door.time", text)}
}

func badForm(err error) error {
	var large *http.MaxBytesError
	if errors.As(err, &large) {
		return err
	}
	return &keeper.Fault{Kind: keeper.Bad, Say: say.Sentence("door.bad-form", nil), Err: err}
}
