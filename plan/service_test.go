package plan_test

import (
	"slices"
	"testing"
	"time"

	"halfwater/book"
	"halfwater/plan"
	"halfwater/quantity"
)

func line(daysAgo int, body book.Body) book.Line {
	return book.Line{ID: book.ID(time.Duration(daysAgo).String()), At: sunday.AddDate(0, 0, -daysAgo), Water: "main", Body: body}
}

func plainly(lines ...book.Line) plan.Input {
	f := riverbank()
	f.Wanted = nil
	return plan.Input{Belief: exactly(about()), Facts: f, Lines: lines, Now: sunday}
}

func left(s plan.Service, stage string) (plan.StageLeft, bool) {
	i := slices.IndexFunc(s.Leave, func(l plan.StageLeft) bool { return l.Stage == stage })
	if i < 0 {
		return plan.StageLeft{}, false
	}
	return s.Leave[i], true
}

// One biological stage a visit, and 10 to 14 days between two: the rule of staggered service
// (judgement; see the planner's constants).
func TestStagesRestBetweenServices(t *testing.T) {
	slow := line(0, book.TimedJug{Stage: "coarse sponge", Litres: 2, Seconds: 24}) // 58 %
	for days, due := range map[int]bool{5: false, 9: false, 11: true, 20: true} {
		s := plan.Write(plainly(line(days, book.Service{Stage: "fine sponge"}), slow)).Service
		if (s.Due != nil) != due {
			t.Errorf("%d days after another stage: due %+v", days, s.Due)
		}
		if l, ok := left(s, "coarse sponge"); !due && (!ok || l.Code != "plan.stage-rest" || !l.Until.After(sunday)) {
			t.Errorf("%d days after: left %+v", days, s.Leave)
		}
		if due {
			if l, ok := left(s, "fine sponge"); !ok || l.Until.Before(sunday.AddDate(0, 0, 13)) {
				t.Errorf("the other stage is not left alone for two weeks: %+v", s.Leave)
			}
			if l, ok := left(s, "carbon"); !ok || l.Code != "plan.carbon-own-day" {
				t.Errorf("carbon is not left for its own day: %+v", s.Leave)
			}
		}
	}
	if s := plan.Write(plainly(line(60, book.Service{Stage: "fine sponge"}))).Service; s.Due == nil || s.Due.Code != "plan.stage-age" {
		t.Errorf("two months after its last service %+v is due", s.Due)
	}
}

// Any two of {a biological stage, more than a quarter of the bed, carbon with its film, a change
// over 30 %} on one day are said, with what could then not be told apart.
func TestStackedActsAreSaid(t *testing.T) {
	bed := line(0, book.Change{BedShare: 0.5})
	carbon := line(0, book.Service{Stage: "carbon", RinsedIn: "replaced"})
	sponge := line(0, book.Service{Stage: "fine sponge", RinsedIn: "tap"})
	for _, c := range []struct {
		lines []book.Line
		share quantity.Share
		want  []string
	}{
		{nil, 0.2, nil},
		{[]book.Line{bed}, 0.2, nil},
		{[]book.Line{bed, carbon}, 0.2, []string{"plan.stacked-bed-carbon"}},
		{[]book.Line{sponge}, 0.4, []string{"plan.stacked-bio-change"}},
		{[]book.Line{sponge, carbon, bed}, 0.4, []string{
			"plan.stacked-bio-bed", "plan.stacked-bio-carbon", "plan.stacked-bio-change", "plan.stacked-bed-carbon", "plan.stacked-bed-change", "plan.stacked-carbon-change",
		}},
		{[]book.Line{line(10, book.Service{Stage: "carbon"}), carbon, bed}, 0.2, nil}, // young carbon has no film
	} {
		in := plainly(c.lines...)
		in.Share = c.share
		in.Facts.Sources = in.Facts.Sources[:1]
		in.Facts.Sources[0] = likeTank()
		var got []string
		for _, s := range plan.Write(in).Service.Stacked {
			got = append(got, s.Code)
			if len(s.Acts) != 2 {
				t.Errorf("%s names %v", s.Code, s.Acts)
			}
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%d lines and a change of %v: %v, want %v", len(c.lines), c.share, got, c.want)
		}
	}
}

// After a visit: tests at 24 h, 72 h and 7 d; switching back on is looked at again after ten
// minutes and an hour, and the heater waits a quarter of an hour under water.
func TestWhatComesAfterTheVisit(t *testing.T) {
	s := plan.Write(plainly())
	var days []float64
	for _, d := range s.Tests {
		days = append(days, d.At.Sub(sunday).Hours()/24)
	}
	for _, want := range []float64{1, 3, 7} {
		if !slices.Contains(days, want) {
			t.Errorf("no test after %v days: %v", want, days)
		}
	}
	after := map[string]time.Duration{}
	for _, r := range s.Restart {
		after[r.Code] = r.After
	}
	for code, want := range map[string]time.Duration{
		"plan.restart-flow": 0, "plan.restart-air": 0, "plan.restart-drip": 0, "plan.restart-timers": 0,
		"plan.restart-again": 10 * time.Minute, "plan.restart-heater": 15 * time.Minute, "plan.restart-hour": time.Hour,
	} {
		if got, ok := after[code]; !ok || got != want {
			t.Errorf("%s after %v, want %v", code, got, want)
		}
	}
}
