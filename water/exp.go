package water

import "math"

// The activity coefficients need a dozen exponentials of small numbers at each pass, and with
// math.Exp they are half the time of a speciation. expSmall is exp to 1e-14 relative for -8 <= x < 8,
// from a table of 128ths and the series of what is left; elsewhere it is meaningless. The exponents
// here stay inside: with an ionic strength up to 20 they lie between -7 and 3.

const (
	expReach = 8
	expSteps = 128 // per unit
	expSize  = 2 * expReach * expSteps
)

var expTable = func() (t [expSize]float64) {
	for i := range t {
		t[i] = math.Exp(float64(i)/expSteps - expReach)
	}
	return t
}()

func expSmall(x float64) float64 {
	i := int(x*expSteps + expReach*expSteps)
	r := x - (float64(i)/expSteps - expReach) // 0 to 1/128
	q := r * r
	return expTable[i&(expSize-1)] * (1 + r + q*(1./2+r*(1./6)+q*(1./24+r*(1./120))))
}
