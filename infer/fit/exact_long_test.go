//go:build long

package fit

import (
	"context"
	"fmt"
	"math"
	"slices"
	"testing"
)

// gap is how far a fast posterior of one quantity is from the exact one.
type gap struct {
	mean      float64 // off, in exact standard deviations
	ratio     float64 // of standard deviations, fast to exact
	low, high float64 // chance of what the exact one has at 10 %, and above its 90 %
}

func gapOf(fast, exact []float64) gap {
	moments := func(x []float64) (mean, sd float64) {
		for _, v := range x {
			mean += v / float64(len(x))
		}
		for _, v := range x {
			sd += (v - mean) * (v - mean) / float64(len(x)-1)
		}
		return mean, math.Sqrt(sd)
	}
	sorted := slices.Sorted(slices.Values(exact))
	lo, hi := sorted[len(sorted)/10], sorted[len(sorted)-1-len(sorted)/10]
	m, sd := moments(exact)
	fm, fsd := moments(fast)
	g := gap{mean: (fm - m) / sd, ratio: fsd / sd}
	for _, x := range fast {
		if x < lo {
			g.low += 1 / float64(len(fast))
		}
		if x > hi {
			g.high += 1 / float64(len(fast))
		}
	}
	return g
}

// near says whether a fast posterior is exact enough: mean within 0.3 exact standard deviations, their ratio from
// 0.8 to 1.25, tail odds within 0.05.
func (g gap) near() bool {
	return math.Abs(g.mean) <= 0.3 && g.ratio >= 0.8 && g.ratio <= 1.25 && math.Abs(g.low-0.1) <= 0.05 && math.Abs(g.high-0.1) <= 0.05
}

func (g gap) String() string {
	return fmt.Sprintf("mean %+.2f sd, sd x%.2f, tails %.2f %.2f", g.mean, g.ratio, g.low, g.high)
}

// TestExactEnough holds what Solve foretells, by moves per draw, to the slow sampler on truths from the model, and tells
// each case. It asks that the exact chains of what is foretold have mixed, and that moves, each of which leaves the
// exact posterior as it is, bring the fast answer nearer. That every case be exact enough is the goal; what came
// stands in doc/infer.md.
func TestExactEnough(t *testing.T) {
	const sets = 10
	p, tables := brook(t)
	efforts := []Effort{{Draws: 1000, Scouts: 30, Bends: true}, {Draws: 1000, Moves: 1, Scouts: 30, Bends: true}, {Draws: 1000, Moves: 6, Scouts: 30, Bends: true}}
	near := make([][]int, len(efforts))
	for i := range near {
		near[i] = make([]int, len(readBy))
	}
	for set := range sets {
		p := p
		pretend(&p, tables, 1000+uint64(set))
		slow, err := p.Sample(context.Background(), Patience{Chains: 8, Warm: 60, Rounds: 100, Every: 1, Goal: Mixing{RHat: 1.05, Bulk: 150, Tail: 75}, Longest: 4}, uint64(set))
		if err != nil {
			t.Fatal(err)
		}
		t.Logf("set %d: %d runs, worst score %+v", set, slow.Runs, slow.Worst)
		for i, e := range efforts {
			fast, err := p.Solve(e, uint64(set))
			if err != nil {
				t.Fatal(err)
			}
			for k, r := range readBy {
				var a, b []float64
				for j := range fast.Draws {
					a = append(a, asked(&p, &fast.Draws[j])[k])
				}
				for _, c := range slow.Chains {
					for j := range c {
						b = append(b, asked(&p, &c[j])[k])
					}
				}
				g := gapOf(a, b)
				if g.near() {
					near[i][k]++
				} else {
					t.Logf("  %d moves, %-12s %v", e.Moves, r.kit.Of.Label(), g)
				}
				if m := slow.Mixing(func(h *History) float64 { return asked(&p, h)[k] }); i == 0 && (m.RHat > 1.05 || m.Bulk < 100) {
					t.Errorf("set %d, %s: the exact chains have not mixed: %+v", set, r.kit.Of.Label(), m)
				}
			}
		}
	}
	before := 0
	for i, e := range efforts {
		all := 0
		for k, r := range readBy {
			t.Logf("%d moves, %-28s exact enough in %d of %d", e.Moves, r.kit.Of.Label(), near[i][k], sets)
			all += near[i][k]
		}
		if all < before {
			t.Errorf("%d moves: exact enough in %d of %d cases, with fewer moves in %d", e.Moves, all, sets*len(readBy), before)
		}
		before = all
	}
}
