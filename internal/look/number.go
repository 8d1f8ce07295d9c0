package look

import (
	"math"
	"strconv"
	"strings"
)

// Value is a quantity as it is told to a person: about, number, unit, could be.
type Value struct {
	Middle float64 // the median, in Unit
	Lo, Hi float64 // 8 in 10 lie between
	Unit   string  // "mg/L as NO3"; "" when it has none
	Finest float64 // the last digit worth printing at all, such as 0.1; 0 when it is not known
	Step   float64 // the step of the kit behind it; 0 when there was none
}

// About is the middle with as many digits as the doubt carries: "about 22". When zero lies in
// the doubt and the middle is nothing in those digits it is "under 0.004".
func (v Value) About() string {
	if !v.known() {
		return Unsaid
	}
	r := v.resolution()
	if v.Lo >= 0 && v.Hi > 0 && round(v.Middle, r) == 0 {
		return "under " + Number(math.Max(ceil(v.Hi, r), r), r)
	}
	return "about " + Number(v.Middle, r)
}

// Could is the doubt: "could be 15 to 30". It is empty when About already says it all.
func (v Value) Could() string {
	if !v.known() || strings.HasPrefix(v.About(), "under ") {
		return ""
	}
	r := v.resolution()
	lo, hi := round(v.Lo, r), round(v.Hi, r)
	if lo == hi {
		lo, hi = floor(v.Lo, r), ceil(v.Hi, r)
	}
	if lo == hi {
		return ""
	}
	return "could be " + Number(lo, r) + " to " + Number(hi, r)
}

// Digits prints another number in the digits that the doubt carries.
func (v Value) Digits(x float64) string { return Number(x, v.resolution()) }

// String is the value in one line: "about 22 mg/L as NO3, could be 15 to 30".
func (v Value) String() string {
	s := v.About()
	if !v.known() {
		return s
	}
	if v.Unit != "" {
		s += " " + v.Unit
	}
	if c := v.Could(); c != "" {
		s += ", " + c
	}
	return s
}

func (v Value) known() bool { return finite(v.Middle) && finite(v.Lo) && finite(v.Hi) && v.Lo <= v.Hi }

// digitsOverDoubt: the last digit printed is at most this share of the doubt, so that it means
// something, and as large as that allows. Judgement, no source.
const digitsOverDoubt = 1. / 6

// resolution is the step in which the value is printed: 1 or 5 times a power of ten, no more than
// a sixth of the doubt, no finer than a tenth of the kit's step or than Finest.
func (v Value) resolution() float64 {
	r := tidy((v.Hi - v.Lo) * digitsOverDoubt)
	if s := tidy(v.Step / 10); s > r {
		r = s
	}
	if v.Finest > r {
		r = v.Finest
	}
	if r == 0 { // a fact without doubt: three digits of it
		r = tidy(math.Abs(v.Middle) / 100)
	}
	return r
}

// tidy is the largest of 1 and 5 times a power of ten that is not over x; 0 for nothing.
func tidy(x float64) float64 {
	if !(x > 0) || !finite(x) {
		return 0
	}
	x *= 1 + 1e-9 // so that (3-2.4)/6 is 0.1
	e := math.Floor(math.Log10(x))
	t := math.Pow(10, e)
	if 5*t <= x {
		return 5 * t
	}
	return t
}

// Number prints x in whole steps of r, with the digits that r has and no more: 2.14 in 0.1 is
// "2.1", 37 in 5 is "35". An r of 0 prints x as it is.
func Number(x, r float64) string {
	if !finite(x) {
		return Unsaid
	}
	if !(r > 0) {
		return strconv.FormatFloat(x, 'f', -1, 64)
	}
	if math.Abs(x/r) > 1e15 { // beyond the digits that a number has
		return strconv.FormatFloat(x, 'g', 3, 64)
	}
	digits := 0
	for t := r; digits < 9 && math.Abs(t-math.Round(t)) > 1e-6*t; t *= 10 {
		digits++
	}
	s := strconv.FormatFloat(round(x, r), 'f', digits, 64)
	if s[0] == '-' && strings.Trim(s, "-0.") == "" {
		s = s[1:] // no minus before nothing
	}
	return s
}

// Litres prints a volume to be poured: whole and half litres as "2 L" and "2½ L", others with one
// decimal.
func Litres(l float64) string {
	if !finite(l) {
		return Unsaid
	}
	if whole := math.Floor(l); l >= 0 && math.Abs(l-whole-.5) < 1e-6 {
		if whole == 0 {
			return "½ L"
		}
		return strconv.FormatFloat(whole, 'f', 0, 64) + "½ L"
	}
	return strings.TrimSuffix(Number(l, .1), ".0") + " L"
}

func round(x, r float64) float64 { return math.Round(x/r) * r }
func floor(x, r float64) float64 { return math.Floor(x/r+1e-9) * r }
func ceil(x, r float64) float64  { return math.Ceil(x/r-1e-9) * r }
func finite(x float64) bool      { return !math.IsNaN(x) && !math.IsInf(x, 0) }
