package climate

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"

	"halfwater/internal/published"
	"halfwater/quantity"
)

func TestUVAgainstCheckValues(t *testing.T) {
	for id, d := range map[string]quantity.Millimetres{"S12-010": 200, "S12-011": 300, "S12-012": 450} {
		published.Check(t, id, float64(UVAt(3, 300, d, 2)))
	}
	published.Check(t, "S12-013", float64(LampOutput(12, 15)))
	if median, span := LampHalfLife(); median != 15 || span.Lo != 9 || span.Hi != 30 {
		t.Errorf("half-life %g, %v", median, span)
	}
}

// A lamp of 11 months read 3.0, 2.8, 2.5, 2.3 at months 0, 3, 7, 10. By hand: straight it reaches
// 2.0 at 14.2 months, by halves at 15.3.
func TestLampFallsToItsLine(t *testing.T) {
	decay, err := FitDecay([]UVReading{{0, 3.0}, {3, 2.8}, {7, 2.5}, {10, 2.3}})
	if err != nil {
		t.Fatal(err)
	}
	ages, ok := decay.Reaches(2.0)
	if !ok || math.Abs(float64(ages.Lo)-14.2) > 0.05 || math.Abs(float64(ages.Hi)-15.3) > 0.05 {
		t.Errorf("reaches 2.0 at %v", ages)
	}
}

func TestFitDecayRefuses(t *testing.T) {
	for _, r := range [][]UVReading{nil, {{3, 2.8}}, {{3, 2.8}, {3, 2.6}}, {{0, 3}, {3, 0}}} {
		var few TooFewUVReadings
		if _, err := FitDecay(r); !errors.As(err, &few) {
			t.Errorf("%v: %v", r, err)
		}
	}
	rising, err := FitDecay([]UVReading{{0, 2}, {5, 3}})
	if err != nil {
		t.Fatal(err)
	}
	if ages, ok := rising.Reaches(1); ok {
		t.Errorf("a rising lamp reaches 1 at %v", ages)
	}
}

// Readings made by either law are found again, and so is the exponent of distance.
func TestFitsFindTheLaw(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		first, rate := rapid.Float64Range(1, 8).Draw(t, "first"), rapid.Float64Range(0.005, 0.1).Draw(t, "rate")
		var byHalves, byLine []UVReading
		for _, age := range []float64{0, 2, 5, 9} {
			byHalves = append(byHalves, UVReading{Months(age), quantity.UVIndex(first * math.Exp(-rate*age))})
			byLine = append(byLine, UVReading{Months(age), quantity.UVIndex(first * (1 - rate*age))})
		}
		if d, err := FitDecay(byHalves); err != nil || math.Abs(d.Rate-rate) > 1e-9 || math.Abs(float64(d.First)-first) > 1e-9 {
			t.Fatalf("%v %v", d, err)
		}
		if d, err := FitDecay(byLine); err != nil || math.Abs(float64(d.Fall)-first*rate) > 1e-9 {
			t.Fatalf("%v %v", d, err)
		}
		n := rapid.Float64Range(0.8, 2.2).Draw(t, "n")
		if got := Exponent(quantity.UVIndex(first), 300, UVAt(quantity.UVIndex(first), 300, 450, n), 450); math.Abs(got-n) > 1e-9 {
			t.Fatalf("exponent %g, not %g", got, n)
		}
	})
	if !math.IsNaN(Exponent(3, 300, 2, 300)) || !math.IsNaN(Exponent(0, 300, 2, 400)) {
		t.Error("an exponent from nothing")
	}
}

func TestMesh(t *testing.T) {
	if m := MeshTakes(); m.Lo != 0.15 || m.Hi != 0.50 {
		t.Errorf("mesh takes %v", m)
	}
}
