package fit

import (
	"errors"
	"math"
	"slices"
)

// Way is one way in which the readings may be meant, for instance a kit's numbers as nitrogen or as the ion.
type Way struct {
	Readings []Reading // all of them, in the order of the other ways
	Odds     float64   // beforehand
}

// SolveWays finds the posterior when it is not known in which of some ways the readings are meant. Every way
// is solved by solve, and draws are taken of each by its odds afterwards, which are given too: the odds beforehand
// times the evidence. Mode and weight are those of the likeliest way. Errors: [ErrNoHistory] when no way
// gives one, [ErrStopped].
func (p *Problem) SolveWays(ways []Way, solve func(way int, p *Problem) (Posterior, error)) (Posterior, []float64, error) {
	posts, odds := make([]Posterior, len(ways)), make([]float64, len(ways))
	best := -1
	for i, w := range ways {
		meant := *p
		meant.Readings = w.Readings
		post, err := solve(i, &meant)
		if errors.Is(err, ErrStopped) {
			return Posterior{}, nil, err
		}
		if err != nil {
			odds[i] = math.Inf(-1)
			continue
		}
		posts[i], odds[i] = post, math.Log(w.Odds)+post.Evidence
		if best < 0 || odds[i] > odds[best] {
			best = i
		}
	}
	if best < 0 {
		return Posterior{}, nil, ErrNoHistory
	}
	top, sum := odds[best], 0.0
	for i := range odds {
		odds[i] = math.Exp(odds[i] - top)
		sum += odds[i]
	}
	for i := range odds {
		odds[i] /= sum
	}
	post := posts[best]
	post.Draws = slices.Clone(post.Draws)
	way, upTo := 0, odds[0]
	for k := range post.Draws {
		for (float64(k)+0.5)/float64(len(post.Draws)) > upTo && way+1 < len(ways) {
			way++
			upTo += odds[way]
		}
		if len(posts[way].Draws) > 0 {
			post.Draws[k] = posts[way].Draws[k]
		}
	}
	post.spread()
	return post, odds, nil
}

// spread measures the scores over the draws.
func (post *Posterior) spread() {
	post.Spread = make([]float64, len(post.Mode))
	n := float64(len(post.Draws))
	for j := range post.Spread {
		sum, squares := 0.0, 0.0
		for i := range post.Draws {
			x := post.Draws[i].Z[j]
			sum += x
			squares += x * x
		}
		post.Spread[j] = math.Sqrt(math.Max(squares/n-sum*sum/n/n, 0))
	}
}
