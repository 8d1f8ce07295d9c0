package water

import "fmt"

// OutOfSpan is a number that no water of this package can have.
type OutOfSpan struct {
	Of     string
	X      float64
	Lo, Hi float64
	Unit   string
}

func (e OutOfSpan) Error() string {
	unit := ""
	if e.Unit != "" && e.Unit != e.Of { // a pH has none
		unit = " " + e.Unit
	}
	return fmt.Sprintf("%s %.6g%s cannot be: it must lie between %g and %g%s; check the number and its unit",
		e.Of, e.X, unit, e.Lo, e.Hi, unit)
}

// Contradiction is a pair of pH and alkalinity that no amount of CO2 reconciles: without any
// carbonate at all the water would already hold Least meq/kg at that pH.
type Contradiction struct {
	PH         float64
	Alk, Least float64 // meq/kg
}

func (e Contradiction) Error() string {
	return fmt.Sprintf("pH %.2f and alkalinity %.4g meq/L contradict each other: at that pH the water holds at least %.4g meq/L; measure both again",
		e.PH, e.Alk, e.Least)
}

// NoPH is a water whose pH would lie outside 0 to 14.
type NoPH struct{ Alk float64 }

func (e NoPH) Error() string {
	return fmt.Sprintf("no pH between 0 and 14 fits an alkalinity of %.4g meq/L; check the ions, the alkalinity and the CO2", e.Alk)
}

// NotSettled is a water whose balances did not close to the stated accuracy. It is not known to
// happen with Ca, Mg and SO4 up to 50, PO4 up to 10, the others up to 600 mmol/kg and an alkalinity
// up to 50 meq/kg; it is here so that a wrong answer can never be silent.
type NotSettled struct{ Residual float64 }

func (e NotSettled) Error() string {
	return fmt.Sprintf("the balances of this water did not close (%.2g left over); check the composition", e.Residual)
}
