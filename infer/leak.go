package infer

import (
	"math"

	"halfwater/dynamics"
	"halfwater/infer/fit"
)

// leakTold is how much less is doubted of the leak's share in the top-ups than before any reading. A leak that is there is
// told on the scale of its odds, one that is not by the litres that it may have at most; what tells more counts.
func (q *question) leakTold(draws []fit.History) float64 {
	prior := q.Priors[dynamics.Seepage]
	book, own := make([]float64, len(slices500)), make([]float64, len(draws))
	for i, z := range slices500 {
		book[i] = prior.At(z)
	}
	for i := range draws {
		own[i] = draws[i].Params[dynamics.Seepage]
	}
	return math.Max(q.told(dynamics.Seepage, draws), 1-spread(own)/spread(book))
}
