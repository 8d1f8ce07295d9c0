package say

import (
	"reflect"
	"text/template"

	"halfwater/internal/look"
	"halfwater/quantity"
)

// printers are the words that a sentence of the catalogue may use on its facts.
var printers = template.FuncMap{
	"value":  Value,
	"band":   func(m quantity.Measurand, b quantity.Band[float64]) string { return Band(m, b, 0) },
	"fromto": FromTo,
	"label":  func(m quantity.Measurand) string { return m.Label() },
	"litres": Litres, "height": Height, "grams": Grams, "percent": Percent,
	"day": Day, "clock": Clock, "span": Span,
	"number":  func(decimals int, x float64) string { return Number(x, decimals) },
	"asfloat": asFloat,
	"odds":    func(p float64) string { return look.OddsOf(p).Words },
	"list":    List,
	"width":   Width,
}

// asFloat takes the number out of any quantity, for number.
func asFloat(q any) (float64, error) {
	v := reflect.ValueOf(q)
	if v.Kind() != reflect.Float64 {
		return 0, notANumber{v.Kind()}
	}
	return v.Float(), nil
}

type notANumber struct{ kind reflect.Kind }

func (e notANumber) Error() string { return "a " + e.kind.String() + " is no quantity" }
