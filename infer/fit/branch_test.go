package fit

import (
	"math"
	"testing"

	"halfwater/dynamics"
)

// TestBranches: a*a - 0.2 a is read as 4 with an error of sd 0.3, a being standard normal beforehand, so that a is near
// 2.1 or near -1.9. Where the search comes to both, draws are shared by their odds, which an integral over a gives.
func TestBranches(t *testing.T) {
	p := fed()
	see := func(q *dynamics.Params, _ *dynamics.State) float64 {
		a := p.Priors[dynamics.Stone].Z(q[dynamics.Stone])
		return a*a - 0.2*a
	}
	p.Readings = []Reading{{Day: 3, Own: see, Lo: 4, Hi: 4, SD: 0.3, Classes: 1, Point: true, Lot: -1, Wander: -1}}
	up, all := 0.0, 0.0
	for a := -6.0; a < 6; a += 1e-3 {
		miss := (a*a - 0.2*a - 4) / 0.3
		w := math.Exp(-a*a/2 - miss*miss/2)
		all += w
		if a > 0 {
			up += w
		}
	}
	up /= all

	met := 0
	for seed := range uint64(12) {
		post, err := p.Solve(Effort{Draws: 200, Scouts: 8}, seed)
		if err != nil {
			t.Fatal(err)
		}
		sum, draws := 0.0, 0
		for _, b := range post.Branches {
			above := 0
			for _, h := range post.Draws[draws : draws+b.Draws] {
				if h.Z[dynamics.Stone] > 0 == (b.Mode[dynamics.Stone] > 0) {
					above++
				}
			}
			if above != b.Draws {
				t.Errorf("seed %d: %d of %d draws lie on the other side of their branch", seed, b.Draws-above, b.Draws)
			}
			sum += b.Odds
			draws += b.Draws
		}
		if draws != len(post.Draws) || math.Abs(sum-1) > 1e-9 {
			t.Fatalf("seed %d: branches hold %d draws of %d, their odds sum to %g", seed, draws, len(post.Draws), sum)
		}
		if len(post.Branches) != 2 {
			continue
		}
		met++
		got := post.Branches[0].Odds
		if post.Mode[dynamics.Stone] < 0 {
			got = 1 - got
		}
		if math.Abs(got-up) > 0.03 { // the normals are those of the two places; what they miss is a few per cent
			t.Errorf("seed %d: odds %.3f of the upper branch, by the integral %.3f", seed, got, up)
		}
		// A problem that gained nothing keeps both.
		again, err := p.SolveFrom(&post, Effort{Draws: 200, Scouts: 8}, seed)
		if err != nil || len(again.Branches) != 2 || math.Abs(again.Branches[0].Odds-post.Branches[0].Odds) > 0.01 {
			t.Errorf("seed %d: from before %+v, %v", seed, again.Branches, err)
		}
	}
	if met < 3 {
		t.Errorf("both branches were met in %d of 12 searches", met)
	}
	t.Logf("both met in %d of 12", met)
}
