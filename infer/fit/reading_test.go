package fit

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"
)

// ExampleReading_Weigh reads 4 drops of a 1 dKH titration: between 3 and 4, blurred by 0.4.
func ExampleReading_Weigh() {
	r := Reading{Lo: 3, Hi: 4, SD: 0.4, Odd: 0.03, Classes: 20}
	for _, kh := range []float64{2, 3, 3.5, 4.5} {
		logP, _, _ := r.Weigh(kh)
		fmt.Printf("KH %.1f: %.2f\n", kh, math.Exp(logP))
	}
	// Output:
	// KH 2.0: 0.01
	// KH 3.0: 0.48
	// KH 3.5: 0.77
	// KH 4.5: 0.10
}

// TestChancesSumToOne: a card's classes share the chance among them, whatever the truth.
func TestChancesSumToOne(t *testing.T) {
	steps := []float64{0.3, 1.1, 3.5, 8, 20}
	rapid.Check(t, func(r *rapid.T) {
		g := math.Log(rapid.Float64Range(0.01, 100).Draw(r, "truth") + 0.3)
		sum := 0.0
		for i := range len(steps) + 1 {
			lo, hi := math.Inf(-1), math.Inf(1)
			if i > 0 {
				lo = steps[i-1]
			}
			if i < len(steps) {
				hi = steps[i]
			}
			c := Reading{Lo: lo, Hi: hi, Log: true, SD: 0.35, Shift: 0.3, Odd: 0.06, Classes: len(steps) + 1}
			logP, _, _ := c.Weigh(g)
			sum += math.Exp(logP)
		}
		if math.Abs(sum-1) > 1e-12 {
			r.Fatal(sum)
		}
	})
}

// TestScoreIsTheSlope holds the slope to a central difference, also far out and at open ends.
func TestScoreIsTheSlope(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		lo := rapid.Float64Range(-5, 5).Draw(r, "lo")
		x := Reading{Lo: lo, Hi: lo + rapid.Float64Range(0.1, 3).Draw(r, "width"), SD: rapid.Float64Range(0.1, 1).Draw(r, "sd"), Classes: 10}
		x.Odd = rapid.SampledFrom([]float64{0, 0.05}).Draw(r, "odd")
		switch rapid.IntRange(0, 3).Draw(r, "form") {
		case 0:
			x.Lo = math.Inf(-1)
		case 1:
			x.Hi = math.Inf(1)
		case 2:
			x.Point = true
		}
		g := lo + x.SD*rapid.Float64Range(-8, 8).Draw(r, "off")
		const h = 1e-5
		up, _, _ := x.Weigh(g + h)
		down, _, _ := x.Weigh(g - h)
		_, score, info := x.Weigh(g)
		if want := (up - down) / (2 * h); math.Abs(score-want) > 1e-4*(1+math.Abs(want)) {
			r.Fatalf("slope %g, by difference %g", score, want)
		}
		if !(info >= 0) {
			r.Fatal("information", info)
		}
	})
}
