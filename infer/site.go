package infer

import (
	"math"

	"halfwater/kit"
	"halfwater/quantity"
)

// seen is one reading as evidence about one sum of unknowns: the truth as the instrument saw it lies
// between lo and hi; the instrument blurs the truth by model.
type seen struct {
	lo, hi float64 // canonical; infinite when open
	kit.Model
	point bool // a meter: the middle of lo and hi with the doubt of the model
	// first: nothing of the kind was read before. What waters and feed leave open is then a matter of
	// size, so it is flat in the logarithm that the kit errs in; flat in the value itself it would draw
	// a colour of 20 up to 30.
	first bool
}

// verdict is what a reading makes of a normal belief about the sum that it reads.
type verdict struct {
	mean, variance float64
	low, high      float64 // chance, before the reading, of one as low and of one as high
	expected       quantity.Band[float64]
}

// judge takes in a reading of a normal quantity that cannot lie below floor.
func (s seen) judge(mean, variance, floor float64) verdict {
	var v verdict
	var chance float64
	switch {
	case s.Log:
		chance, v = s.logarithmic(mean, variance, floor)
	case s.point:
		chance, v = s.pointed(mean, variance)
	default:
		chance, v = s.blurred(mean, variance)
	}
	// A share of readings says nothing: unshaken, miscounted, misread.
	odd := s.Odd / float64(max(s.Classes, 1))
	kept := (1 - s.Odd) * chance
	if kept+odd <= 0 {
		v.mean, v.variance = mean, variance
		return v
	}
	// While it most likely says something the tail that it might not is left out: it would widen the
	// normal that has to stand for both.
	w := math.Min(kept/(kept+odd)/0.8, 1)
	m := w*v.mean + (1-w)*mean
	v.variance = w*(v.variance+(v.mean-m)*(v.mean-m)) + (1-w)*(variance+(mean-m)*(mean-m))
	v.mean = m
	return v
}

// blurred: the instrument saw z = y + e, and z lies between lo and hi.
func (s seen) blurred(mean, variance float64) (float64, verdict) {
	sd := math.Hypot(math.Sqrt(variance), s.SD)
	chance, zm, zv := cut(mean, sd, s.lo, s.hi)
	gain := variance / (sd * sd)
	v := verdict{
		mean: mean + gain*(zm-mean), variance: variance*(1-gain) + gain*gain*zv,
		low: phi((s.hi - mean) / sd), high: phi((mean - s.lo) / sd),
		expected: normalBand(mean, sd),
	}
	return chance, v
}

// pointed: the instrument showed a number.
func (s seen) pointed(mean, variance float64) (float64, verdict) {
	shown := (s.lo + s.hi) / 2
	sd := math.Hypot(math.Sqrt(variance), s.SD)
	gain := variance / (sd * sd)
	z := (shown - mean) / sd
	return density(z) / sd * (s.hi - s.lo), verdict{
		mean: mean + gain*(shown-mean), variance: variance * (1 - gain),
		low: phi(z), high: phi(-z), expected: normalBand(mean, sd),
	}
}

// logarithmic: the doubt is normal on ln(y + shift). The integral over the truth is done on a grid
// that covers what may be and what was seen.
func (s seen) logarithmic(mean, variance, floor float64) (float64, verdict) {
	sd := math.Sqrt(variance)
	base := -s.Shift
	lo, hi := math.Max(s.lo, floor), s.hi
	if s.point {
		lo, hi = (s.lo+s.hi)/2, (s.lo+s.hi)/2
	}
	reach := math.Exp(4 * s.SD)
	from := math.Max(math.Max(floor, mean-6*sd), base+(lo-base)/reach)
	if s.lo <= 0 && !s.point {
		from = math.Max(floor, mean-6*sd)
	}
	to := mean + 6*sd
	if !math.IsInf(hi, 1) {
		to = math.Min(to, base+(hi-base)*reach)
	}
	v := verdict{mean: mean, variance: variance}
	v.tails(s, mean, sd, floor)
	if !(to > from) {
		// No overlap at all: the balance and the reading exclude each other.
		return 0, v
	}
	const cells = 28
	h := (to - from) / cells
	var sum, first, second float64
	logLo, logHi := math.Inf(-1), math.Inf(1)
	if s.lo-base > 0 && (s.lo > 0 || s.point) {
		logLo = math.Log(lo - base)
	}
	if !math.IsInf(hi, 1) {
		logHi = math.Log(hi - base)
	}
	for i := range cells {
		y := from + (float64(i)+0.5)*h
		l := math.Log(y - base)
		var like float64
		if s.point {
			like = density((logHi-l)/s.SD) / s.SD * (s.hi - s.lo) / math.Max(hi-base, 1e-9)
		} else {
			like = phi((logHi-l)/s.SD) - phi((logLo-l)/s.SD)
		}
		w := like * density((y-mean)/sd)
		if s.first {
			w /= y - base
		}
		sum += w
		d := y - mean
		first += w * d
		second += w * d * d
	}
	chance := sum * h / sd
	if !(chance > 1e-30) {
		return 0, v
	}
	first /= sum
	second /= sum
	v.mean = mean + first
	v.variance = math.Max(second-first*first, h*h/12)
	return chance, v
}

// tails are taken on the logarithm, the belief being put there by its mean and spread.
func (v *verdict) tails(s seen, mean, sd, floor float64) {
	base := -s.Shift
	middle := math.Max(mean, floor+0.3*sd) - base
	if middle <= 0 {
		middle = 1e-9
	}
	spread := math.Hypot(s.SD, math.Min(sd/middle, 1.5))
	lo, hi := s.lo, s.hi
	if s.point {
		lo, hi = (lo+hi)/2, (lo+hi)/2
	}
	v.low, v.high = 1, 1
	if !math.IsInf(hi, 1) {
		v.low = phi(math.Log(math.Max(hi-base, 1e-9)/middle) / spread)
	}
	if lo-base > 0 && lo > 0 {
		v.high = phi(-math.Log((lo-base)/middle) / spread)
	}
	at := func(z float64) float64 { return math.Max(middle*math.Exp(z*spread)+base, 0) }
	v.expected = quantity.Band[float64]{Low: at(-z95), Lo: at(-z90), Median: at(0), Hi: at(z90), High: at(z95)}
}

// Quantiles of the standard normal for the ends of a band.
const (
	z90 = 1.2815515655446004
	z95 = 1.6448536269514722
)

func normalBand(mean, sd float64) quantity.Band[float64] {
	return quantity.Band[float64]{Low: mean - z95*sd, Lo: mean - z90*sd, Median: mean, Hi: mean + z90*sd, High: mean + z95*sd}
}
