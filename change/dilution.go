package change

import (
	"math"

	"halfwater/quantity"
)

// After is a concentration after n equal changes of a share of the held water, nothing else
// happening in between: C_n = S + (C_0 - S)(1-x)^n.
func After[Q quantity.Number](now, source Q, share quantity.Share, n int) Q {
	return source + (now-source)*Q(math.Pow(1-float64(share), float64(n)))
}

// Needed is how many equal changes bring a concentration from now to the target or past it. False
// when no number of them does: the source does not lie beyond the target, or the share is nothing.
func Needed[Q quantity.Number](now, target, source Q, share quantity.Share) (int, bool) {
	if now == target {
		return 0, true
	}
	left := float64((target - source) / (now - source))
	switch {
	case !(share > 0) || !(left > 0):
		return 0, false
	case left >= 1: // already past it, as seen from now towards the source
		return 0, left == 1
	case share >= 1:
		return 1, true
	}
	// A share that lands on the target exactly must not be rounded up by the last bit.
	return int(math.Ceil(math.Log(left)/math.Log1p(-float64(share)) - 1e-9)), true
}

// Exchanged is a concentration while the source runs in and the mixture runs out, once poured is
// that share of the held water: C = S + (C_0 - S) exp(-V_in/V). poured may be more than 1.
func Exchanged[Q quantity.Number](now, source Q, poured float64) Q {
	return source + (now-source)*Q(math.Exp(-poured))
}

// ShareToReach is the share of one change that brings a concentration from now to the target with
// a given source; false when the source does not lie at or beyond the target.
func ShareToReach[Q quantity.Number](now, target, source Q) (quantity.Share, bool) {
	if now == target {
		return 0, true
	}
	x := float64((now - target) / (now - source))
	return quantity.Share(x), x > 0 && x <= 1
}

// SourceShare is the share of the first of two waters in a blend that reaches a target:
// (target - second)/(first - second). False when the target does not lie between them.
func SourceShare[Q quantity.Number](target, first, second Q) (quantity.Share, bool) {
	x := float64((target - second) / (first - second))
	return quantity.Share(x), x >= 0 && x <= 1
}

// CyclesToShow is after how many changes a part of the way from the old level to the new one has
// been gone: ln(1-part)/ln(1-share). A new routine shows nine tenths of itself after 10.3 changes
// of 20 %.
func CyclesToShow(share, part quantity.Share) float64 {
	return math.Log1p(-float64(part)) / math.Log1p(-float64(share))
}
