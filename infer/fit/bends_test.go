package fit

import (
	"math"
	"math/rand/v2"
	"testing"

	"halfwater/dynamics"
)

// TestDrawsLeanByBends: a number x = exp(a + b), a and b being standard normal beforehand, is seen once as 1 with an error of sd
// 0.3, by a pen. The mean of a + b after that is found by an integral over it. Draws that do not lean miss it by more than a
// quarter of a standard deviation; how the effects bend takes away more than half of that (a bound set after it was seen to
// take 55 to 64 % with errors of 0.2 to 0.5: it is a first order).
func TestDrawsLeanByBends(t *testing.T) {
	p := fed()
	const shown, sd = 1, 0.3
	number := func(q *dynamics.Params, _ *dynamics.State) float64 {
		return math.Exp(p.Priors[dynamics.Stone].Z(q[dynamics.Stone]) + p.Priors[dynamics.Leach].Z(q[dynamics.Leach]))
	}
	p.Readings = append(p.Readings, Reading{Day: 3, Own: number, Lo: shown, Hi: shown, SD: sd, Classes: 1, Point: true, Lot: -1, Wander: -1})
	sum, mean, squares := 0.0, 0.0, 0.0
	for s := -12.0; s < 12; s += 1e-3 { // a + b, of variance 2
		miss := (shown - math.Exp(s)) / sd
		w := math.Exp(-s*s/4 - miss*miss/2)
		sum, mean, squares = sum+w, mean+w*s, squares+w*s*s
	}
	mean /= sum
	exact := math.Sqrt(squares/sum - mean*mean)
	off := func(bends bool) float64 {
		post, err := p.Solve(Effort{Draws: 1000, Scouts: 2, Bends: bends}, 1)
		if err != nil {
			t.Fatal(err)
		}
		drawn := 0.0
		for i := range post.Draws {
			drawn += (post.Draws[i].Z[dynamics.Stone] + post.Draws[i].Z[dynamics.Leach]) / 1000
		}
		return (drawn - mean) / exact
	}
	straight, leaning := off(false), off(true)
	if math.Abs(straight) < 0.25 {
		t.Errorf("draws that do not lean are off by %.2f sd only: the case asks nothing", straight)
	}
	if math.Abs(leaning) > math.Abs(straight)/2 {
		t.Errorf("draws that lean are off by %.2f sd, others by %.2f", leaning, straight)
	}
}

// TestDirections: they are the singular vectors of the rows, whether there are fewer rows or fewer columns.
func TestDirections(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for _, size := range [][2]int{{3, 5}, {5, 3}, {4, 4}} {
		effects, weight := make([][]float64, size[0]), make([]float64, size[0])
		for i := range effects {
			weight[i] = 1 + r.Float64()
			for range size[1] {
				effects[i] = append(effects[i], r.NormFloat64())
			}
		}
		k := kernelOf(effects, weight, 1)
		directions := k.directions(0)
		if len(directions) != min(size[0], size[1]) {
			t.Fatalf("%v: %d directions", size, len(directions))
		}
		for i, row := range k.rows {
			for j := range row {
				sum := 0.0
				for _, d := range directions {
					sum += d.by[i] * math.Sqrt(d.says) * d.along[j]
				}
				if math.Abs(sum-row[j]) > 1e-9 {
					t.Errorf("%v: row %d, score %d comes out as %g for %g", size, i, j, sum, row[j])
				}
			}
		}
	}
}
