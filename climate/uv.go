package climate

import (
	"fmt"
	"math"

	"halfwater/quantity"
)

// Months is an age of a lamp. Unit: month.
type Months float64

// UVAt is the UV index at another distance from the lamp: UVI (d0/d)^n, with n 2 for lamps small
// against the distance, 1 to 1.5 for tubes nearer than their length. Measure twice and fit n with
// [Exponent].
func UVAt(known quantity.UVIndex, at, d quantity.Millimetres, n float64) quantity.UVIndex {
	return known * quantity.UVIndex(math.Pow(float64(at/d), n))
}

// Exponent is n of [UVAt] from two readings at two distances; NaN unless all are over zero and the
// distances differ.
func Exponent(u1 quantity.UVIndex, d1 quantity.Millimetres, u2 quantity.UVIndex, d2 quantity.Millimetres) float64 {
	if !(u1 > 0 && u2 > 0 && d1 > 0 && d2 > 0) || d1 == d2 {
		return math.NaN()
	}
	return math.Log(float64(u1/u2)) / math.Log(float64(d2/d1))
}

// LampOutput is the share of its output that a lamp has left at an age, by a half-life. Age alone
// cannot tell: lamps differ from 9 to 30 months.
func LampOutput(age, halfLife Months) quantity.Share {
	return quantity.Share(math.Exp2(-float64(age / halfLife)))
}

// LampHalfLife is the median half-life of a lamp, and its 5 % and 95 % quantiles.
func LampHalfLife() (median Months, span quantity.Range[Months]) {
	return Months(constants.Value("lamp-half-life")), spanOf[Months]("lamp-half-life")
}

// UVReading is a UV index read at the same place at an age of the lamp.
type UVReading struct {
	Age Months
	UVI quantity.UVIndex
}

// TooFewUVReadings refuses a fit from readings at fewer than two ages, or below what can be read.
type TooFewUVReadings struct{ Usable int }

func (e TooFewUVReadings) Error() string {
	return fmt.Sprintf("%d usable UV readings at different ages: two are needed to see a fall; without a meter it is not known", e.Usable)
}

// Decay is the fall of a lamp fitted to readings in two ways; the truth is between them as a rule.
type Decay struct {
	Start, Fall quantity.UVIndex // straight: Start - Fall x age
	First       quantity.UVIndex // by halves: First exp(-Rate x age)
	Rate        float64          // 1/month
}

// FitDecay fits both by least squares, the second on the logarithm, or refuses with
// [TooFewUVReadings]. Readings of zero or less are passed over.
func FitDecay(readings []UVReading) (Decay, error) {
	var x, y, logY []float64
	ages := map[Months]bool{}
	for _, r := range readings {
		if r.UVI > 0 && r.Age >= 0 {
			x, y, logY = append(x, float64(r.Age)), append(y, float64(r.UVI)), append(logY, math.Log(float64(r.UVI)))
			ages[r.Age] = true
		}
	}
	if len(ages) < 2 {
		return Decay{}, TooFewUVReadings{len(ages)}
	}
	start, slope := straight(x, y)
	first, rate := straight(x, logY)
	return Decay{quantity.UVIndex(start), quantity.UVIndex(-slope), quantity.UVIndex(math.Exp(first)), -rate}, nil
}

// straight is the least-squares line through points: its value at zero and its slope.
func straight(x, y []float64) (at0, slope float64) {
	var mx, my float64
	for i := range x {
		mx, my = mx+x[i]/float64(len(x)), my+y[i]/float64(len(x))
	}
	var sxx, sxy float64
	for i := range x {
		sxx, sxy = sxx+(x[i]-mx)*(x[i]-mx), sxy+(x[i]-mx)*(y[i]-my)
	}
	slope = sxy / sxx
	return my - slope*mx, slope
}

// Reaches is the age at which the lamp falls to a UV index (over zero), by the two fits, the
// earlier first. ok is false when either does not fall.
func (d Decay) Reaches(u quantity.UVIndex) (ages quantity.Range[Months], ok bool) {
	if !(d.Fall > 0 && d.Rate > 0 && u > 0) {
		return quantity.Range[Months]{}, false
	}
	a := Months((d.Start - u) / d.Fall)
	b := Months(math.Log(float64(d.First/u)) / d.Rate)
	return quantity.Range[Months]{Lo: min(a, b), Hi: max(a, b)}, true
}

// MeshTakes is the share of UV that a mesh under the lamp takes. Glass and most plastics take
// nearly all.
func MeshTakes() quantity.Range[quantity.Share] {
	return quantity.Range[quantity.Share]{
		Lo: quantity.Share(constants.Value("mesh-least")), Hi: quantity.Share(constants.Value("mesh-most")),
	}
}
