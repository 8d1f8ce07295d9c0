package kit

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"halfwater/quantity"
)

// Fault is what is wrong with one field of a kit, and what to do.
type Fault struct {
	Kit, Field string
	Code       string // of the sentence in internal/say: "kit.steps-not-rising", ...
	Is         string // what is there now
	Do         string
}

func (e Fault) Error() string {
	return fmt.Sprintf("kit %q, %s %s: %s", e.Kit, e.Field, e.Is, e.Do)
}

// BasisWanted is a kit, or a bare number, whose measurand counts differently by basis, with none
// stated: the question is asked once for a lot.
type BasisWanted struct {
	Kit   string // "" for a number without a kit
	Of    quantity.Measurand
	Given quantity.Basis // what was stated, when it does not fit
	Bases []quantity.Basis
	Ratio float64 // the largest factor between two of the bases
}

func (e BasisWanted) Error() string {
	var ask []string
	for _, b := range slices.Backward(e.Bases) {
		ask = append(ask, string(b))
	}
	where := e.Of.Label()
	if e.Kit != "" {
		where = fmt.Sprintf("kit %q (%s)", e.Kit, where)
	}
	return fmt.Sprintf("%s: %s? The same number differs by a factor of up to %.2f; look on the card or the leaflet; when neither says, write \"not stated\"", where, strings.Join(ask, " or "), e.Ratio)
}

func basisWanted(kit string, of quantity.Measurand, given quantity.Basis) error {
	bases := of.Bases()
	if len(bases) == 0 || slices.Contains(bases, given) || given == quantity.NotStated {
		return nil
	}
	ratio := 1.0
	for _, b := range bases {
		ratio = max(ratio, of.InUnit(1, of.Unit(), b))
	}
	return BasisWanted{kit, of, given, bases, ratio}
}

// Check says what is wrong with a kit before it is kept: every fault, joined, each a [Fault] or a
// [BasisWanted].
func (k Kit) Check() error {
	var faults []error
	bad := func(field, code, is, do string) {
		faults = append(faults, Fault{k.Name, field, code, is, do})
	}
	if strings.TrimSpace(k.Name) == "" {
		bad("name", "kit.no-name", "is empty", "give it the name that you use")
	}
	if !k.Of.Known() {
		bad("of", "kit.unknown-measurand", fmt.Sprintf("%q is nothing that can be read", k.Of), "say what the kit reads: gh, kh, ph, ec, tan, no2, no3, ...")
		return errors.Join(faults...)
	}
	if !slices.Contains(k.Of.Units(), k.Unit) {
		bad("unit", "kit.unknown-unit", fmt.Sprintf("%q is no unit of %s", k.Unit, k.Of.Label()), "use one of "+strings.Join(k.Of.UnitWords(), ", "))
	}
	if err := basisWanted(k.Name, k.Of, k.Basis); err != nil {
		faults = append(faults, err)
	}
	if len(k.Of.Bases()) == 0 && k.Basis != quantity.NoBasis && !(k.Of == quantity.OfChlorine && k.Basis == quantity.AsCl2) {
		bad("basis", "kit.basis-not-needed", fmt.Sprintf("%q does not fit %s", k.Basis, k.Of.Label()), "leave it out")
	}
	switch k.Form {
	case Drops:
		if !(k.PerDrop > 0) || math.IsInf(k.PerDrop, 0) {
			bad("per drop", "kit.per-drop", fmt.Sprintf("is %g", k.PerDrop), "say what one drop counts: 1 with a 5 mL sample, 0.5 with 10 mL, or as the leaflet says")
		}
	case Card, Strip:
		k.checkSteps(bad)
	case Meter:
		for _, f := range []struct {
			name string
			x    float64
		}{{"accuracy", k.Accuracy}, {"accuracy share", k.AccuracyShare}, {"digit", k.Digit}} {
			if !(f.x >= 0) || math.IsInf(f.x, 0) {
				bad(f.name, "kit.negative", fmt.Sprintf("is %g", f.x), "give a positive number, or 0 when it is not stated")
			}
		}
		if k.AccuracyShare >= 1 {
			bad("accuracy share", "kit.share", fmt.Sprintf("is %g", k.AccuracyShare), "write 2 % as 0.02")
		}
	default:
		bad("form", "kit.unknown-form", fmt.Sprintf("%q is no form of test", k.Form), "use drops, card, strip or meter")
	}
	if k.TDSFactor != 0 && (k.Of != quantity.OfTDS || !(k.TDSFactor >= 0.3 && k.TDSFactor <= 1)) {
		bad("tds factor", "kit.tds-factor", fmt.Sprintf("is %g", k.TDSFactor), "give the factor printed on a TDS pen (0.5, 0.64 or 0.7), or leave it out")
	}
	if !k.Opened.IsZero() && !k.UseBy.IsZero() && k.UseBy.Before(k.Opened.AddDate(-10, 0, 0)) {
		bad("use by", "kit.dates", "lies ten years before the day of opening", "look at the year")
	}
	return errors.Join(faults...)
}

func (k Kit) checkSteps(bad func(field, code, is, do string)) {
	if len(k.Steps) < 2 {
		bad("steps", "kit.steps-few", fmt.Sprintf("are %d", len(k.Steps)), "type all printed steps of the card, at least two")
	}
	for i, s := range k.Steps {
		if math.IsNaN(s) || math.IsInf(s, 0) || (s < 0 && geometric(k.Of)) {
			bad("steps", "kit.step-value", fmt.Sprintf("have %g", s), "type the steps as printed")
			return
		}
		if i > 0 && s <= k.Steps[i-1] {
			bad("steps", "kit.steps-not-rising", fmt.Sprintf("have %g after %g", s, k.Steps[i-1]), "type them from the lowest to the highest, each once")
			return
		}
	}
	if n := len(k.Steps); n > 0 && slices.Contains(k.Of.Units(), k.Unit) && basisWanted("", k.Of, k.Basis) == nil {
		for _, s := range []float64{k.Steps[0], k.Steps[n-1]} {
			if _, err := k.Of.Stands(s, k.Unit, k.Basis); err != nil {
				bad("steps", "kit.step-value", fmt.Sprintf("have %g %s", s, k.Unit), "check the unit: "+err.Error())
			}
		}
	}
}

// geometric reports whether a card of m is printed in ratios; the others go by equal steps.
func geometric(m quantity.Measurand) bool {
	switch m {
	case quantity.OfPH, quantity.OfWaterTemp, quantity.OfAirTemp, quantity.OfBaskingTemp,
		quantity.OfHumidity, quantity.OfUVI, quantity.OfLevel:
		return false
	}
	return true
}
