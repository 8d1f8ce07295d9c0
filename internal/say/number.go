package say

import (
	"math"
	"strings"

	"halfwater/internal/look"
	"halfwater/quantity"
)

// Unit is the unit of a measurand as people read it, basis included.
func Unit(m quantity.Measurand) string {
	p, _ := look.PrintOf(m)
	return p.Words()
}

// Number prints a plain number with so many decimals.
func Number(x float64, decimals int) string { return look.Number(x, math.Pow10(-decimals)) }

// Value prints a canonical value of a measurand with its unit, in the digits that the finest kit
// for it supports.
func Value(m quantity.Measurand, canonical float64) string {
	p, _ := look.PrintOf(m)
	return withUnit(m, look.Number(look.Shown(m, canonical), p.Finest))
}

func withUnit(m quantity.Measurand, number string) string {
	if u := Unit(m); u != "" && number != look.Unsaid {
		return number + " " + u
	}
	return number
}

// FromTo prints two canonical values of a measurand with their unit once: "11 to 42 mg/L as NO3". An
// end at which nothing more can be is no number that anyone read: "100 mg/L as NO3 or more".
func FromTo(m quantity.Measurand, lo, hi float64) string {
	p, _ := look.PrintOf(m)
	span := m.Span()
	switch {
	case lo > span.Lo && hi >= span.Hi:
		return Value(m, lo) + " or more"
	case lo != 0 && lo <= span.Lo && hi < span.Hi:
		return Value(m, hi) + " or less"
	}
	return look.Number(look.Shown(m, lo), p.Finest) + " to " + withUnit(m, look.Number(look.Shown(m, hi), p.Finest))
}

// Band is a quantity in words: "about 22 mg/L as NO3, could be 15 to 30". Below the floor of its
// kit it says "under 0.1 mg/L as N" and no more.
func Band(m quantity.Measurand, b quantity.Band[float64], floor float64) string {
	about, could := BandParts(m, b, floor)
	if could == "" {
		return about
	}
	return about + ", " + could
}

// BandParts is [Band] in its two parts: "about 22 mg/L as NO3" and "could be 15 to 30". The second
// is empty when the kit supports no more than the first.
func BandParts(m quantity.Measurand, b quantity.Band[float64], floor float64) (about, could string) {
	about, could = Bare(m, b, floor)
	return withUnit(m, about), could
}

// Bare is [BandParts] without the unit, for a table whose head says it.
func Bare(m quantity.Measurand, b quantity.Band[float64], floor float64) (about, could string) {
	p, _ := look.PrintOf(m)
	if floor > 0 && b.Hi <= floor {
		return "under " + look.Number(look.Shown(m, floor), p.Finest), ""
	}
	v := look.Value{
		Middle: look.Shown(m, b.Median), Lo: look.Shown(m, b.Lo), Hi: look.Shown(m, b.Hi),
		Unit: p.Words(), Finest: p.Finest,
	}
	about, could = v.About(), v.Could()
	under := look.Number(look.Shown(m, floor), p.Finest)
	switch {
	case floor <= 0:
	case look.Number(v.Hi, p.Finest) == under:
		return "under " + under, ""
	case b.Median < floor: // where it most likely lies the kit tells nothing apart
		return "likely under " + under, "could be up to " + v.Digits(v.Hi)
	case b.Lo < floor && could != "":
		could = "could be under " + under + " to " + v.Digits(v.Hi)
	}
	return about, could
}

// Width prints the width of a range of a measurand with its unit, in the digits of its finest kit.
func Width(m quantity.Measurand, canonical float64) string {
	p, _ := look.PrintOf(m)
	return withUnit(m, look.Number(look.Shown(m, canonical)-look.Shown(m, 0), p.Finest))
}

// List joins names: "KH, GH and nitrate".
func List(names []string) string {
	if n := len(names); n > 1 {
		return strings.Join(names[:n-1], ", ") + " and " + names[n-1]
	}
	return strings.Join(names, "")
}

// Litres prints a volume that is handled.
func Litres(l quantity.Litres) string {
	if math.Abs(float64(l)) >= 2 {
		l = quantity.Litres(math.Round(float64(l)*2) / 2)
	}
	return look.Litres(float64(l))
}

// Height prints a height on the staff in cm.
func Height(mm quantity.Millimetres) string { return Number(mm.Centimetres(), 1) + " cm" }

// Grams prints a weighed mass: a hundredth of a gram under 10 g, a tenth under 100 g.
func Grams(g quantity.Grams) string {
	switch x := math.Abs(float64(g)); {
	case x < 10:
		return Number(float64(g), 2) + " g"
	case x < 100:
		return Number(float64(g), 1) + " g"
	}
	return Number(float64(g), 0) + " g"
}

// Percent prints a share of water or of flow. Chances are never printed so: see [look.OddsOf].
func Percent(s quantity.Share) string { return Number(float64(s)*100, 0) + " %" }
