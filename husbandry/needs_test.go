package husbandry

import (
	"testing"

	"halfwater/quantity"
)

func meet(stock []Kept, of quantity.Measurand) quantity.Range[float64] {
	r := of.Span()
	for _, k := range stock {
		for _, n := range Needs(k) {
			if n.Of == of && n.When != InTheDark {
				r = r.Meet(n.Range)
			}
		}
	}
	return r
}

// The frogs live in the water, so their ranges join those of fish and shrimp.
func TestNeedsMeet(t *testing.T) {
	stock := kept(t, "Theloderma corticale", "Oryzias latipes", "Neocaridina davidi")
	for of, want := range map[quantity.Measurand]quantity.Range[float64]{
		quantity.OfGH:        {Lo: 5, Hi: 10},
		quantity.OfKH:        {Lo: 3, Hi: 6},
		quantity.OfPH:        {Lo: 6.8, Hi: 7.5},
		quantity.OfWaterTemp: {Lo: 18, Hi: 24},
		quantity.OfNO3:       {Lo: 0, Hi: float64(quantity.NitrateAsNO3(20))},
		quantity.OfHumidity:  {Lo: 75, Hi: 100},
	} {
		if got := meet(stock, of); got != want {
			t.Errorf("%s: %v, not %v", of, got, want)
		}
	}
}

func TestSplashersHoldNoWater(t *testing.T) {
	chemistry := map[quantity.Measurand]bool{quantity.OfGH: true, quantity.OfKH: true, quantity.OfPH: true, quantity.OfNO3: true}
	for _, s := range All() {
		k := Grown(s)
		for _, n := range Needs(k) {
			if s.Use == Landed && n.Of == quantity.OfWaterTemp {
				t.Errorf("%s holds the water to a temperature", s.Common)
			}
			if chemistry[n.Of] && (s.Group == Lizard && s.Use == Splashes || s.Use == Landed) {
				t.Errorf("%s holds %s", s.Common, n.Of)
			}
			if n.Range.Empty() {
				t.Errorf("%s: %s is empty", s.Common, n.Of)
			}
		}
		if s.Use == Splashes && len(LeftOut(k)) == 0 {
			t.Errorf("%s leaves nothing out", s.Common)
		}
	}
	dragon := kept(t, "Chinese water dragon")[0]
	if out := LeftOut(dragon); len(out) != 4 || out[0].Reason != NeedOnlySplashes {
		t.Errorf("left out: %+v", out)
	}
}

func TestLarvaeHoldWaterAndNoAir(t *testing.T) {
	frog := kept(t, "red-eyed tree frog")[0]
	if frog.HoldsWater() {
		t.Error("a grown tree frog holds the water")
	}
	frog.Stage = Larva
	if !frog.HoldsWater() || !frog.BreathesWater() {
		t.Error("a tadpole does not breathe water")
	}
	for _, n := range Needs(frog) {
		if n.Of == quantity.OfAirTemp || n.Of == quantity.OfHumidity {
			t.Errorf("a tadpole needs %s", n.Of)
		}
	}
}
