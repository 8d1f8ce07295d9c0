package plan_test

import (
	"testing"
	"time"

	"halfwater/caution"
	"halfwater/enclosure"
	"halfwater/husbandry"
	"halfwater/infer"
	"halfwater/plan"
	"halfwater/quantity"
	"halfwater/water"
)

// Hard limits in the cases where it would be easy to pass them: judgement, and the lines of the
// program for free ammonia (0.03 mg N/L).

// A box at pH 6.8 that holds its ammonia by its CO2: it would come past the line by itself when that
// leaves, which is no leave to pour hard water.
func TestCO2ThatHidesAmmoniaIsNoLeaveToPour(t *testing.T) {
	for _, c := range []struct {
		tan quantity.TotalAmmonia
		kh  quantity.Alkalinity
	}{{4, 6}, {2, 2}} {
		d := exhausted()
		d.PH, d.KH, d.GH, d.TAN = 6.8, c.kh, 8, c.tan
		d.PCO2 = quantity.Atm(nan)
		f := riverbank()
		f.Basin, f.Wanted = nil, nil
		f.Sources = []enclosure.SourceWater{reference(), pureRO()}
		s := plan.Write(plan.Input{Belief: belief(d, 500, 0.03), Facts: f, Now: sunday, Share: 0.15})
		if _, ok := refused(s, "plan.ammonia-not-in-one-visit"); !ok {
			t.Errorf("TAN %v at KH %v: 15 %% is not refused: %+v", c.tan, c.kh, s.Refused)
		}
	}
}

func TestLowPHWithoutAnAmmoniaTestPoursNothing(t *testing.T) {
	d := about()
	d.PH, d.TAN = 6.4, quantity.TotalAmmonia(nan)
	s := plan.Write(plan.Input{Belief: exactly(d), Facts: riverbank(), Now: sunday})
	if _, ok := refused(s, "plan.test-tan-first-pour"); !ok || s.Pour != nil {
		t.Errorf("pours %+v, refused %+v", s.Pour, s.Refused)
	}
}

func TestWhatWasNeverReadIsPouredWithCare(t *testing.T) {
	b := exactly(about())
	b.Evidence = map[quantity.Measurand]infer.Evidence{quantity.OfGH: {}, quantity.OfKH: {}, quantity.OfEC: {}, quantity.OfPH: {Last: sunday.Add(-time.Hour)}}
	s := plan.Write(plan.Input{Belief: b, Facts: riverbank(), Now: sunday, Share: 0.4})
	r, ok := refused(s, "plan.unread-step")
	if !ok || r.Of != quantity.OfGH {
		t.Fatalf("refused %+v", s.Refused)
	}
	if s.Pour == nil || s.Pour.Share > 0.151 { // fish only: 15 % a day
		t.Errorf("pours %+v", s.Pour)
	}
}

// An empty store is a measured zero, not "as much as wanted".
func TestAnEmptyStorePoursNothingOfIt(t *testing.T) {
	f := riverbank()
	for i := range f.Sources {
		if f.Sources[i].Name == "RO" {
			f.Sources[i].InStore = water.Stated[quantity.Litres](0)
		}
	}
	if s := plan.Write(plan.Input{Belief: exactly(about()), Facts: f, Now: sunday}); s.Pour != nil && part(s, "RO") > 0 {
		t.Errorf("%v L of RO from an empty store", part(s, "RO"))
	}
}

func TestANeutraliserIsNeverRoundedToNothing(t *testing.T) {
	f := riverbank()
	f.Neutralisers = []enclosure.Neutraliser{{Name: "conditioner", MlPer: 1, ForLitres: 400}}
	s := plan.Write(plan.Input{Belief: exactly(about()), Facts: f, Now: sunday})
	n := s.Pour.Neutraliser
	if n == nil || n.Millilitres < float64(n.ForLitres)/400 || n.Millilitres == 0 {
		t.Errorf("%+v", n)
	}
}

func TestListedSpeciesBringTheirCaution(t *testing.T) {
	for _, name := range []string{"Triturus cristatus", "Emys orbicularis", "Bombina bombina"} {
		sp, err := husbandry.Lookup(name)
		if err != nil {
			t.Fatal(err)
		}
		f := riverbank()
		f.Stock = []enclosure.Batch{{Name: "kept", Species: sp.Scientific, Count: 1}}
		s := plan.Write(plan.Input{Belief: exactly(about()), Facts: f, Now: sunday})
		found := false
		for _, c := range s.Cautions {
			found = found || c.Trigger == caution.ListedSpecies
		}
		if !found {
			t.Errorf("%s: no word about the law", name)
		}
	}
}
