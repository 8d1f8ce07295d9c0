package kit

import (
	"math"

	"halfwater/quantity"
)

// On is the kit on a stated basis.
func (k Kit) On(b quantity.Basis) Kit { k.Basis = b; return k }

// either joins what a shown value says on each basis that it may have: from the least to the greatest. A
// basis on which it cannot be is out of the question.
func either(of quantity.Measurand, read func(quantity.Basis) (Interval, error)) (Interval, error) {
	var out Interval
	var refused error
	for _, b := range of.Bases() {
		iv, err := read(b)
		if err != nil {
			refused = err
			continue
		}
		w := Way{b, iv.Range}
		if len(out.Ways) == 0 {
			out = iv
			out.Ways = []Way{w}
			continue
		}
		out.Range, out.Likely = hull(out.Range, iv.Range), hull(out.Likely, iv.Likely)
		out.OpenAbove, out.OpenBelow = out.OpenAbove || iv.OpenAbove, out.OpenBelow || iv.OpenBelow
		out.Repeat = max(out.Repeat, iv.Repeat)
		out.Ways = append(out.Ways, w)
	}
	if len(out.Ways) == 0 {
		return Interval{}, refused
	}
	out.Middle = out.Likely.Lo + (out.Likely.Hi-out.Likely.Lo)/2
	if out.Likely.Lo > 0 {
		out.Middle = math.Sqrt(out.Likely.Lo * out.Likely.Hi)
	}
	out.Notes = append(out.Notes, BasisNotStated)
	return out, nil
}

func hull(a, b quantity.Range[float64]) quantity.Range[float64] {
	return quantity.Range[float64]{Lo: min(a.Lo, b.Lo), Hi: max(a.Hi, b.Hi)}
}
