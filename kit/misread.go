package kit

import "math"

// Misread is the chance that a colour which was misread (an unshaken bottle, another light, the next line of the table)
// is put between lo and hi where g was to be seen, known to a variance: all of them ln(x + Shift), as the kit sees them
// ([Model]); lo and hi may be infinite. The further off the seldomer, by a factor e for each "misread: ln" of errors.txt (Laplace's
// law): nobody takes the palest colour of a card for the darkest as easily as for the next.
func Misread(lo, hi, g, variance float64) float64 {
	spread := table.Value("misread: ln")
	scale := math.Sqrt(spread*spread + variance/2) // the variance of the law is twice the square of its scale
	below := func(x float64) float64 {
		z := (x - g) / scale
		if z < 0 {
			return math.Exp(z) / 2
		}
		return 1 - math.Exp(-z)/2
	}
	return below(hi) - below(lo)
}

// ChanceNear is [Model.Chance] with misreadings that fall near rather than far ([Misread]), where the kit goes by
// logarithms. Chance lets them say nothing at all, so that a reading far out pulls nobody; ChanceNear is for what may
// really have come about, however far out.
func (m Model) ChanceNear(iv Interval, x float64) float64 {
	odd := m.Odd
	if odd == 0 || !m.Log {
		return m.Chance(iv, x)
	}
	m.Odd = 0
	end := func(b float64, open bool, beyond float64) float64 {
		if open || b+m.Shift <= 0 {
			return beyond
		}
		return math.Log(b + m.Shift)
	}
	lo := end(iv.Lo, iv.OpenBelow || iv.Lo <= iv.Of.Span().Lo, math.Inf(-1))
	hi := end(iv.Hi, iv.OpenAbove, math.Inf(1))
	return (1-odd)*m.Chance(iv, x) + odd*Misread(lo, hi, math.Log(x+m.Shift), 0)
}
