package husbandry

import (
	"math"
	"testing"

	"halfwater/cite"
	"halfwater/internal/published"
	"halfwater/quantity"
)

func TestNitrogenAgainstCheckValues(t *testing.T) {
	published.Check(t, "S06-001", float64(DryFeed(0.45).TotalAmmonia(1)))
	published.Check(t, "S06-002", constants.Value("tan-of-protein"))
	published.Check(t, "S06-003", DryFeed(0.45).Nitrogen(1).Milligrams())
}

// The shares of nitrogen that the forms of waste carry, from atomic weights (IUPAC 2021): a second
// road to "33.3 % of uric acid is nitrogen".
func TestNitrogenOfTheForms(t *testing.T) {
	const c, h, n, o = 12.011, 1.008, 14.007, 15.999
	published.Check(t, "S06-004", 4*n/(5*c+4*h+4*n+3*o)) // uric acid C5H4N4O3
	published.Check(t, "S06-005", 2*n/(c+4*h+2*n+o))     // urea CH4N2O
}

// Feed tables print 31 mg N/g for crickets, 16 for earthworms, 25 for fish flesh (from memory).
func TestFoods(t *testing.T) {
	for _, c := range []struct {
		food Food
		mgN  float64
	}{{Crickets, 31}, {Earthworms, 16}, {FishFlesh, 25}} {
		if got := c.food.Nitrogen(1).Milligrams(); math.Abs(got-c.mgN) > 0.5 {
			t.Errorf("%s: %.2f mg N/g, not %g", c.food.Name, got, c.mgN)
		}
	}
	if b := CarcassNitrogen(0.5); math.Abs(b.Median.Milligrams()-12.5) > 1e-9 {
		t.Errorf("a fish of half a gram holds %g mg N", b.Median.Milligrams())
	}
	// 100 g of wet algae carry out 0.2 g of nitrogen, or 885 mg of nitrate: the arithmetic of a
	// keeper's question, no measurement.
	if b := TrimmingsNitrogen(100); math.Abs(float64(b.Median)-0.2) > 1e-9 ||
		math.Abs(quantity.Nitrate(b.Median.Milligrams()).AsNO3()-885) > 1 {
		t.Errorf("100 g of trimmings: %v g N", b.Median)
	}
}

func TestWasteOf(t *testing.T) {
	for _, c := range []struct {
		who                  string
		ammonia, urea, urate bool
	}{
		{"guppy", true, true, false},
		{"green anole", false, false, true},
		{"Vietnamese mossy frog", true, true, false},
		{"pond slider", true, true, false},
		{"cherry shrimp", true, true, false},
	} {
		w, ok := WasteOf(kept(t, c.who)[0])
		if !ok || (w.Ammonia.Median > 0) != c.ammonia || (w.Urea.Median > 0) != c.urea || (w.UricAcid.Median > 0) != c.urate {
			t.Errorf("%s: %+v", c.who, w)
		}
		if w.ReachesWater.High > 1+1e-12 || w.ReachesWater.Low <= 0 {
			t.Errorf("%s: reaches water %+v", c.who, w.ReachesWater)
		}
		if sum := w.Ammonia.Median + w.Urea.Median + w.UricAcid.Median; sum > 1 || sum < 0.8 {
			t.Errorf("%s: the forms add up to %g", c.who, sum)
		}
	}
	if _, ok := WasteOf(kept(t, "Java moss")[0]); ok {
		t.Error("a moss gives off waste")
	}
	larva := Kept{kept(t, "Vietnamese mossy frog")[0].Species, Larva}
	if w, _ := WasteOf(larva); w.ReachesWater.Low != 1 || w.Ammonia.Median < 0.7 {
		t.Errorf("a tadpole gives off %+v", w)
	}
}

func TestRestingNitrogen(t *testing.T) {
	fish := RestingNitrogen(kept(t, "guppy")[0], 1000)
	if math.Abs(float64(fish.Low)-100) > 1e-6 || math.Abs(float64(fish.High)-300) > 1e-6 {
		t.Errorf("a kilogram of fish: %+v, not 100 to 300", fish)
	}
	if b := RestingNitrogen(kept(t, "Java moss")[0], 1000); b.High != 0 {
		t.Error("a moss gives off nitrogen")
	}
	for _, s := range All() {
		if b := RestingNitrogen(Grown(s), 10); s.Group.Animal() && !(0 < b.Low && b.Low < b.Lo && b.Lo < b.Median && b.Median < b.Hi && b.Hi < b.High) {
			t.Errorf("%s: %+v is out of order", s.Common, b)
		}
	}
}

func TestConstants(t *testing.T) {
	for _, c := range Constants() {
		if _, ok := cite.Lookup(c.Work); !ok || c.Unit == "" {
			t.Errorf("%s: work %q unit %q", c.Name, c.Work, c.Unit)
		}
		if len(c.Doubt) > 6 && c.Doubt[:6] == "5-95 %" {
			b := bandOf[quantity.Share](c.Name) // panics when the doubt does not read
			if float64(b.Median) != c.Value {
				t.Errorf("%s: median %g", c.Name, b.Median)
			}
		}
	}
}
