package dynamics

import "math"

// fastExp is exp to 1e-13 relative for -16 to 8, from a table of 64ths and the series of what is left;
// outside it is math.Exp. A run needs a dozen exponentials a step.
func fastExp(x float64) float64 {
	if !(x > -expBelow && x < expAbove) {
		return math.Exp(x)
	}
	i := int(x*expSteps + (expBelow*expSteps + 0.5))
	r := x - (float64(i)*(1./expSteps) - expBelow)
	q := r * r
	return expTable[i] * (1 + r + q*(1./2+r*(1./6)+q*(1./24+r*(1./120))))
}

const (
	expBelow = 16
	expAbove = 8
	expSteps = 64
)

var expTable = func() (t [(expBelow+expAbove)*expSteps + 1]float64) {
	for i := range t {
		t[i] = math.Exp(float64(i)/expSteps - expBelow)
	}
	return t
}()

// decayOf gives e = exp(-x) and (1 - e)/x, for x >= 0.
func decayOf(x float64) (e, mean float64) {
	e = fastExp(-x)
	if x < 1e-3 {
		return e, 1 - x/2 + x*x/6
	}
	return e, (1 - e) / x
}

// growthOf gives e = exp(x) and (e - 1)/x, for any x.
func growthOf(x float64) (e, mean float64) {
	e = fastExp(x)
	if x < 1e-3 && x > -1e-3 {
		return e, 1 + x/2 + x*x/6
	}
	return e, (e - 1) / x
}
