package fit

import (
	"math"
	"testing"

	"halfwater/dynamics"
)

// TestDrawsLeanToWhereThereIsRoom: a number x = exp(a + b) / 10, a and b being standard normal beforehand, is seen six
// times as ln(x + 0.1) with an error of sd 0.3. The mean of a + b after that is found by an integral over it;
// that of the draws must come within a fifth of a standard deviation of it, which the mode does not.
func TestDrawsLeanToWhereThereIsRoom(t *testing.T) {
	p := fed()
	const shift, sd, times = 0.1, 0.3, 6
	number := func(q *dynamics.Params, _ *dynamics.State) float64 {
		return math.Exp(p.Priors[dynamics.Stone].Z(q[dynamics.Stone])+p.Priors[dynamics.Leach].Z(q[dynamics.Leach])) / 10
	}
	for range times {
		p.Readings = append(p.Readings, Reading{
			Day: 3, Own: number, Lo: 0.05, Hi: 0.05, Log: true, Shift: shift, SD: sd, Classes: 1, Point: true, Lot: -1, Wander: -1,
		})
	}
	sum, mean, squares, most, mode := 0.0, 0.0, 0.0, math.Inf(-1), 0.0
	for s := -12.0; s < 12; s += 1e-3 { // a + b, of variance 2
		miss := (math.Log(0.05+shift) - math.Log(math.Exp(s)/10+shift)) / sd
		ln := -s*s/4 - times*miss*miss/2
		w := math.Exp(ln)
		sum, mean, squares = sum+w, mean+w*s, squares+w*s*s
		if ln > most {
			most, mode = ln, s
		}
	}
	mean /= sum
	exact := math.Sqrt(squares/sum - mean*mean)
	if off := (mode - mean) / exact; off < 0.25 {
		t.Fatalf("the mode is off by %.2f sd only: the case asks nothing", off)
	}
	post, err := p.Solve(Effort{Draws: 1000, Scouts: 2}, 1)
	if err != nil {
		t.Fatal(err)
	}
	drawn := 0.0
	for i := range post.Draws {
		drawn += (post.Draws[i].Z[dynamics.Stone] + post.Draws[i].Z[dynamics.Leach]) / 1000
	}
	if off := (drawn - mean) / exact; math.Abs(off) > 0.2 {
		t.Errorf("the draws have mean %.2f, the integral %.2f: %+.2f sd off", drawn, mean, off)
	}
}
