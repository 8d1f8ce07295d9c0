package keeper

import (
	"errors"
	"math"
	"strconv"

	"halfwater/internal/say"
	"halfwater/kit"
	"halfwater/quantity"
)

// shownFault is a fault of what a kit showed, with what was probably meant.
func shownFault(err error, shown string) *Fault {
	return &Fault{Kind: Bad, Field: "shown", Say: say.Error(err), Likely: likely(err, shown), Err: err}
}

// likely offers what was probably meant by a value that cannot be: the number with its point one
// or two places further left, the nearest steps of a card, the whole drops on both sides.
func likely(err error, shown string) []string {
	var card kit.NotOnCard
	var span quantity.OutOfSpan
	var drops kit.DropCount
	switch {
	case errors.As(err, &card):
		return cardSteps(card)
	case errors.As(err, &drops):
		s, err := kit.ParseShown(shown)
		if err != nil || s.Said != kit.One || s.A <= 1 || s.A == math.Trunc(s.A) {
			return nil
		}
		return []string{plainNumber(math.Floor(s.A)), plainNumber(math.Ceil(s.A))}
	case errors.As(err, &span):
		return pointFurtherLeft(span)
	}
	return nil
}

func cardSteps(e kit.NotOnCard) []string {
	switch {
	case math.IsNaN(e.Below):
		return []string{plainNumber(e.Above)}
	case math.IsNaN(e.Above):
		return []string{plainNumber(e.Below)}
	}
	lo, hi := plainNumber(e.Below), plainNumber(e.Above)
	return []string{lo, "between " + lo + " and " + hi, hi}
}

// pointFurtherLeft is for a point that was not struck: 75 for a pH of 7.5, 2050 for 20.5 °C.
func pointFurtherLeft(e quantity.OutOfSpan) []string {
	for _, by := range []float64{10, 100} {
		x := e.X / by
		// Only the span is in question here; any basis will do.
		var basis quantity.Basis
		if b := e.Of.Bases(); len(b) > 0 {
			basis = b[0]
		}
		if _, err := e.Of.Canonical(x, e.Unit, basis); err == nil {
			return []string{plainNumber(x)}
		}
	}
	return nil
}

func plainNumber(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }
