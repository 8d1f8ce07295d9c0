package fit

import (
	"math"
	"slices"
)

// Mixing says whether chains tell of one distribution, and how much their draws are worth (Vehtari et al.
// 2021: split chains, ranks turned into normal scores).
type Mixing struct {
	RHat float64 // 1 when the chains cannot be told apart; over 1.01 they have not run long enough
	Bulk float64 // effective draws for the middle
	Tail float64 // effective draws for the 5 % and 95 % quantiles, the fewer of the two
}

// Mixed judges chains of one quantity, all of one length of 4 or more. A quantity that never moves has R-hat
// 1 and as many effective draws as draws; one that is stuck in each chain at a value of its own +Inf and none.
func Mixed(chains [][]float64) Mixing {
	var halves [][]float64
	var all []float64
	for _, c := range chains {
		n := len(c) / 2
		halves = append(halves, c[:n], c[len(c)-n:])
		all = append(all, c[:n]...)
		all = append(all, c[len(c)-n:]...)
	}
	n := len(halves[0])
	split := func(x []float64) [][]float64 {
		out := make([][]float64, len(halves))
		for i := range out {
			out[i] = x[i*n : (i+1)*n]
		}
		return out
	}
	sorted := slices.Sorted(slices.Values(all))
	middle := (sorted[(len(sorted)-1)/2] + sorted[len(sorted)/2]) / 2
	folded := make([]float64, len(all))
	for i, x := range all {
		folded[i] = math.Abs(x - middle)
	}
	scores := split(normalScores(all))
	below := func(p float64) float64 {
		q := sorted[min(int(p*float64(len(sorted))), len(sorted)-1)]
		in := make([]float64, len(all))
		for i, x := range all {
			if x <= q {
				in[i] = 1
			}
		}
		return effective(split(in))
	}
	return Mixing{
		RHat: max(rHat(scores), rHat(split(normalScores(folded)))),
		Bulk: effective(scores),
		Tail: min(below(0.05), below(0.95)),
	}
}

// normalScores are the normal quantiles of the ranks (Blom's), ties sharing their mean rank.
func normalScores(x []float64) []float64 {
	order := make([]int, len(x))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		switch {
		case x[a] < x[b]:
			return -1
		case x[a] > x[b]:
			return 1
		}
		return 0
	})
	out := make([]float64, len(x))
	for i := 0; i < len(order); {
		j := i
		for j < len(order) && x[order[j]] == x[order[i]] {
			j++
		}
		rank := float64(i+j+1) / 2
		z := math.Sqrt2 * math.Erfinv(2*(rank-3./8)/(float64(len(x))+1./4)-1)
		for ; i < j; i++ {
			out[order[i]] = z
		}
	}
	return out
}

// spread gives the mean variance within chains and the variance that all draws together have by it and by
// the chains' means.
func spread(chains [][]float64) (within, pooled float64) {
	n, m := float64(len(chains[0])), float64(len(chains))
	means := make([]float64, len(chains))
	grand := 0.0
	for i, c := range chains {
		for _, x := range c {
			means[i] += x / n
		}
		grand += means[i] / m
	}
	between := 0.0
	for i, c := range chains {
		v := 0.0
		for _, x := range c {
			v += (x - means[i]) * (x - means[i])
		}
		within += v / (n - 1) / m
		between += (means[i] - grand) * (means[i] - grand) / (m - 1)
	}
	return within, within*(n-1)/n + between
}

func rHat(chains [][]float64) float64 {
	within, pooled := spread(chains)
	switch {
	case pooled == 0:
		return 1
	case within == 0:
		return math.Inf(1)
	}
	return math.Sqrt(pooled / within)
}

// effective is the number of independent draws that the chains are worth: autocorrelations by pairs of
// lags, as long as these are positive and falling (Geyer 1992).
func effective(chains [][]float64) float64 {
	n, m := len(chains[0]), len(chains)
	all := float64(n * m)
	within, pooled := spread(chains)
	switch {
	case pooled == 0:
		return all
	case within == 0:
		return 0
	}
	centred := make([][]float64, m)
	for i, c := range chains {
		mean := 0.0
		for _, x := range c {
			mean += x / float64(n)
		}
		centred[i] = make([]float64, n)
		for j, x := range c {
			centred[i][j] = x - mean
		}
	}
	rho := func(lag int) float64 {
		sum := 0.0
		for _, c := range centred {
			sum += dot(c[:n-lag], c[lag:])
		}
		mean := sum / float64(n) / float64(m) * float64(n) / float64(n-1)
		return 1 - (within-mean)/pooled
	}
	time, last := -1.0, math.Inf(1)
	for lag := 0; lag+1 < n; lag += 2 {
		pair := rho(lag) + rho(lag+1)
		if lag == 0 {
			pair = 1 + rho(1)
		}
		if pair < 0 {
			break
		}
		last = min(last, pair)
		time += 2 * last
	}
	return all / max(time, 1/math.Log10(all))
}
