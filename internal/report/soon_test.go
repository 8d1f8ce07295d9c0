package report

import (
	"bytes"
	"strings"
	"testing"
	"time"

	"halfwater/husbandry"
	"halfwater/plan"
	"halfwater/quantity"
)

// What is to be acted on now is looked at again at an hour; what is watched, on a day.
func TestActNowIsLookedAtByTheHour(t *testing.T) {
	on := time.Date(2026, 11, 22, 10, 0, 0, 0, time.UTC)
	for _, c := range []struct {
		tier husbandry.Tier
		in   time.Duration
		want string
	}{
		{husbandry.ActNow, 12 * time.Hour, "today, 22:00"},
		{husbandry.ActNow, 20 * time.Hour, "Monday 23 November, 06:00"},
		{husbandry.ActNow, 7 * 24 * time.Hour, "29 November"},
		{husbandry.ActNow, 0, "now"},
		{husbandry.Watch, 24 * time.Hour, "Monday 23 November"},
	} {
		r := concernRow(plan.Sheet{On: on}, plan.Concern{Code: "plan.nitrite-act", Tier: c.tier, Of: quantity.OfNO2, LookAgain: on.Add(c.in)})
		if r.LookAgain != c.want {
			t.Errorf("%v in %v: %q, want %q", c.tier, c.in, r.LookAgain, c.want)
		}
	}
}

// What is refused stands under its title, and what is done already is the act of the sheet.
func TestHeldBackAndDone(t *testing.T) {
	on := time.Date(2026, 11, 22, 18, 0, 0, 0, time.UTC)
	s := plan.Sheet{
		On: on, Refused: []plan.Refused{{Code: "plan.no-source"}},
		Done: &plan.Done{Code: "plan.done-today", At: on.Add(-8 * time.Hour), Next: on.AddDate(0, 0, 7)},
	}
	v := Sheet(s)
	if want := "Done today; the next is on Sunday 29 November 2026."; v.Act != want {
		t.Errorf("the act is %q, want %q", v.Act, want)
	}
	var b bytes.Buffer
	if err := Text(&b, v); err != nil || !strings.Contains(b.String(), "Held back, and why\n- No source water") {
		t.Errorf("%v: %s", err, b.String())
	}
}

// A visit that waits says so in its largest line, and for which visit the unit is started.
func TestVisitThatWaitsSaysSo(t *testing.T) {
	on := time.Date(2026, 11, 22, 9, 0, 0, 0, time.UTC)
	v := Sheet(plan.Sheet{
		On:      on,
		RO:      []plan.ROStart{{Fitting: "RO unit", Source: "RO", Litres: 8, Rate: 90, For: on.AddDate(0, 0, 1), StartBy: on.Add(20 * time.Hour)}},
		Refused: []plan.Refused{{Code: "plan.wait-for-ro", Source: "RO", Value: 2, Limit: 8, Unit: "L", Until: on.AddDate(0, 0, 1)}},
	})
	if want := "The visit can wait until Monday 23 November 2026."; v.Act != want {
		t.Errorf("the act is %q, want %q", v.Act, want)
	}
	if len(v.Steps) != 1 || v.Steps[0].Kind != StepRO || !strings.Contains(v.Steps[0].Notes[0], "for the visit of Monday 23 November 2026") {
		t.Errorf("steps %+v", v.Steps)
	}
}
