package kit

import (
	"math"
	"strconv"
	"time"
)

var noDate time.Time

// Shows is the other way round: what an errorless kit of this kind shows for a truth in the canonical
// unit. Reading it again ([Kit.Read]) gives an interval that holds the truth. It expects a kit that
// passes [Kit.Check] and a truth that can be.
func (k Kit) Shows(truth float64) string {
	x := k.Of.InUnit(truth, k.Unit, k.Basis)
	switch k.Form {
	case Drops:
		return strconv.Itoa(max(1, int(math.Ceil(x/k.PerDrop-1e-9))))
	case Card, Strip:
		best := len(k.Steps) - 1
		for i := range k.Steps {
			if x <= k.above(i) {
				best = i
				break
			}
		}
		return strconv.FormatFloat(k.Steps[best], 'g', -1, 64)
	}
	digit := k.Digit
	if digit <= 0 {
		digit = 0.01
	}
	decimals := max(0, int(math.Ceil(-math.Log10(digit)-1e-9)))
	return strconv.FormatFloat(math.Round(x/digit)*digit, 'f', decimals, 64)
}
