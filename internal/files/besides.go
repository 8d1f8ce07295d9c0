package files

import (
	"fmt"
	"math"
	"reflect"
	"strings"

	"halfwater/enclosure"
	"halfwater/quantity"
)

// besides are columns and keys that are no field of their kind but say how its numbers count.
var besides = map[string][]string{
	"range":        {"unit", "basis"},
	"source water": {"basis"},
}

// settle turns the numbers of a body into those of the book, by what stands besides them. given says
// which names were written.
func settle(body reflect.Value, given map[string]bool, beside map[string]string) error {
	switch v := body.Addr().Interface().(type) {
	case *enclosure.RangeWanted:
		return settleRange(v, given, beside)
	case *enclosure.SourceWater:
		return settleAnalysis(body, given, quantity.Basis(beside["basis"]))
	}
	return nil
}

func settleRange(r *enclosure.RangeWanted, given map[string]bool, beside map[string]string) error {
	if !given["lo"] && !given["hi"] {
		if beside["unit"] != "" || beside["basis"] != "" {
			return KeyFault{"lo", "and hi are missing", "write at least one of them"}
		}
		return nil
	}
	for _, end := range []struct {
		name string
		x    *float64
		open float64
	}{{"lo", &r.Range.Lo, math.Inf(-1)}, {"hi", &r.Range.Hi, math.Inf(1)}} {
		if !given[end.name] {
			*end.x = end.open
			continue
		}
		if math.IsInf(*end.x, 0) {
			continue
		}
		y, err := r.Of.Canonical(*end.x, beside["unit"], quantity.Basis(beside["basis"]))
		if err != nil {
			return numberFault(end.name, err)
		}
		*end.x = y
	}
	return nil
}

// numberFault says at which key a number does not fit.
func numberFault(name string, err error) error {
	switch e := err.(type) {
	case quantity.UnknownMeasurand:
		return KeyFault{"of", fmt.Sprintf("is %q", e.Name), "write what it is of: gh, kh, ph, ec, tan, no2, no3, water temp, ..."}
	case quantity.UnknownUnit:
		if e.Unit == "" {
			return KeyFault{"unit", "is missing", "write one of " + strings.Join(e.Of.UnitWords(), ", ")}
		}
		return KeyFault{"unit", fmt.Sprintf("is %q", e.Unit), "write one of " + strings.Join(e.Of.UnitWords(), ", ")}
	case quantity.BasisMissing:
		var bases []string
		for _, b := range e.Of.Bases() {
			bases = append(bases, fmt.Sprintf("%q", string(b)))
		}
		do := fmt.Sprintf("say what %s counts: %s", e.Of.Label(), strings.Join(bases, " or "))
		if e.Basis == "" {
			return KeyFault{"basis", "is missing", do}
		}
		return KeyFault{"basis", fmt.Sprintf("is %q", string(e.Basis)), do}
	}
	return KeyFault{name, "cannot be", err.Error()}
}

// settleAnalysis counts nitrogen and phosphorus as the element, by the basis of the report.
func settleAnalysis(body reflect.Value, given map[string]bool, basis quantity.Basis) error {
	s, _ := shapeOf("source water")
	counts := false
	for name := range given {
		sp, ok := s.names[name]
		if !ok {
			continue
		}
		p, needs := perElement[sp.typ]
		if !needs {
			continue
		}
		counts = true
		if basis == "" {
			return KeyFault{"basis", "is missing", fmt.Sprintf("say what %s counts: \"as ions\" (%s) or \"as N\"", name, strings.TrimPrefix(string(p.ion), "as "))}
		}
		f, ok := counted(sp.typ, basis)
		if !ok {
			return KeyFault{"basis", fmt.Sprintf("is %q", string(basis)), fmt.Sprintf("that does not fit %s: write \"as ions\" or \"as N\"", name)}
		}
		v := body.FieldByIndex(sp.path).Field(0)
		v.SetFloat(v.Float() * f)
	}
	if !counts && basis != "" {
		return KeyFault{"basis", "is given", "but nothing here needs one: leave it out"}
	}
	return nil
}

// KeyFault is what is wrong with one column of a row or one key of a table.
type KeyFault struct{ Key, Is, Do string }

func (f KeyFault) Error() string { return fmt.Sprintf("%s %s: %s", f.Key, f.Is, f.Do) }
