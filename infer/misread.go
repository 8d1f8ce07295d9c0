package infer

import (
	"math"

	"halfwater/infer/fit"
	"halfwater/kit"
)

// misread is the chance that a colour which was misread (an unshaken bottle, a wrong count of drops, another light)
// is put between lo and hi where g was to be seen, known to a variance, all of them logarithms as the kit sees them: the further
// off the seldomer, by a factor e for each misread.ln (Laplace's law). It may fall anywhere, but nobody takes the palest
// colour of a card for the darkest as easily as for the next.
func misread(lo, hi, g, variance float64) float64 {
	scale := math.Sqrt(square(value("misread.ln")) + variance/2) // the variance of the law is twice the square of its scale
	below := func(x float64) float64 {
		z := (x - g) / scale
		if z < 0 {
			return math.Exp(z) / 2
		}
		return 1 - math.Exp(-z)/2
	}
	return below(hi) - below(lo)
}

// shown is the chance that a kit which goes by logarithms shows an interval where the water holds x: [kit.Model.Chance] with misreadings
// that fall near rather than far.
func shown(m kit.Model, of kit.Interval, x float64) float64 {
	odd := m.Odd
	m.Odd = 0
	p := m.Chance(of, x)
	if odd == 0 || !m.Log {
		return p
	}
	seen := func(x float64, open bool, beyond float64) float64 {
		if open || x+m.Shift <= 0 {
			return beyond
		}
		return math.Log(x + m.Shift)
	}
	lo := seen(of.Lo, of.OpenBelow || of.Lo <= of.Of.Span().Lo, math.Inf(-1))
	hi := seen(of.Hi, of.OpenAbove, math.Inf(1))
	return (1-odd)*p + odd*misread(lo, hi, math.Log(x+m.Shift), 0)
}

// oddly is the logarithm of the chance of a reading that says nothing, where its kit was to see g, known to a variance.
func oddly(r *fit.Reading, g, variance float64) float64 {
	if r.Log && !r.Point {
		lo, hi := r.Ends()
		return math.Log(misread(lo, hi, g, variance))
	}
	return -math.Log(float64(max(r.Classes, 2)))
}
