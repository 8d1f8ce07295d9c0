package fit

import (
	"math"

	"halfwater/dynamics"
)

// Reading is one thing that a kit showed, as evidence about one number of the state.
//
// The kit sees g, which is the number itself or, with Log, ln(number + Shift), blurred by a normal error of
// SD. What it showed says that what it saw lies between Lo and Hi (of the number, not of g; either may be
// infinite), or, with Point, in their middle. A share Odd of readings says nothing and may fall on any of
// Classes values.
type Reading struct {
	Name string  // by which it is known again in a problem that has gained some; "" for one that is not
	Day  float64 // of the course
	See  func(*dynamics.State) float64
	// Own, when set, is looked at in place of See.
	Own    func(*dynamics.Params, *dynamics.State) float64
	Lo, Hi float64
	Log    bool
	SD     float64
	Shift  float64
	Odd    float64
	// Classes is how many values an odd reading may show; of a point, over how many of its own
	// standard deviations it may fall.
	Classes int
	Point   bool
	Lot     int     // index into Problem.Lots, -1 for none
	Also    []Share // of further Problem.Lots
	Slanted []Share // of Problem.Slants
	Wander  int     // index into Problem.Wanders, -1 for none
}

// Scale is what the kit sees of a number.
func (r *Reading) Scale(x float64) float64 {
	if r.Log {
		return math.Log(math.Max(x, 0) + r.Shift)
	}
	return x
}

// Ends are the ends of the interval as the kit sees them.
func (r *Reading) Ends() (lo, hi float64) {
	lo, hi = math.Inf(-1), math.Inf(1)
	if r.Lo > math.Inf(-1) && (!r.Log || r.Lo+r.Shift > 0) {
		lo = r.Lo
		if r.Log {
			lo = math.Log(r.Lo + r.Shift)
		}
	}
	if !math.IsInf(r.Hi, 1) {
		hi = r.Hi
		if r.Log {
			hi = math.Log(math.Max(r.Hi+r.Shift, 1e-12))
		}
	}
	return lo, hi
}

// Weigh gives the logarithm of the chance of the reading when the kit sees g (of its density, for a point),
// the slope of that with g, and the information about g that such a reading has on average.
func (r *Reading) Weigh(g float64) (logP, score, information float64) {
	lo, hi := r.Ends()
	odd := r.Odd / float64(max(r.Classes, 1))
	if r.Point {
		z := ((lo+hi)/2 - g) / r.SD
		p := (1 - r.Odd) * density(z)
		whole := p + odd
		if whole < 1e-300 {
			return -z*z/2 - math.Log(r.SD*math.Sqrt(2*math.Pi)), z / r.SD, 1 / (r.SD * r.SD)
		}
		return math.Log(whole / r.SD), p / whole * z / r.SD, (1 - r.Odd) / (r.SD * r.SD)
	}
	a, b := (lo-g)/r.SD, (hi-g)/r.SD
	p := (1 - r.Odd) * between(a, b)
	slope := (1 - r.Odd) * (density(a) - density(b)) / r.SD
	whole := p + odd
	if whole < 1e-300 { // far out and no reading is odd: as of the nearer end
		z := a
		if a < 0 {
			z = b
		}
		return -z*z/2 - 5, z / r.SD, 1 / (r.SD * r.SD)
	}
	// Classes about as wide as this one follow each other; past an open end nothing more is told.
	width, fades := hi-lo, 1.0
	switch {
	case math.IsInf(width, 0) && math.IsInf(lo, 0) && math.IsInf(hi, 0):
		return math.Log(whole), 0, 0
	case math.IsInf(lo, 0):
		width, fades = 0, phi(-b) // told only when it passes the end
	case math.IsInf(hi, 0):
		width, fades = 0, phi(a)
	}
	s := math.Sqrt(r.SD*r.SD + width*width/12)
	if fades < 1 { // the information of a bare yes or no: p'^2/(p(1-p))
		q := math.Max(fades*(1-fades), 1e-12)
		d := density(a)
		if math.IsInf(lo, 0) {
			d = density(b)
		}
		// A kit that has further classes beyond tells more there: between the two.
		return math.Log(whole), slope / whole, (1 - r.Odd) * math.Max(d*d/q, fades) / (s * s)
	}
	return math.Log(whole), slope / whole, (1 - r.Odd) / (s * s)
}

func phi(z float64) float64 { return 0.5 * math.Erfc(-z/math.Sqrt2) }

func density(z float64) float64 {
	if math.IsInf(z, 0) {
		return 0
	}
	return math.Exp(-z*z/2) / math.Sqrt(2*math.Pi)
}

// between is the chance of a standard normal between two ends, with its digits kept in either tail.
func between(a, b float64) float64 {
	if a > 0 {
		a, b = -b, -a
	}
	return phi(b) - phi(a)
}
