package plan

import (
	"math"
	"slices"

	"halfwater/infer"
	"halfwater/quantity"
)

// bandOf counts a band over the draws; all NaN when any draw has no value or there are none.
func bandOf[Q quantity.Number](v *visit, f func(*infer.Draw) float64) quantity.Band[Q] {
	v.scratch = v.scratch[:0]
	for i := range v.draws {
		v.scratch = append(v.scratch, f(&v.draws[i]))
	}
	return band[Q](v.scratch)
}

// band sorts x and reads its quantiles, between neighbours by share (type 7 of Hyndman R.J. &
// Fan Y. 1996, The American Statistician 50:361-365; hyndman1996, from memory).
func band[Q quantity.Number](x []float64) quantity.Band[Q] {
	slices.Sort(x)
	if len(x) == 0 || math.IsNaN(x[0]) { // NaN sorts first
		nan := Q(math.NaN())
		return quantity.Band[Q]{Low: nan, Lo: nan, Median: nan, Hi: nan, High: nan}
	}
	return quantity.Band[Q]{
		Low: Q(quantile(x, 0.05)), Lo: Q(quantile(x, 0.10)), Median: Q(quantile(x, 0.50)),
		Hi: Q(quantile(x, 0.90)), High: Q(quantile(x, 0.95)),
	}
}

func quantile(sorted []float64, p float64) float64 {
	at := p * float64(len(sorted)-1)
	i := min(int(at), len(sorted)-1)
	j := min(i+1, len(sorted)-1)
	return sorted[i] + (at-float64(i))*(sorted[j]-sorted[i])
}

func (v *visit) median(f func(*infer.Draw) float64) float64 {
	v.scratch = v.scratch[:0]
	for i := range v.draws {
		v.scratch = append(v.scratch, f(&v.draws[i]))
	}
	slices.Sort(v.scratch)
	if len(v.scratch) == 0 || math.IsNaN(v.scratch[0]) {
		return math.NaN()
	}
	return quantile(v.scratch, 0.5)
}

// chance is the share of the draws in which something holds; NaN without draws.
func (v *visit) chance(f func(*infer.Draw) bool) float64 {
	n := 0
	for i := range v.draws {
		if f(&v.draws[i]) {
			n++
		}
	}
	return float64(n) / float64(len(v.draws))
}
