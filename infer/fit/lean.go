package fit

import "math"

// unseen is how dull a kit is that says nothing of a number: the number is a hundredth of the shift. Judgement.
const unseen = 0.99

// lean is what is added to the shakes of the prior, so that the middle of the draws about a place lies beside the mode by as
// much as that of the posterior does (the covariance of the normal there times the lean), because a kit that shows the
// logarithm of a number plus a Shift grows dull where the number is small: the lower a history, the less
// the readings hold it, and the more room there is about it. A number that is a product of unknowns is
// straight in its logarithm, so that the bend of what the kit sees follows from how dull it is there. To third order
// the mean of such a posterior lies off its mode by three parts (Tierney and Kadane 1986): one that what is
// seen bends, which a corrected draw brings with it, and two that the room grows, which it does not. These two are
// given here.
func (b *bench) lean(m *mode, k *kernel) []float64 {
	slope := make([]float64, b.n)
	for i := range b.Readings {
		r := &b.Readings[i]
		if !r.Log || r.Shift <= 0 {
			continue
		}
		dull := r.Shift / math.Exp(b.unbiased(i, m.z, m.run.seen[i]))
		if !(dull > 0 && dull < unseen) {
			continue
		}
		row := append([]float64(nil), m.slopes.of[i]...)
		b.clearLots(row) // a bias adds to what is seen and bends nothing
		by := square(k.weight[i]) * dull / (1 - dull) * dot(m.slopes.of[i], k.shrink(row, nil))
		for j, x := range row {
			slope[j] -= by * x
		}
	}
	return slope
}
