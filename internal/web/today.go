package web

import (
	"net/http"

	"halfwater/internal/draw"
	"halfwater/internal/report"
	"halfwater/internal/say"
)

// todayPage is the one next act, the enclosure to scale, and what is to be known of it.
type todayPage struct {
	Base
	Act, Why string
	Alarm    bool // the emergency page comes first
	Work     bool // there is something to take out or to pour
	Drawing  draw.Section
	Assumed  string // that nobody read the level
	Taken    []report.Taken
	Concerns []report.ConcernRow
	CarryOn  string // all that asks for nothing, in one entry
	Resting  []string
	Missing  []string
}

var todayTemplate = inFrame("page/today/today.tmpl", "page/today/concerns.tmpl")

func (s *site) showToday(w http.ResponseWriter, r *http.Request) error {
	l, shown, err := s.today(w, r)
	if err != nil || shown {
		return err
	}
	v := report.Sheet(l.Sheet)
	p := todayPage{
		Base: s.base(l.Standing, PageToday), Act: v.Act, Why: v.Why, Work: len(v.Steps) > 0,
		Drawing: report.Section(l.Facts, l.Belief, l.Lines, l.Sheet),
		Taken:   report.TakenOf(l.Belief, l.Lines, l.Sheet), Concerns: v.Concerns,
		Resting: v.NotToday, Missing: v.Missing,
	}
	p.Alarm = len(v.Concerns) > 0 && v.Concerns[0].Emergency
	p.CarryOn = report.CarryOn(p.Taken)
	if p.Drawing.Assumed && p.Drawing.Water > 0 {
		p.Assumed = say.Sentence("sheet.siphon-unread", nil)
	}
	return show(w, http.StatusOK, todayTemplate, p)
}
