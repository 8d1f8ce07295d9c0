package kit

import (
	"errors"
	"fmt"
	"math"

	"halfwater/quantity"
)

// Bare reads a number typed without a kit: the interval of its last digit, "10" being (9.5, 10.5], or
// what "between", "<" and ">" say. The doubt of whatever it was read with is [ErrorWithout].
//
// It refuses a measurand that counts differently by basis when none is given, not even that it is
// [quantity.NotStated] ([BasisWanted]), and
// what [quantity.Measurand.Canonical] refuses.
func Bare(of quantity.Measurand, shown, unit string, basis quantity.Basis) (Interval, error) {
	if basis == quantity.NotStated && len(of.Bases()) > 0 {
		return either(of, func(b quantity.Basis) (Interval, error) { return Bare(of, shown, unit, b) })
	}
	s, err := ParseShown(shown)
	if err != nil {
		return Interval{}, err
	}
	k := Kit{Name: "", Of: of, Form: Meter, Unit: unit, Basis: basis}
	if s.Unit != "" && !k.showsUnit(s.Unit) {
		return Interval{}, OtherUnit{"", s.Unit, unit}
	}
	if err := basisWanted("", of, basis); err != nil {
		return Interval{}, err
	}
	if err := k.possible(s.A); err != nil {
		return Interval{}, err
	}
	if s.Said == Between {
		if err := k.possible(s.B); err != nil {
			return Interval{}, err
		}
	}
	half := s.Digit / 2
	c := closed(s.A-half, s.A+half)
	switch s.Said {
	case Between:
		c = closed(s.A, s.B)
	case Under:
		c = closed(min(0, s.A), s.A)
		c.openBelow = true
	case Over:
		c = closed(s.A, max(1.5*s.A, s.A))
		c.openAbove = true
	}
	c.middle = (c.likelyLo + c.likelyHi) / 2
	c.repeat = math.Hypot((c.likelyHi-c.likelyLo)/math.Sqrt(12), k.repeat(c.middle))
	iv := k.interval(c, noDate)
	iv.Notes = []Note{WithoutKit}
	return iv, nil
}

// FromTDS turns the reading of a TDS pen into the conductivity that it measured: EC = TDS / factor.
// With an unknown factor (0) EC lies anywhere between the usual factors of 0.7 and 0.5, and the
// reading carries a note. A TDS pen says nothing about GH. A reading of something else is refused.
func FromTDS(tds Interval, factor float64) (Interval, error) {
	if tds.Of != quantity.OfTDS {
		return Interval{}, fmt.Errorf("%s is no reading of a TDS pen", tds.Of.Label())
	}
	if factor < 0 || math.IsNaN(factor) || math.IsInf(factor, 0) {
		return Interval{}, errors.New("a TDS factor is a positive number such as 0.5, 0.64 or 0.7")
	}
	lo, hi := factor, factor
	ec := tds
	ec.Of = quantity.OfEC
	ec.Notes = append([]Note(nil), tds.Notes...)
	if factor == 0 {
		lo, hi = table.Value("tds: factor low"), table.Value("tds: factor high")
		ec.Notes = append(ec.Notes, FactorNotPrinted)
	}
	span := quantity.OfEC.Span()
	divide := func(r quantity.Range[float64]) quantity.Range[float64] {
		return quantity.Range[float64]{Lo: r.Lo / hi, Hi: r.Hi / lo}.Meet(span)
	}
	ec.Range, ec.Likely = divide(tds.Range), divide(tds.Likely)
	ec.Middle = tds.Middle / math.Sqrt(lo*hi)
	ec.Repeat = tds.Repeat / math.Sqrt(lo*hi)
	return ec, nil
}

// At25 turns a conductivity read by a pen without temperature compensation at a water temperature
// into the conductivity at 25 C, by 2 % a degree of the value at 25 C (1.9 to 2.2 % in fresh water:
// half a percent for each 2 C away from 25 C; use between 5 and 35 C).
func At25(read quantity.Conductivity, water quantity.Celsius) quantity.Conductivity {
	return read / quantity.Conductivity(1+table.Value("ec meter: per degree")*float64(water-25))
}

// Factor is what a TDS pen makes of 1 uS/cm, mg/L: the one printed on it, or else what lies between the usual ones.
func (k Kit) Factor() float64 {
	if k.TDSFactor > 0 {
		return k.TDSFactor
	}
	return math.Sqrt(table.Value("tds: factor low") * table.Value("tds: factor high"))
}
