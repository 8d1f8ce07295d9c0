package dynamics

import "math"

// fastExp is exp to 1e-13 relative for -16 to 8, from a table of 64ths and the series of what is left;
// outside it is math.Exp. A run needs a dozen exponentials a step.
func fastExp(x float64) float64 {
	if !(x > -expBelow && x < expAbove) {
		if x > -2*expBelow && x < 0 {
			e := fastExp(x / 2)
			return e * e
		}
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

// meanFade is (1 - exp(-x))/x for 0 <= x < short, by its series; good to 4e-11. exp(-x) is then
// 1 - x meanFade(x). Most pools lose little in a step.
func meanFade(x float64) float64 { return 1 - x*restFade(x) }

// restFade is (1 - meanFade(x))/x.
func restFade(x float64) float64 {
	q := x * x
	return 1./2 - x*(1./6) + q*(1./24-x*(1./120)+q*(1./720-x*(1./5040)+q*(1./40320)))
}

const short = 0.25

// decayOf gives e = exp(-x) and (1 - e)/x.
func decayOf(x float64) (e, mean float64) {
	if x < short && x > -short {
		mean = meanFade(x)
		return 1 - x*mean, mean
	}
	e = fastExp(-x)
	return e, (1 - e) / x
}

// growthOf gives e = exp(x) and (e - 1)/x.
func growthOf(x float64) (e, mean float64) { return decayOf(-x) }

// fastLog is ln of a positive number to 1e-14, from a table of 128ths of its leading digits and the series of
// what is left.
func fastLog(x float64) float64 {
	bits := math.Float64bits(x)
	if bits-1<<52 >= 0x7fe<<52 { // not positive and normal
		return math.Log(x)
	}
	at := &logTable[bits>>45&127]
	r := math.Float64frombits(bits&(1<<52-1)|1023<<52)*at.inverse - 1
	q := r * r
	return float64(int(bits>>52)-1023)*math.Ln2 + at.ln + (r - q*(1./2-r*(1./3)+q*(1./4-r*(1./5))))
}

var logTable = func() (t [128]struct{ inverse, ln float64 }) {
	for i := range t {
		x := 1 + (float64(i)+0.5)/128
		t[i].inverse, t[i].ln = 1/x, math.Log(x)
	}
	return t
}()
