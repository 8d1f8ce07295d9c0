package web

import (
	"net/http"

	"halfwater/book"
	"halfwater/internal/keeper"
	"halfwater/internal/report"
	"halfwater/internal/say"
)

// keptPage tells what was kept, and only now what had been expected.
type keptPage struct {
	Base
	Line     report.BookLine
	Means    string
	Expected string
	Fits     bool
	Row      *report.WaterRow // the water now, with what was kept
	Kits     []kitLink
}

var keptTemplate = inFrame("page/reading/kept.tmpl")

func (s *site) showKept(w http.ResponseWriter, r *http.Request) error {
	kept, err := s.keeper.Kept(r.Context(), s.id, book.ID(r.URL.Query().Get("line")))
	if err != nil {
		return err
	}
	l, shown, err := s.standing(w, r)
	if err != nil || shown {
		return err
	}
	all, err := s.keeper.Lines(r.Context(), s.id)
	if err != nil {
		return err
	}
	p := keptPage{Base: s.base(l, PageReading), Line: report.BookLines([]book.Line{kept.Line}, all, l.At)[0], Kits: kitLinks(l)}
	p.Title, p.Base.Kind = say.Sentence("door.kept-page", kept.Line.Body.Kind()), AtTank
	if reading, ok := kept.Line.Body.(book.Reading); ok {
		look, shown, err := s.today(w, r)
		if err != nil || shown {
			return err
		}
		p.tell(kept, reading, look)
	}
	return show(w, http.StatusOK, keptTemplate, p)
}

// tell adds what a reading means and how it compares.
func (p *keptPage) tell(kept keeper.Kept, reading book.Reading, l keeper.Look) {
	p.Means = say.Sentence("door.reading-means", reading)
	for _, n := range kept.Notes {
		p.Means += " " + say.Sentence(string(n), reading)
	}
	if e := kept.Expected; e != nil {
		p.Expected, p.Fits = say.Sentence(e.Code, e), e.Fits
	}
	if row, ok := report.Fit(reading, l.Belief, l.Facts, l.Sheet); ok {
		p.Row = &row
	}
}
