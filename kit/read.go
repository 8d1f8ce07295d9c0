package kit

import (
	"fmt"
	"math"
	"strings"
	"time"

	"halfwater/quantity"
)

// class is an interval in the kit's own unit, before it becomes canonical.
type class struct {
	lo, hi               float64
	likelyLo, likelyHi   float64
	openBelow, openAbove bool
	middle, repeat       float64
}

func closed(lo, hi float64) class {
	return class{lo: lo, hi: hi, likelyLo: lo, likelyHi: hi, middle: lo + (hi-lo)/2}
}

// Read says what a shown value of this kit means, read at a moment. Shown is as typed:
//
//   - Drops: the number of drops until the colour changed, never the value. n says (n-1, n] steps of
//     PerDrop; "> 20" that 20 drops did not suffice; "between 3 and 4" that the colour began to
//     change at the third and was changed at the fourth: (2, 4].
//   - Card: a printed step, which reaches to the geometric means with its neighbours (pH and
//     temperature: the arithmetic ones), or "between 10 and 25", "< 5", "> 160" of printed steps. The
//     zero step reaches to half the first step, the top step is open above, a lowest step that is
//     not zero is open below.
//   - Strip: as a card, one class wider to both sides.
//   - Meter: the value shown, plus and minus accuracy, half the last digit and drift.
//
// A lot past its date and an old calibration widen the interval and leave a note. The moment counts
// by date only; the zero time means that nothing is out of date.
//
// It refuses, each with a typed error that says what to do: a faulty kit ([Fault], [BasisWanted]),
// a text that does not read ([Unreadable]), a unit other than the kit's ([OtherUnit]), a value
// between the steps of a card ([NotOnCard]), a count that is no count ([DropCount]) and a value that
// cannot be ([quantity.OutOfSpan]).
func (k Kit) Read(shown string, at time.Time) (Interval, error) {
	if err := k.Check(); err != nil {
		return Interval{}, err
	}
	if k.Basis == quantity.NotStated {
		return either(k.Of, func(b quantity.Basis) (Interval, error) { return k.On(b).Read(shown, at) })
	}
	s, err := ParseShown(shown)
	if err != nil {
		return Interval{}, err
	}
	if s.Unit != "" && !k.showsUnit(s.Unit) {
		return Interval{}, OtherUnit{k.Name, s.Unit, k.Unit}
	}
	var c class
	switch k.Form {
	case Drops:
		c, err = k.drops(shown, s)
	case Card, Strip:
		c, err = k.card(s)
	default:
		c, err = k.meter(s, at)
	}
	if err != nil {
		return Interval{}, err
	}
	return k.interval(c, at), nil
}

func (k Kit) showsUnit(typed string) bool {
	if k.Form == Drops {
		return strings.EqualFold(typed, "drops") || strings.EqualFold(typed, "drop")
	}
	return sameUnit(typed, k.Unit) || k.Basis != "" && sameUnit(typed, k.Unit+" "+string(k.Basis))
}

func sameUnit(typed, unit string) bool {
	plain := strings.NewReplacer("µ", "u", "μ", "u", " ", "")
	return strings.EqualFold(plain.Replace(typed), plain.Replace(unit))
}

// interval turns a class of the kit's unit into the canonical unit, widened by the age of the lot,
// and held within what can be.
func (k Kit) interval(c class, at time.Time) Interval {
	iv := Interval{Of: k.Of, OpenAbove: c.openAbove, OpenBelow: c.openBelow}
	to := canonicalOf(k.Of, k.Unit, k.Basis)
	span := k.Of.Span()
	widen := func(lo, hi float64) quantity.Range[float64] {
		lo, hi = to.value(lo), to.value(hi)
		if k.outOfDate(at) {
			lo, hi = k.aged(at, lo, hi)
		}
		return quantity.Range[float64]{Lo: lo, Hi: hi}.Meet(span)
	}
	iv.Range = widen(c.lo, c.hi)
	iv.Likely = widen(c.likelyLo, c.likelyHi)
	if c.openBelow {
		iv.Lo = span.Lo
	}
	if c.openAbove {
		iv.Hi = span.Hi
	}
	iv.Middle = min(max(to.value(c.middle), iv.Likely.Lo), iv.Likely.Hi)
	iv.Repeat = c.repeat * to.slope
	iv.Notes = k.notes(at)
	return iv
}

// scale is the way from a unit to the canonical one: slope*x + shift.
type scale struct{ slope, shift float64 }

func canonicalOf(of quantity.Measurand, unit string, basis quantity.Basis) scale {
	zero := of.InUnit(0, unit, basis)
	slope := 1 / (of.InUnit(1, unit, basis) - zero)
	return scale{slope, -zero * slope}
}

func (s scale) value(x float64) float64 { return s.slope*x + s.shift }

// possible refuses a shown value that cannot occur at all.
func (k Kit) possible(xs ...float64) error {
	for _, x := range xs {
		if _, err := k.Of.Canonical(x, k.Unit, k.Basis); err != nil {
			return err
		}
	}
	return nil
}

func (k Kit) drops(shown string, s Shown) (class, error) {
	for _, n := range []float64{s.A, s.B} {
		if n != math.Trunc(n) || n < 0 {
			return class{}, DropCount{k.Name, shown, "count whole drops until the colour has changed and write the count"}
		}
	}
	if s.A < 1 {
		return class{}, DropCount{k.Name, shown, "if the first drop already changed the colour write 1; if the sample had the end colour before it, check sample and reagent and test again"}
	}
	if err := k.possible((s.A-1)*k.PerDrop, max(s.A, s.B)*k.PerDrop); err != nil {
		return class{}, err
	}
	var c class
	switch s.Said {
	case Between:
		c = closed((s.A-1)*k.PerDrop, s.B*k.PerDrop)
	case Under:
		c = closed(0, s.A*k.PerDrop)
	case Over:
		c = closed(s.A*k.PerDrop, s.A*k.PerDrop)
		c.likelyHi = 1.5 * c.lo
		c.openAbove = true
	default:
		c = closed((s.A-1)*k.PerDrop, s.A*k.PerDrop)
	}
	c.middle = (c.likelyLo + c.likelyHi) / 2
	sd := table.Value("drops: sd") * k.PerDrop
	c.repeat = math.Sqrt(square(c.likelyHi-c.likelyLo)/12 + square(sd))
	return c, nil
}

func square(x float64) float64 { return x * x }

// DropCount is a number of drops that is no count.
type DropCount struct{ Kit, Shown, Do string }

func (e DropCount) Error() string {
	return fmt.Sprintf("kit %q, shown %q: a drop test shows the number of drops, 1 or more: %s", e.Kit, e.Shown, e.Do)
}

// OtherUnit is a value typed in a unit that the kit does not show.
type OtherUnit struct{ Kit, Typed, Shows string }

func (e OtherUnit) Error() string {
	return fmt.Sprintf("kit %q shows %s, not %q: write the number as shown, without a unit", e.Kit, e.Shows, e.Typed)
}
