package infer

import (
	"math"
	"slices"

	"halfwater/quantity"
	"halfwater/water"
)

// Band is the band of a measurand over the draws, canonical unit; false when it is not known.
func (b Belief) Band(m quantity.Measurand) (quantity.Band[float64], bool) {
	return b.BandOf(func(d Draw) float64 {
		x, ok := d.Of(m)
		if !ok {
			return math.NaN()
		}
		return x
	})
}

// BandOf is the band of anything that follows from a draw; false when any draw does not give it.
func (b Belief) BandOf(of func(Draw) float64) (quantity.Band[float64], bool) {
	x := make([]float64, 0, len(b.Draws))
	for _, d := range b.Draws {
		v := of(d)
		if math.IsNaN(v) {
			return quantity.Band[float64]{}, false
		}
		x = append(x, v)
	}
	if len(x) == 0 {
		return quantity.Band[float64]{}, false
	}
	slices.Sort(x)
	return bandOf(x), true
}

// Lost is what top-ups have to put back, litres a day: evaporation and leak together.
func (d Draw) Lost() quantity.LitresPerDay {
	if math.IsNaN(float64(d.Leak)) {
		return d.Evaporation
	}
	return d.Evaporation + d.Leak
}

func bandOf(sorted []float64) quantity.Band[float64] {
	return quantity.Band[float64]{
		Low: at(sorted, 0.05), Lo: at(sorted, 0.1), Median: at(sorted, 0.5), Hi: at(sorted, 0.9), High: at(sorted, 0.95),
	}
}

// Chance is the share of draws for which something holds.
func (b Belief) Chance(holds func(Draw) bool) float64 {
	n := 0
	for _, d := range b.Draws {
		if holds(d) {
			n++
		}
	}
	return float64(n) / float64(max(len(b.Draws), 1))
}

// FreeAmmonia is the free ammonia of a draw, mg N/L (Emerson); NaN where pH or temperature is not
// known.
func (d Draw) FreeAmmonia() quantity.FreeAmmonia {
	return water.FreeAmmonia(d.TAN, d.PH, d.Temp)
}

// FreeAmmonia is the band of free ammonia, mg N/L; false when pH or temperature is not known.
func (b Belief) FreeAmmonia() (quantity.Band[quantity.FreeAmmonia], bool) {
	x, ok := b.BandOf(func(d Draw) float64 { return float64(d.FreeAmmonia()) })
	q := func(v float64) quantity.FreeAmmonia { return quantity.FreeAmmonia(v) }
	return quantity.Band[quantity.FreeAmmonia]{Low: q(x.Low), Lo: q(x.Lo), Median: q(x.Median), Hi: q(x.Hi), High: q(x.High)}, ok
}

// at is the quantile of sorted values, straight between neighbours.
func at(sorted []float64, q float64) float64 {
	i := q * float64(len(sorted)-1)
	k := min(int(i), len(sorted)-1)
	f := i - float64(k)
	if f == 0 || k+1 == len(sorted) || sorted[k] == sorted[k+1] { // infinities among them
		return sorted[k]
	}
	return sorted[k] + f*(sorted[k+1]-sorted[k])
}
