package kit

import (
	"fmt"
	"math"
)

// card is the class of a printed step, or what lies between or beyond printed steps.
func (k Kit) card(s Shown) (class, error) {
	a, err := k.step(s.A)
	if err != nil {
		return class{}, err
	}
	b := a
	if s.Said == Between {
		if b, err = k.step(s.B); err != nil {
			return class{}, err
		}
	}
	top := len(k.Steps) - 1
	wider := 0
	if k.Form == Strip {
		wider = 1
	}
	var c class
	switch {
	case s.Said == Under:
		c = k.within(k.beneath(), k.stepAt(a+wider))
		c.openBelow, c.openAbove = true, a+wider > top
	case s.Said == Over:
		c = k.within(k.stepAt(a-wider), k.beyond())
		c.openBelow, c.openAbove = a-wider < 0, true
	case a != b: // between two steps
		lo, hi := a-wider, b+wider
		c = k.within(k.stepAt(lo), k.stepAt(hi))
		c.openBelow, c.openAbove = lo < 0, hi > top
	default:
		lo, hi := max(a-wider, 0), min(a+wider, top)
		c = k.within(k.below(lo), k.above(hi))
		c.openBelow, c.openAbove = lo == 0 && !k.hasZero(), hi == top
	}
	if k.hasZero() {
		c.openBelow = false
	}
	if geometric(k.Of) {
		// Repeated readings of a colour scatter by the class and by the eye.
		sd := math.Hypot(math.Log(c.likelyHi/max(c.likelyLo, c.likelyHi/4))/math.Sqrt(12), k.cardSDLn())
		c.repeat = sd * c.middle
	} else {
		c.repeat = (c.likelyHi - c.likelyLo) / math.Sqrt(12)
	}
	return c, nil
}

// within is a class whose middle lies midway on the card's own scale.
func (k Kit) within(lo, hi float64) class {
	c := closed(lo, hi)
	if geometric(k.Of) && lo > 0 {
		c.middle = math.Sqrt(lo * hi)
	}
	return c
}

func (k Kit) hasZero() bool { return geometric(k.Of) && k.Steps[0] == 0 }

// midway is the border between two printed values.
func (k Kit) midway(a, b float64) float64 {
	switch {
	case !geometric(k.Of):
		return a + (b-a)/2
	case a == 0:
		return b / 2
	}
	return math.Sqrt(a * b)
}

// stepAt is step i, or the value one step outside the card when i is one past an end.
func (k Kit) stepAt(i int) float64 {
	switch {
	case i < 0:
		return k.beneath()
	case i >= len(k.Steps):
		return k.beyond()
	}
	return k.Steps[i]
}

// beneath and beyond are the values that one more step of the card would show.
func (k Kit) beneath() float64 {
	a, b := k.Steps[0], k.Steps[1]
	if geometric(k.Of) {
		if a == 0 {
			return 0
		}
		return a * a / b
	}
	return a - (b - a)
}

func (k Kit) beyond() float64 {
	n := len(k.Steps)
	a, b := k.Steps[n-2], k.Steps[n-1]
	if geometric(k.Of) && a > 0 {
		return b * b / a
	}
	if geometric(k.Of) {
		return 2 * b
	}
	return b + (b - a)
}

func (k Kit) below(i int) float64 {
	if i == 0 {
		if k.hasZero() {
			return 0
		}
		return k.midway(k.beneath(), k.Steps[0])
	}
	return k.midway(k.Steps[i-1], k.Steps[i])
}

func (k Kit) above(i int) float64 {
	if i == len(k.Steps)-1 {
		return k.midway(k.Steps[i], k.beyond())
	}
	return k.midway(k.Steps[i], k.Steps[i+1])
}

// step finds the index of a printed step.
func (k Kit) step(x float64) (int, error) {
	if err := k.possible(x); err != nil {
		return 0, err
	}
	miss := NotOnCard{Kit: k.Name, Shown: x, Unit: k.Unit, Below: math.NaN(), Above: math.NaN()}
	for i, s := range k.Steps {
		if math.Abs(s-x) <= 1e-9*max(1, math.Abs(s)) {
			return i, nil
		}
		if s < x {
			miss.Below = s
		} else if math.IsNaN(miss.Above) {
			miss.Above = s
		}
	}
	return 0, miss
}

// NotOnCard is a value that the card does not print. Below and Above are the nearest steps; NaN when
// there is none on that side.
type NotOnCard struct {
	Kit          string
	Shown        float64
	Unit         string
	Below, Above float64
}

func (e NotOnCard) Error() string {
	switch {
	case math.IsNaN(e.Below):
		return fmt.Sprintf("kit %q prints no %g %s: its lowest step is %g; write %g or \"< %g\"", e.Kit, e.Shown, e.Unit, e.Above, e.Above, e.Above)
	case math.IsNaN(e.Above):
		return fmt.Sprintf("kit %q prints no %g %s: its highest step is %g; write %g or \"> %g\"", e.Kit, e.Shown, e.Unit, e.Below, e.Below, e.Below)
	}
	return fmt.Sprintf("kit %q prints no %g %s: its nearest steps are %g and %g; write one of them or \"between %g and %g\"", e.Kit, e.Shown, e.Unit, e.Below, e.Above, e.Below, e.Above)
}
