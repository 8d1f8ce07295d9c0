package emergency

import (
	"math"
	"testing"

	"halfwater/internal/published"
)

// Rows S08-014 to S08-016 are our own arithmetic: they pin the equation. The stepping below is the
// second road.
func TestClosedFormOfTheList(t *testing.T) {
	const saturation = 8.26346 // 25 C, row S08-006
	published.Check(t, "S08-014", saturation-30/(10*2*0.36))
	if _, falls := until(7.5, 3, saturation, 120, 30, 10*2*0.36); falls {
		t.Error("30 mg/h in 120 L is said to fall below 3")
	}
	for id, x := range map[string]struct{ litres, exchange float64 }{
		"S08-015": {120, 10 * 2 * 0.36}, "S08-016": {60, 10 * 1 * 0.20},
	} {
		h, falls := until(7.5, 3, saturation, x.litres, 60, x.exchange)
		if !falls {
			t.Errorf("%s never falls", id)
		}
		published.Check(t, id, h)
		c, stepped := 7.5, 0.0
		const dt = 1e-3
		for ; c > 3; stepped += dt {
			c += dt * (x.exchange*(saturation-c) - 60) / x.litres
		}
		if math.Abs(stepped-h) > 0.01 {
			t.Errorf("%s: %.3f h, stepped %.3f", id, h, stepped)
		}
	}
	if h, _ := until(8.2, 3, 8.26, 78, 60, 0); math.Abs(h-5.2*78/60) > 1e-9 {
		t.Errorf("without exchange %.3f h", h)
	}
}

func TestSpreadHoldsItsQuantiles(t *testing.T) {
	s := spread{0.2, 0.5, 1}
	x := make([]float64, draws)
	for i, z := range scores(7, 3)[2] {
		x[i] = s.at(z)
	}
	b := bandOf[Hours](x)
	for name, c := range map[string]struct{ got, want float64 }{"5": {float64(b.Low), 0.2}, "50": {float64(b.Median), 0.5}, "95": {float64(b.High), 1}} {
		if math.Abs(c.got/c.want-1) > 0.02 {
			t.Errorf("%s %%: %.4f, not %.4f", name, c.got, c.want)
		}
	}
	if down(2.97) != 2.5 || down(0.97) != 0.9 || down(3) != 3 {
		t.Error("hours are rounded up")
	}
}

func TestConstantsHaveSpans(t *testing.T) {
	for _, c := range constants.List {
		if c.Doubt == "" {
			continue
		}
		if s := spanOf(c.Name); !(s.lo <= s.mid && s.mid <= s.hi && s.lo < s.hi) {
			t.Errorf("%s: %+v", c.Name, s)
		}
	}
}
