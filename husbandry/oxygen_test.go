package husbandry

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"halfwater/internal/published"
	"halfwater/quantity"
)

func TestOxygenAgainstCheckValues(t *testing.T) {
	published.Check(t, "S08-017", float64(RestingOxygen(50, 30)))
	published.Check(t, "S08-018", float64(RestingOxygen(2, 25))/2)
}

// The paper gives its line as ln R = 15.7 - 5.02 (1000/T), R in mmol/h for a fish of 50 g, and its
// abstract says that a tropical fish at 30 C needs about six times as much oxygen at rest as a
// polar fish at 0 C (Clarke and Johnston 1999, from memory). One Q10 over all temperatures strays
// from that line by at most a tenth.
func TestOxygenAgainstTheLineOfThePaper(t *testing.T) {
	for celsius := quantity.Celsius(0); celsius <= 30; celsius += 5 {
		line := math.Exp(15.7-5.02*1000/celsius.Kelvin()) * 31.998
		if got := float64(RestingOxygen(50, celsius)); math.Abs(got/line-1) > 0.10 {
			t.Errorf("%g C: %.2f mg/h, the line gives %.2f", celsius, got, line)
		}
	}
	if six := RestingOxygen(50, 30) / RestingOxygen(50, 0); math.Round(float64(six)) != 6 {
		t.Errorf("30 C over 0 C: %.2f, not about six", six)
	}
}

// A stock of 120 g of fish of 2 to 10 g at 25 C takes 49 to 68 mg/h at routine activity, and the
// microbes of 78 L take 4: arithmetic on the same relation.
func TestOxygenOfAStock(t *testing.T) {
	fish := kept(t, "white cloud mountain minnow")[0]
	large, small := OxygenDemand(fish, 10, 12, 25, Routine), OxygenDemand(fish, 2, 60, 25, Routine)
	if math.Abs(float64(large.Median)-49) > 1 || math.Abs(float64(small.Median)-68) > 1 {
		t.Errorf("%.1f and %.1f mg/h", large.Median, small.Median)
	}
	if m := MicrobeOxygen(78); math.Abs(float64(m.Median)-3.9) > 1e-9 || math.Abs(float64(m.High)-15.6) > 1e-9 {
		t.Errorf("microbes %+v", m)
	}
	if p := PlantOxygen(30); math.Abs(float64(p.Median)-15) > 1e-9 {
		t.Errorf("plants %+v", p)
	}
}

func TestAirBreathersTakeNone(t *testing.T) {
	for _, who := range []string{"pond slider", "Vietnamese mossy frog", "green anole", "Java moss"} {
		if b := OxygenDemand(kept(t, who)[0], 20, 3, 25, Routine); b.High != 0 {
			t.Errorf("%s takes %+v", who, b)
		}
	}
	larva := Kept{kept(t, "Vietnamese mossy frog")[0].Species, Larva}
	if b := OxygenDemand(larva, 1, 3, 22, AtRest); !(b.Low > 0) {
		t.Errorf("larvae take %+v", b)
	}
}

// More mass, more warmth and more doing never take less; many small take more than one large.
func TestOxygenRises(t *testing.T) {
	fish := kept(t, "guppy")[0]
	rapid.Check(t, func(t *rapid.T) {
		m := quantity.Grams(rapid.Float64Range(0.01, 500).Draw(t, "mass"))
		c := quantity.Celsius(rapid.Float64Range(0, 32).Draw(t, "t"))
		if RestingOxygen(m, c+1) <= RestingOxygen(m, c) || RestingOxygen(m*1.1, c) <= RestingOxygen(m, c) {
			t.Fatalf("falls at %g g, %g C", m, c)
		}
		if RestingOxygen(m, c) >= 10*RestingOxygen(m/10, c) {
			t.Fatalf("one of %g g takes no less than ten of a tenth", m)
		}
		rest, routine, fed := OxygenDemand(fish, m, 1, c, AtRest), OxygenDemand(fish, m, 1, c, Routine), OxygenDemand(fish, m, 1, c, AfterFeeding)
		if !(rest.High < routine.High && routine.High < fed.High) {
			t.Fatalf("activity: %v %v %v", rest, routine, fed)
		}
	})
	if RestingOxygen(0, 20) != 0 || RestingOxygen(quantity.Grams(math.NaN()), 20) != 0 {
		t.Error("no mass takes oxygen")
	}
}
