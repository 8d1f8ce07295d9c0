package change

import (
	"math"

	"halfwater/quantity"
)

// SawTooth is a level that no longer drifts: the same before each change, the same after.
type SawTooth[Q quantity.Number] struct{ Before, After Q }

// Plateau is where a quantity settles that rises by a fixed amount between changes (falls, when
// rise is negative): before a change S + r/x, after it S + r(1-x)/x. An infinity when nothing is
// changed and something rises.
func Plateau[Q quantity.Number](source, rise Q, share quantity.Share) SawTooth[Q] {
	if share == 0 && rise == 0 {
		return SawTooth[Q]{source, source}
	}
	before := source + rise/Q(share)
	return SawTooth[Q]{before, before - rise}
}

// PlateauWithLoss is [Plateau] when the quantity is made at a rate per day and at the same time
// taken up in proportion to itself, loss per day, over an interval of days between changes:
// before a change (x S e + p (1-e)/k)/(1 - (1-x) e) with e = exp(-k t).
func PlateauWithLoss[Q quantity.Number](source, perDay Q, loss float64, share quantity.Share, days float64) SawTooth[Q] {
	x := Q(share)
	kt := loss * days
	made := float64(perDay) * days
	if kt != 0 {
		made *= -math.Expm1(-kt) / kt
	}
	e := Q(math.Exp(-kt))
	before := (x*source*e + Q(made)) / (1 - (1-x)*e)
	return SawTooth[Q]{before, (1-x)*before + x*source}
}

// ShareForPeak is the share of each change that keeps the level before it at the peak: r/(P - S).
// False when no share does, because the source itself lies past the peak; more than 1 is no share.
func ShareForPeak[Q quantity.Number](source, rise, peak Q) (quantity.Share, bool) {
	if rise == 0 {
		return 0, true
	}
	x := float64(rise / (peak - source))
	return quantity.Share(x), x > 0 && x <= 1
}

// CyclesUntil is after how many changes the level before a change, which is now and settles at
// the plateau, passes a line; an infinity when it never does, 0 when it is there or past it.
func CyclesUntil[Q quantity.Number](now, line, plateau Q, share quantity.Share) float64 {
	left := float64((line - plateau) / (now - plateau))
	switch {
	case (plateau-line)*(now-line) > 0, now == plateau && now != line:
		return math.Inf(1) // it stays on its side of the line
	case left >= 1 || now == line:
		return 0
	case left <= 0:
		return math.Inf(1) // it comes near the line and never meets it
	}
	return math.Log(left) / math.Log1p(-float64(share))
}

// Creep is where a conserved quantity settles when evaporation is replaced between changes:
// each change brings W litres of the source, each interval E litres of the top-up bring theirs and
// the vapour takes none away, so that C = S + T E/W before a change.
func Creep[Q quantity.Number](source, topUp Q, changed, evaporated quantity.Litres) Q {
	return source + topUp*Q(evaporated/changed)
}
