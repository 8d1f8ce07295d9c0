package fit

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"gonum.org/v1/gonum/mathext"
)

// uniformity judges ranks of truths among draws. Under a sampler that is right a rank is any of 0 to levels-1
// with even odds. The distribution of n ranks is held to the binomial at every level, and the worst level to
// what the worst level is in uniform ranks, by simulation: bands with simultaneous coverage (Säilynoja, Bürkner
// and Vehtari 2022).
type uniformity struct {
	levels int
	tail   [][]float64 // by level, by count of ranks that are lower: the smaller tail of the binomial, twice
	null   []float64   // the worst tails of uniform ranks, ascending
}

func uniformityOf(n, levels, simulated int, seed uint64) *uniformity {
	u := &uniformity{levels: levels, tail: make([][]float64, levels)}
	for i := 1; i < levels; i++ {
		p := float64(i) / float64(levels)
		u.tail[i] = make([]float64, n+1)
		for k := range n + 1 {
			upTo, from := 1.0, 1.0
			if k < n {
				upTo = mathext.RegIncBeta(float64(n-k), float64(k+1), 1-p)
			}
			if k > 0 {
				from = mathext.RegIncBeta(float64(k), float64(n-k+1), p)
			}
			u.tail[i][k] = 2 * math.Min(upTo, from)
		}
	}
	rnd := rand.New(rand.NewPCG(seed, 0))
	ranks := make([]int, n)
	for range simulated {
		for i := range ranks {
			ranks[i] = rnd.IntN(levels)
		}
		u.null = append(u.null, u.worst(ranks))
	}
	slices.Sort(u.null)
	return u
}

func (u *uniformity) worst(ranks []int) float64 {
	counts := make([]int, u.levels)
	for _, r := range ranks {
		counts[r]++
	}
	worst, below := 1.0, 0
	for i := 1; i < u.levels; i++ {
		below += counts[i-1]
		worst = math.Min(worst, u.tail[i][below])
	}
	return worst
}

// chance is how often uniform ranks look as bad as these or worse.
func (u *uniformity) chance(ranks []int) float64 {
	k, _ := slices.BinarySearchFunc(u.null, u.worst(ranks), func(a, b float64) int {
		if a <= b {
			return -1
		}
		return 1
	})
	return float64(k+1) / float64(len(u.null)+1)
}

// TestUniformity: uniform ranks are refused as often as stated, those of a posterior that is too narrow by a
// third or off by half a deviation nearly always.
func TestUniformity(t *testing.T) {
	const n, levels, trials = 200, 100, 1000
	u := uniformityOf(n, levels, 4000, 1)
	rnd := rand.New(rand.NewPCG(2, 2))
	refused := func(centre, wide float64) float64 {
		count := 0.0
		for range trials {
			ranks := make([]int, n)
			for i := range ranks {
				ranks[i] = min(int(levels*phi((rnd.NormFloat64()+centre)*wide)), levels-1)
			}
			if u.chance(ranks) < 0.05 {
				count++
			}
		}
		return count / trials
	}
	if x := refused(0, 1); math.Abs(x-0.05) > 4*math.Sqrt(0.05*0.95/trials) {
		t.Errorf("uniform ranks refused at 5 %%: %.3f", x)
	}
	if x := refused(0, 1.5); x < 0.95 {
		t.Errorf("ranks of too narrow a posterior refused: %.3f", x)
	}
	if x := refused(0.5, 1); x < 0.95 {
		t.Errorf("ranks of a shifted posterior refused: %.3f", x)
	}
}
