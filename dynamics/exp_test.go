package dynamics

import (
	"math"
	"testing"
)

// TestLogarithm holds the fast form to math.Log.
func TestLogarithm(t *testing.T) {
	for x := 1e-14; x < 1e3; x *= 1.0137 {
		if got := fastLog(x); math.Abs(got-math.Log(x)) > 1e-14*(1+math.Abs(math.Log(x))) {
			t.Errorf("ln %g: %.17g, want %.17g", x, got, math.Log(x))
		}
	}
	if !math.IsInf(fastLog(0), -1) || !math.IsNaN(fastLog(-1)) || !math.IsNaN(fastLog(math.NaN())) {
		t.Error("of no positive number")
	}
}

// TestExponentials holds the fast forms to math.Exp.
func TestExponentials(t *testing.T) {
	for x := -40.0; x < 10; x += 0.0137 {
		near(t, "exp", fastExp(x), math.Exp(x), 1e-12)
		if x > -5 {
			e, mean := decayOf(-x)
			near(t, "e", e, math.Exp(x), 1e-10)
			near(t, "mean", mean, math.Expm1(x)/x, 1e-9)
		}
	}
	for _, z := range []float64{0, 1e-9, 1e-3, 0.2499, 0.2501, 3, 30} {
		end, mean := relax(2, 5, z/0.5, 0.5)
		l := max(z/0.5, 1e-12)
		near(t, "end", end, 5/l+(2-5/l)*math.Exp(-l*0.5), 1e-3)
		if z > 0.1 {
			near(t, "end", end, 5/l+(2-5/l)*math.Exp(-l*0.5), 1e-9)
			near(t, "mean", mean, 5/l+(2-5/l)*-math.Expm1(-l*0.5)/(l*0.5), 1e-9)
		}
	}
}
