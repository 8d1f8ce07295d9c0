package plan_test

import (
	"math"
	"testing"

	"halfwater/book"
	"halfwater/enclosure"
	"halfwater/plan"
	"halfwater/quantity"
	"halfwater/water"
)

// One soft change among three usual ones does not make the weeks to come soft: KH lasts, for the mean
// of what was poured is 2.9 and 20 % of it makes up for 0.35 a week (2.9 - 0.35/0.2 = 1.1, over 1).
// With four soft ones it falls.
func TestKHRestsOnTheLastChanges(t *testing.T) {
	mix := func(name string, kh float64) enclosure.SourceWater {
		return enclosure.SourceWater{Name: name, Analysis: water.Analysis{
			GH: water.Stated[quantity.Hardness](6.3), KH: water.Stated(quantity.Alkalinity(kh)), PH: water.Stated[quantity.PH](7.2), NO3: water.Stated[quantity.Nitrate](0),
		}}
	}
	f := riverbank()
	f.Wanted, f.Basin = nil, nil
	f.Sources = []enclosure.SourceWater{mix("usual", 3.5), mix("soft", 1.1)}
	d := onlyKnown()
	d.KH, d.KHFall = 2.3, 0.35
	for _, c := range []struct {
		soft  int
		falls bool
	}{{1, false}, {4, true}} {
		var lines []book.Line
		for i := range 4 {
			name := "usual"
			if i >= 4-c.soft {
				name = "soft"
			}
			lines = append(lines, line(7*(4-i), book.Change{In: []book.Poured{{Source: name, Litres: 16}}}))
		}
		s := plan.Write(plan.Input{Belief: exactly(d), Facts: f, Lines: lines, Now: sunday})
		if _, falls := concern(s, "plan.kh-falls"); falls != c.falls {
			t.Errorf("%d soft changes of 4: KH falls %v", c.soft, falls)
		}
	}
}

// Nobody who tops up with RO is told to top up with RO, however soft the pour.
func TestROTopUpIsNotToldToBeRO(t *testing.T) {
	f := riverbank()
	f.Wanted, f.Basin = nil, nil
	d := about()
	d.Evaporation = 8
	lines := []book.Line{line(7, book.Change{In: []book.Poured{{Source: "RO", Litres: 16}}})}
	s := plan.Write(plan.Input{Belief: exactly(d), Facts: f, Lines: lines, Now: sunday})
	if c, ok := concern(s, "plan.ec-creep-top-up"); ok {
		t.Errorf("%+v", c)
	}
	f.Routine.TopUpWith = "tap"
	s = plan.Write(plan.Input{Belief: exactly(d), Facts: f, Lines: lines, Now: sunday})
	if c, ok := concern(s, "plan.ec-creep-top-up"); !ok || math.IsNaN(c.Value) {
		t.Errorf("the tap is not named: %+v", s.Concerns)
	}
}
