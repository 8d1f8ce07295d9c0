package emergency

import (
	"math"
	"math/rand/v2"
	"slices"

	"halfwater/quantity"
)

// Hours is a length of time. Unit: h.
type Hours float64

// Longest is as far as the sheet looks; "48 or more" is all that it says beyond.
const Longest Hours = 48

// spread is one unknown by its 5 %, 50 % and 95 % quantile; all the same when it is known.
type spread struct{ lo, mid, hi float64 }

func exactly(x float64) spread { return spread{x, x, x} }

func spreadOf[Q quantity.Number](b quantity.Band[Q]) spread {
	return spread{float64(b.Low), float64(b.Median), float64(b.High)}
}

// Standard normal quantiles of 0.95 and 0.90.
const (
	z95 = 1.6448536269514722
	z90 = 1.2815515655446004
)

// at is the unknown at a standard normal score: log-normal on either side of the middle, for what is
// over nothing.
func (s spread) at(z float64) float64 {
	side := s.hi
	if z < 0 {
		side = s.lo
	}
	if side == s.mid || !(s.mid > 0) || !(side > 0) {
		return s.mid
	}
	return s.mid * math.Exp(math.Abs(z)/z95*math.Log(side/s.mid))
}

// even is [spread.at] for temperatures and differences: normal on either side.
func (s spread) even(z float64) float64 {
	if z < 0 {
		return s.mid + z/z95*(s.mid-s.lo)
	}
	return s.mid + z/z95*(s.hi-s.mid)
}

func (s spread) times(f float64) spread { return spread{s.lo * f, s.mid * f, s.hi * f} }

func (s spread) celsius() *quantity.Range[quantity.Celsius] {
	return &quantity.Range[quantity.Celsius]{Lo: quantity.Celsius(s.lo), Hi: quantity.Celsius(s.hi)}
}

// draws is how many ways the unknowns are drawn: the 5 % quantile then rests on 25 of them.
const draws = 500

// scores are standard normal scores of k unknowns: each of them evenly spread over its quantiles and
// dealt out in an order of its own by the seed (a Latin hypercube).
func scores(seed uint64, k int) [][]float64 {
	r := rand.New(rand.NewPCG(seed, uint64(k)))
	out := make([][]float64, k)
	for i := range out {
		out[i] = make([]float64, draws)
		for j, at := range r.Perm(draws) {
			p := (float64(at) + 0.5) / draws
			out[i][j] = math.Sqrt2 * math.Erfinv(2*p-1)
		}
	}
	return out
}

// bandOf is the band of drawn values; none may be NaN.
func bandOf[Q quantity.Number](x []float64) quantity.Band[Q] {
	x = slices.Clone(x)
	slices.Sort(x)
	at := func(p float64) Q { return Q(x[min(int(p*float64(len(x))), len(x)-1)]) }
	return quantity.Band[Q]{Low: at(0.05), Lo: at(0.1), Median: at(0.5), Hi: at(0.9), High: at(0.95)}
}

// down rounds hours to what a person can act on, never up: half hours, under one hour tenths.
func down(h Hours) Hours {
	if h >= 1 {
		return Hours(math.Floor(2*float64(h)) / 2)
	}
	return Hours(math.Floor(10*float64(h)) / 10)
}
