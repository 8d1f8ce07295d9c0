package web

import (
	"net/http"

	"halfwater/internal/report"
	"halfwater/internal/say"
)

// waterPage is the water now: each quantity between its banks.
type waterPage struct {
	Base
	Lead     string
	Held     string
	Rows     []report.WaterRow
	Paces    []report.WaterRow // what is estimated beside the water itself
	Unfit    []report.ContradictionRow
	Unsure   string // of what something does not fit
	Refused  []string
	Doubtful []string
	Odd      []string // about the times of lines
	Missing  []string
}

var waterTemplate = inFrame("page/water/water.tmpl")

func (s *site) showWater(w http.ResponseWriter, r *http.Request) error {
	l, shown, err := s.today(w, r)
	if err != nil || shown {
		return err
	}
	n := report.Water(l.Name(), l.Belief, l.Lines)
	p := waterPage{
		Base: s.base(l.Standing, PageWater), Rows: report.WaterRows(l.Belief, l.Facts, l.Lines, l.Sheet), Held: report.HeldWords(n),
		Missing: report.Sheet(l.Sheet).Missing,
	}
	p.Paces, p.Unfit = report.PaceRows(n, l.Belief), report.ContradictionRows(n)
	p.Unsure = report.UnfitWords(p.Unfit)
	if n.Rough && len(p.Rows) > 0 {
		p.Doubtful = append(p.Doubtful, say.Sentence("now.rough", nil))
	}
	for _, x := range n.Refused {
		p.Refused = append(p.Refused, say.Sentence(x.Code, x))
	}
	p.Doubtful = append(p.Doubtful, n.InDoubt()...)
	if n.Branches != nil {
		p.Doubtful = append(p.Doubtful, say.Sentence(n.Branches.Code, n.Branches))
	}
	for _, x := range n.Oddities {
		p.Odd = append(p.Odd, say.Sentence(x.Code, x))
	}
	p.Lead = n.Lead(p.Rows)
	return show(w, http.StatusOK, waterTemplate, p)
}
