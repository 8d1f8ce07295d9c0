package web

import (
	"bytes"
	"errors"
	"html/template"
	"log/slog"
	"net/http"
	"time"

	"halfwater/book"
	"halfwater/internal/keeper"
	"halfwater/internal/report"
	"halfwater/internal/say"
)

// emergencyPage is the first acts, and below them the numbers. It answers without a book too.
type emergencyPage struct {
	Base
	Screen template.HTML
}

var emergencyTemplate = inFrame("page/emergency/emergency.tmpl")

// emergencyAddress is reached in one touch from every page.
const emergencyAddress = "/emergency"

// asks are the boxes of the form: the name of each, the keys of the phone, and where it is put.
var asks = []struct {
	name, unit, mode string
	into             func(*keeper.Ask) *string
}{
	{"power-off-since", "", "text", func(a *keeper.Ask) *string { return &a.PowerOffSince }},
	{"water-temp", "°C", "decimal", func(a *keeper.Ask) *string { return &a.WaterTemp }},
	{"room", "°C", "decimal", func(a *keeper.Ask) *string { return &a.Room }},
	{"oxygen", "mg/L", "decimal", func(a *keeper.Ask) *string { return &a.Oxygen }},
	{"ph", "", "decimal", func(a *keeper.Ask) *string { return &a.PH }},
	{"kh", "°dKH", "decimal", func(a *keeper.Ask) *string { return &a.KH }},
	{"gh", "°dGH", "decimal", func(a *keeper.Ask) *string { return &a.GH }},
	{"ec", "µS/cm", "decimal", func(a *keeper.Ask) *string { return &a.EC }},
	{"tan", "mg/L as N", "decimal", func(a *keeper.Ask) *string { return &a.TAN }},
	{"no2", "mg/L as N", "decimal", func(a *keeper.Ask) *string { return &a.NO2 }},
	{"chloride", "mg/L", "decimal", func(a *keeper.Ask) *string { return &a.Chloride }},
}

// showEmergency shows the first acts whatever was typed: a wrong box is told beside it.
func (s *site) showEmergency(w http.ResponseWriter, r *http.Request) error {
	var ask keeper.Ask
	typed := false
	form := &report.AskForm{Action: emergencyAddress}
	for _, a := range asks {
		text := r.URL.Query().Get(a.name)
		*a.into(&ask) = text
		typed = typed || text != ""
		form.Fields = append(form.Fields, report.AskField{
			Name: a.name, Label: say.Sentence("ask."+a.name, nil), Unit: a.unit, Mode: a.mode, Value: text,
		})
	}
	code := http.StatusOK
	e, err := s.emergency(r, ask)
	var f *keeper.Fault
	if errors.As(err, &f) {
		code, form.Open = status(err), true
		for i := range form.Fields {
			if form.Fields[i].Name == f.Field {
				form.Fields[i].Fault = f.Say
			}
		}
		e, err = s.emergency(r, keeper.Ask{})
	}
	if err != nil {
		return err
	}
	form.Open = form.Open || typed
	v := report.Emergency(e.Sheet, e.Table, report.EmergencyOptions{Vet: e.Vet, Kept: keptOn(r), Read: report.TakenWords(e.Reads)})
	screen, err := report.EmergencyScreen(report.EmergencyPage{EmergencyView: v, File: emergencyAddress + ".html", Form: form})
	if err != nil {
		return err
	}
	p := emergencyPage{s.bare(say.Sentence("ask.title", nil)), screen}
	p.Enclosure, p.When, p.Home, p.Pages, p.Kind = v.Title, v.When, "/", Pages(""), InEmergency
	return show(w, code, emergencyTemplate, p)
}

// emergency asks the book; a book that cannot be read does not stop the first acts.
func (s *site) emergency(r *http.Request, ask keeper.Ask) (keeper.Emergency, error) {
	e, err := s.keeper.Emergency(r.Context(), s.id, book.MainWater, ask)
	var f *keeper.Fault
	if err == nil || errors.As(err, &f) && f.Kind == keeper.Bad {
		return e, err
	}
	slog.WarnContext(r.Context(), "emergency without the book", "err", err)
	return keeper.EmergencyWithoutBook(ask, s.keeper.Now())
}

// keepEmergency gives the page as one file that a phone keeps.
func (s *site) keepEmergency(w http.ResponseWriter, r *http.Request) error {
	e, err := s.emergency(r, keeper.Ask{})
	if err != nil {
		return err
	}
	v := report.Emergency(e.Sheet, e.Table, report.EmergencyOptions{Vet: e.Vet, Read: report.TakenWords(e.Reads)})
	made := s.keeper.Now().Format(time.DateOnly)
	var b bytes.Buffer
	if err := report.EmergencyFile(&b, v, "http://"+r.Host+emergencyAddress+"?kept="+made); err != nil {
		return err
	}
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	http.SetCookie(w, &http.Cookie{
		Name: keptCookie, Value: made, Path: emergencyAddress, MaxAge: 2 * 366 * 24 * 3600, HttpOnly: true, SameSite: http.SameSiteStrictMode,
	})
	w.Header().Set("Content-Disposition", `attachment; filename="`+report.EmergencyFileName(s.keeper.Now())+`"`)
	_, err = w.Write(b.Bytes())
	return err
}

// keptCookie remembers on which day this phone kept the file, and nothing else.
const keptCookie = "kept"

// keptOn is the day of the file that this phone kept: as the file's own link says, else as it was
// remembered. Zero when neither does.
func keptOn(r *http.Request) time.Time {
	day := r.URL.Query().Get("kept")
	if c, err := r.Cookie(keptCookie); day == "" && err == nil {
		day = c.Value
	}
	t, err := time.ParseInLocation(time.DateOnly, day, time.Local)
	if err != nil {
		return time.Time{}
	}
	return t
}
