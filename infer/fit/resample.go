package fit

import (
	"math"
	"slices"
)

// How much draws may count. Judgement; doc/infer.md says what other values gave.
const (
	trusted = 0.25 // share of what a draw should count more than another: the slope of how effects crowd is not all of it
	most    = 0.25 // nats over the middle draw from which on one counts no more
)

// resampled are as many draws that are equally likely: of each as many as it counts, one more or less (systematic: Kitagawa
// 1996). A draw counts by how much denser the posterior is there than draws come, up to a bound (truncated importance
// sampling: Ionides 2008); one in which something stops or runs out that the readings say did not counts for nothing.
func resampled(draws []solution) []solution {
	var known []float64
	for i := range draws {
		if x := draws[i].over; !math.IsNaN(x) && !math.IsInf(x, 0) {
			known = append(known, x)
		}
	}
	if len(known) == 0 {
		return slices.Clone(draws)
	}
	slices.Sort(known)
	middle := known[len(known)/2]
	sums, sum := make([]float64, len(draws)), 0.0
	for i := range draws {
		if x := draws[i].over; !math.IsNaN(x) {
			sum += counts(x - middle)
		}
		sums[i] = sum
	}
	out := make([]solution, 0, len(draws))
	for i := range draws {
		for len(out) < len(draws) && (float64(len(out))+0.5)*sum < sums[i]*float64(len(draws)) {
			out = append(out, draws[i])
		}
	}
	return out
}

// counts is how many middle draws one counts for whose density is off by so many nats.
func counts(over float64) float64 { return math.Exp(min(trusted*over, most)) }
