package plan

import (
	"math"
	"testing"
	"time"

	"pgregory.net/rapid"

	"halfwater/change"
	"halfwater/quantity"
)

// course is an outlook whose nitrate goes by the arithmetic of package change alone: a rise between changes,
// a share of a source at each.
func course(share, source, rise, now, width float64, eves int) Outlook {
	o := Outlook{From: time.Date(2026, 11, 22, 10, 0, 0, 0, time.UTC), Share: quantity.Share(share), Every: 7, AsLast: true}
	level := now
	for i := range eves {
		b := quantity.Band[float64]{Lo: level - width/2, Median: level, Hi: level + width/2}
		o.Eves = append(o.Eves, Eve{At: o.From.AddDate(0, 0, 7*i), Bands: map[quantity.Measurand]quantity.Band[float64]{quantity.OfNO3: b}})
		level = (1-share)*level + share*source + rise
	}
	return o
}

// TestPlateauIsThatOfTheClosedForm: read off the medians, the plateau of water that goes by the arithmetic of
// changes is that of package change, and the time to reach it is the number of changes that package change
// gives for coming near enough.
func TestPlateauIsThatOfTheClosedForm(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		share := rapid.Float64Range(0.05, 0.6).Draw(t, "share")
		source := rapid.Float64Range(0, 5).Draw(t, "source")
		rise := rapid.Float64Range(0, 5).Draw(t, "rise")
		now := rapid.Float64Range(0, 60).Draw(t, "now")
		width := rapid.Float64Range(0.5, 10).Draw(t, "width")
		o := course(share, source, rise, now, width, rapid.IntRange(leastEves, 14).Draw(t, "eves"))
		ps := o.plateaus()
		if len(ps) != 1 {
			t.Fatalf("%d plateaus", len(ps))
		}
		want := change.Plateau(source, rise, quantity.Share(share)).Before
		if math.Abs(ps[0].Level-want) > 1e-9*(1+want)/share {
			t.Errorf("rests at %g, closed form %g", ps[0].Level, want)
		}
		edge := want + math.Copysign(nearEnough*width, now-want) // where it comes near
		n := math.Ceil(change.CyclesUntil(now, edge, want, quantity.Share(share)) - 1e-6)
		if math.Abs(now-want) <= nearEnough*width {
			n = 0
		}
		if weeks := ps[0].By.Sub(o.From).Hours() / (24 * 7); !ps[0].By.IsZero() && math.Abs(weeks-n) > 1e-6 && n*7 < 365 {
			t.Errorf("near after %g changes, closed form %g (edge %g, now %g, rests at %g)", weeks, n, edge, now, want)
		}
		if ps[0].By.IsZero() && n*7 < 358 {
			t.Errorf("not within a year, closed form says %g weeks", n)
		}
	})
}

// TestNoPlateauWithoutAChange: without a change nothing comes to rest, and with a few eves nothing is said.
func TestNoPlateauWithoutAChange(t *testing.T) {
	for name, o := range map[string]Outlook{
		"nothing changed": course(0, 2, 1, 10, 2, 13),
		"all changed":     course(1, 2, 1, 10, 2, 13),
		"few eves":        course(0.2, 2, 1, 10, 2, leastEves-1),
	} {
		if p := o.plateaus(); len(p) > 0 {
			t.Errorf("%s: %+v", name, p)
		}
	}
	unknown := course(0.2, 2, 1, 10, 2, 13)
	unknown.AsLast = false
	if p := unknown.plateaus(); len(p) > 0 {
		t.Errorf("what is poured is not known, and it rests at %+v", p)
	}
}
