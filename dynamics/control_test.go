package dynamics

import (
	"math/rand/v2"
	"testing"
)

// TestARunEnds: where no step can be near enough, in histories far outside the priors too, none is shorter than the pace allows,
// so that a run takes no more than so many.
func TestARunEnds(t *testing.T) {
	c := withService(weekly(182, 100, 40, 0.2), 60)
	r := rand.New(rand.NewPCG(4, 5))
	var days []float64
	for d := 0.5; d < c.Days; d += 0.5 {
		days = append(days, d)
	}
	pace := Pace{Step: 0.75, Within: 1e-12, Least: 0.05}
	out, shortest := make([]State, len(days)), pace.Step
	for range 50 {
		var z [Unknowns]float64
		for u := range z {
			z[u] = 8 * r.NormFloat64()
		}
		p := FromZ(&z)
		d := c.Deviations()
		c.Run(&p, &d, c.New(&p, neutral(tap), 1e-3, 0.2), c.Days, days, out, pace)
		for i := range out {
			if out[i].stride < pace.Least {
				t.Fatalf("day %g: the step is %g days, the shortest %g", days[i], out[i].stride, pace.Least)
			}
			shortest = min(shortest, out[i].stride)
		}
	}
	if shortest != pace.Least {
		t.Errorf("no step was as short as may be: %g days", shortest)
	}
}
