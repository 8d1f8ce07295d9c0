package fit

import (
	"math"
	"testing"

	"halfwater/dynamics"
)

// TestDrawsFollowABend: b + a*a is read as 0 with an error of sd 0.1, a and b being standard normal beforehand. What fits
// lies along b = -a*a, which no normal about the mode follows: of its draws those with a*a under 0.3 fit, four in
// ten. The draws that are given must fit, and a must be as free as its prior where that costs nothing.
func TestDrawsFollowABend(t *testing.T) {
	p := fed()
	score := func(q *dynamics.Params, u dynamics.Unknown) float64 { return p.Priors[u].Z(q[u]) }
	bent := func(q *dynamics.Params, _ *dynamics.State) float64 {
		a, b := score(q, dynamics.Stone), score(q, dynamics.Leach)
		return b + a*a
	}
	p.Readings = []Reading{{Day: 3, Own: bent, SD: 0.1, Classes: 1, Point: true, Lot: -1, Wander: -1}}
	post, err := p.Solve(Effort{Draws: 300, Scouts: 2}, 1)
	if err != nil {
		t.Fatal(err)
	}
	fit, wide := 0, 0
	for i := range post.Draws {
		z := post.Draws[i].Z
		a, b := z[dynamics.Stone], z[dynamics.Leach]
		if math.Abs(b+a*a) < 0.38 {
			fit++
		}
		if math.Abs(a) > 0.6 {
			wide++
		}
	}
	if fit < 270 {
		t.Errorf("%d of 300 draws fit a reading that they were drawn by", fit)
	}
	if wide < 60 {
		t.Errorf("%d of 300 draws lie where only a bend leads", wide)
	}
}
