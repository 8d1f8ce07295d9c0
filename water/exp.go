package water

import "math"

// The activity coefficients need a dozen exponentials of small numbers at each pass, and they are
// half the time of a speciation. expSmall is exp to 1e-14 relative for -8 to 8, from a table of
// 64ths and the series of what is left; outside it is math.Exp.

const (
	expReach = 8
	expSteps = 64 // per unit
)

var expTable = func() (t [2*expReach*expSteps + 1]float64) {
	for i := range t {
		t[i] = math.Exp(float64(i)/expSteps - expReach)
	}
	return t
}()

func expSmall(x float64) float64 {
	if !(x > -expReach && x < expReach) {
		return math.Exp(x)
	}
	i := int(x*expSteps + (expReach*expSteps + 0.5))
	r := x - (float64(i)*(1./expSteps) - expReach)
	q := r * r
	return expTable[i] * (1 + r + q*(1./2+r*(1./6)+q*(1./24+r*(1./120))))
}
