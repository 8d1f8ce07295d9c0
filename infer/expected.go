package infer

import (
	"math"
	"slices"

	"halfwater/kit"
	"halfwater/quantity"
)

// Expected is the band of what a kit would show if the water were read at the moment of the belief,
// canonical unit of what the kit reads: the draws, blurred by the kit's own error and by the bias that
// a lot may have. It is for the moment after entry: "before you looked, we expected 13 to 25". False
// when nothing is known of it.
func Expected(b Belief, k kit.Kit) (quantity.Band[float64], bool) {
	m := k.Error(b.At)
	meter := k.Form == kit.Meter
	sd := math.Hypot(m.SD, lotSD(m, k.Of, meter))
	if meter {
		sd = m.SD
	}
	of := k.Of
	if of == quantity.OfTDS {
		of = quantity.OfEC
	}
	z := shuffled(expecting, 0)
	x := make([]float64, 0, len(b.Draws))
	for i, d := range b.Draws {
		v, ok := d.Of(of)
		if !ok || math.IsNaN(v) {
			return quantity.Band[float64]{}, false
		}
		if k.Of == quantity.OfTDS {
			v *= k.Factor()
		}
		e := sd * z[i%len(z)]
		if m.Log {
			v = (v+m.Shift)*math.Exp(e) - m.Shift
		} else {
			v += e
		}
		span := k.Of.Span()
		x = append(x, math.Min(math.Max(v, span.Lo), span.Hi))
	}
	if len(x) == 0 {
		return quantity.Band[float64]{}, false
	}
	slices.Sort(x)
	return bandOf(x), true
}

// expecting keeps the blur apart from the draws.
const expecting = 0x6e6f77
