package load

import (
	"math"

	"halfwater/quantity"
)

// Doubt is an amount that is known as a median with its 5 % and 95 % quantiles. Its logarithm is
// taken as normal on either side of the median. Low <= Median <= High; the zero value is "none".
type Doubt[Q quantity.Number] struct{ Low, Median, High Q }

// normal95 is the 95 % quantile of the standard normal.
const normal95 = 1.6448536269514722

// Exactly is an amount without doubt.
func Exactly[Q quantity.Number](q Q) Doubt[Q] { return Doubt[Q]{q, q, q} }

// Within is a median with a factor of doubt: 5-95 % reach from median/factor to median*factor.
func Within[Q quantity.Number](median Q, factor float64) Doubt[Q] {
	return Doubt[Q]{median / Q(factor), median, median * Q(factor)}
}

// Sigma is the standard deviation of the logarithm, both sides together; 0 for an exact amount or
// for none.
func (d Doubt[Q]) Sigma() float64 {
	if d.Low <= 0 || d.High <= d.Low {
		return 0
	}
	return math.Log(float64(d.High/d.Low)) / (2 * normal95)
}

// At is the amount z standard deviations from the median.
func (d Doubt[Q]) At(z float64) Q {
	end := d.High
	if z < 0 {
		end = d.Low
	}
	if d.Median <= 0 || end <= 0 {
		return d.Median
	}
	return d.Median * Q(math.Pow(float64(end/d.Median), math.Abs(z)/normal95))
}

// Mean is the mean of the log-normal amount.
func (d Doubt[Q]) Mean() Q {
	s := d.Sigma()
	return d.Median * Q(math.Exp(s*s/2))
}

// SD is the standard deviation of the log-normal amount.
func (d Doubt[Q]) SD() Q {
	s := d.Sigma()
	return d.Mean() * Q(math.Sqrt(math.Expm1(s*s)))
}

// Times is the amount by an exact, positive factor.
func (d Doubt[Q]) Times(x float64) Doubt[Q] {
	return Doubt[Q]{d.Low * Q(x), d.Median * Q(x), d.High * Q(x)}
}

// By is the amount by a doubtful factor, the two being independent: medians multiply and the
// variances of the logarithms add, on either side.
func (d Doubt[Q]) By(f Doubt[float64]) Doubt[Q] {
	m := d.Median * Q(f.Median)
	if m <= 0 {
		return Doubt[Q]{}
	}
	side := func(a, b float64) float64 { // ratios of an end to the median
		return math.Exp(math.Hypot(math.Log(a), math.Log(b)))
	}
	down := side(ratio(d.Median, d.Low), ratio(f.Median, f.Low))
	up := side(ratio(d.High, d.Median), ratio(f.High, f.Median))
	return Doubt[Q]{m / Q(down), m, m * Q(up)}
}

func ratio[Q quantity.Number](a, b Q) float64 {
	if a <= 0 || b <= 0 {
		return 1
	}
	return float64(a / b)
}

// Plus is the sum of two independent amounts: means and variances add, and the sum is again taken
// as log-normal (fenton1960; good to a few per cent for factors of doubt under 3).
func (d Doubt[Q]) Plus(e Doubt[Q]) Doubt[Q] {
	switch {
	case d.Median <= 0:
		return e
	case e.Median <= 0:
		return d
	}
	mean := float64(d.Mean() + e.Mean())
	sd := math.Hypot(float64(d.SD()), float64(e.SD()))
	s2 := math.Log1p(sd * sd / (mean * mean))
	s, median := math.Sqrt(s2), mean/math.Exp(s2/2)
	return Doubt[Q]{Q(median * math.Exp(-normal95*s)), Q(median), Q(median * math.Exp(normal95*s))}
}
