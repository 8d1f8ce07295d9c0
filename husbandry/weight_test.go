package husbandry

import (
	"math"
	"testing"

	"halfwater/internal/published"
	"halfwater/quantity"
)

func TestMassChange(t *testing.T) {
	published.Check(t, "S12-014", 100*float64(MassChange(210, 187)))
	if !math.IsNaN(float64(MassChange(0, 10))) {
		t.Error("a baseline of nothing gives a change")
	}
}

// Common practice, no source.
func TestMassStanding(t *testing.T) {
	for _, c := range []struct {
		change quantity.Share
		young  bool
		want   Standing
	}{
		{-0.047, false, Standing{}},
		{-0.05, false, Standing{Tier: Watch}},
		{-0.11, false, Standing{Tier: ActNow}},
		{-0.16, false, Standing{ActNow, true}},
		{-0.01, true, Standing{Tier: Watch}},
		{0.02, true, Standing{}},
	} {
		if got := MassStanding(c.change, c.young); got != c.want {
			t.Errorf("%g, young %v: %v", c.change, c.young, got)
		}
	}
}

// A lizard of 86 g weighs 82 g after nine days; the scale is good to 0.5 g, gut and water to 3 %.
// Reckoned by hand the chance that it truly lost over 5 % is about 0.45.
func TestOddsOfLoss(t *testing.T) {
	if p := OddsOfLoss(86, 82, 0.5, 0.03, 0.05); math.Abs(p-0.45) > 0.02 {
		t.Errorf("odds %.3f", p)
	}
	if p := OddsOfLoss(86, 86*0.95, 0.5, 0.03, 0.05); math.Abs(p-0.5) > 1e-9 {
		t.Errorf("on the line the odds are %.3f", p)
	}
}

func TestZones(t *testing.T) {
	z, _ := kept(t, "Chinese water dragon")[0].Species.UVZones.Get()
	if r := z.Range(); r.Lo != 0.7 || r.Hi != 2.6 {
		t.Errorf("zones 2-3: %v", r)
	}
	for from := 1; from <= 4; from++ {
		for to := from; to <= 4; to++ {
			if r := (UVZones{from, to}).Range(); r.Empty() {
				t.Errorf("zones %d-%d are empty", from, to)
			}
		}
	}
}

func TestQuarantine(t *testing.T) {
	for g, least := range map[Group]Days{Lizard: 60, Turtle: 60, Frog: 60, Newt: 60, Fish: 30, Shrimp: 30, Plant: 14} {
		if r := Quarantine(g); r.Lo != least || r.Empty() {
			t.Errorf("%s: %v", g, r)
		}
	}
}
