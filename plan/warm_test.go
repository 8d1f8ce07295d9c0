package plan_test

import (
	"testing"

	"halfwater/plan"
	"halfwater/quantity"
	"halfwater/water"
)

// Waters of 6 and 10 for an enclosure of 23: the sheet says what to bring the mix to, within what is
// wanted; waters as warm as the enclosure are poured as they are.
func TestColdMixIsWarmed(t *testing.T) {
	f := riverbank()
	f.Wanted = nil
	f.Sources[0].Analysis.Temperature = water.Stated[quantity.Celsius](6)
	f.Sources[1].Analysis.Temperature = water.Stated[quantity.Celsius](10)
	s := plan.Write(plan.Input{Belief: exactly(about()), Facts: f, Now: sunday, Share: 0.3})
	if s.Pour == nil {
		t.Fatalf("%+v", s.Refused)
	}
	tp := s.Pour.Temp
	if tp.OfMix < 6 || tp.OfMix > 10 || !(tp.OfMix < tp.Wanted.Lo) {
		t.Fatalf("the mix as it is: %+v", tp)
	}
	if tp.BringTo < tp.Wanted.Lo || tp.BringTo > tp.Enclosure || tp.BringTo <= tp.OfMix || tp.Softest == "" {
		t.Errorf("brought to %+v", tp)
	}
	for i := range f.Sources {
		f.Sources[i].Analysis.Temperature = water.Stated[quantity.Celsius](23)
	}
	if tp = plan.Write(plan.Input{Belief: exactly(about()), Facts: f, Now: sunday, Share: 0.3}).Pour.Temp; tp.BringTo != 0 {
		t.Errorf("warm enough, and brought to %+v", tp)
	}
}
