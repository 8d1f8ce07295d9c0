package change

import (
	"math"

	"halfwater/husbandry"
	"halfwater/quantity"
)

// Levels are the levels whose steps in a day are limited. NaN where nothing is known.
type Levels struct {
	GH   quantity.Hardness
	KH   quantity.Alkalinity
	EC   quantity.Conductivity
	Temp quantity.Celsius
}

// Poured is the levels after a share of the held water is replaced by another water.
func (l Levels) Poured(with Levels, share quantity.Share) Levels {
	return Levels{
		After(l.GH, with.GH, share, 1), After(l.KH, with.KH, share, 1),
		After(l.EC, with.EC, share, 1), After(l.Temp, with.Temp, share, 1),
	}
}

// Step is one level before and after a change, and the greatest step of a day. Canonical units.
type Step struct {
	Of              quantity.Measurand
	From, To, Limit float64
}

// Size is how large the step is.
func (s Step) Size() float64 { return math.Abs(s.To - s.From) }

// Over reports whether the step is too large for a day. A step of unknown size is not.
func (s Step) Over() bool { return s.Size() > s.Limit*(1+1e-9) }

// StepCheck holds a change against the limits of the stock: one step each for GH, KH, EC and
// temperature, in that order. EC mixes by volume here, which is good to a few per cent; what it
// really becomes is a matter of ions (see [Mix]).
func StepCheck(before, after Levels, limits husbandry.StepLimits) [4]Step {
	return [4]Step{
		{quantity.OfGH, float64(before.GH), float64(after.GH), float64(limits.StepGH(before.GH))},
		{quantity.OfKH, float64(before.KH), float64(after.KH), float64(limits.StepKH(before.KH))},
		{quantity.OfEC, float64(before.EC), float64(after.EC), float64(limits.StepEC(before.EC))},
		{quantity.OfWaterTemp, float64(before.Temp), float64(after.Temp), float64(limits.Temperature)},
	}
}

// Path is a change cut into equal shares of what is held, one a day.
type Path struct {
	Days  int
	Share quantity.Share // of each day
}

// Litres is what the whole path pours.
func (p Path) Litres(held quantity.HeldLitres) quantity.Litres {
	return quantity.Litres(float64(p.Days) * float64(p.Share) * float64(held))
}

// Staged cuts the way from now to the target with one source into the fewest equal steps, none of
// which moves the level by more than the limit, a share of what is there that day:
// x = 1 - ((T-S)/(C-S))^(1/n). The first step is the largest, so it decides. False when the source
// does not lie beyond the target.
func Staged[Q quantity.Number](now, target, source Q, limit quantity.Share) (Path, bool) {
	if _, ok := ShareToReach(now, target, source); !ok || target == source {
		return Path{}, false
	}
	pull := math.Abs(float64((source - now) / now))
	for n := 1; n <= longestPath; n++ {
		x := 1 - math.Pow(float64((target-source)/(now-source)), 1/float64(n))
		if x*pull <= float64(limit) {
			return Path{n, quantity.Share(x)}, true
		}
	}
	return Path{}, false
}

// Days cuts a change of a share into the fewest equal changes that together replace as much of the
// old water, each within a greatest share: 1 - (1-X)^(1/n) <= most. False when the greatest share
// is nothing or the change is of everything.
func Days(share, most quantity.Share) (Path, bool) {
	switch {
	case !(share >= 0 && share < 1) || !(most > 0):
		return Path{}, false
	case share <= most:
		return Path{1, share}, true
	}
	n := math.Ceil(math.Log1p(-float64(share))/math.Log1p(-float64(most)) - 1e-9)
	if n > longestPath {
		return Path{}, false
	}
	return Path{int(n), quantity.Share(-math.Expm1(math.Log1p(-float64(share)) / n))}, true
}

// longestPath is the most days of a path: beyond that it is a routine, not a visit. Judgement.
const longestPath = 60

// GreatestShare is the greatest share of one change with a given water that keeps every step
// within the limits of the stock; 1 when nothing known binds. Of names what binds first, "" when
// nothing does.
func GreatestShare(now, with Levels, limits husbandry.StepLimits) (x quantity.Share, of quantity.Measurand) {
	x = 1
	for _, s := range StepCheck(now, with, limits) { // a change of everything, to be cut down
		if size := s.Size(); size > s.Limit {
			if y := quantity.Share(s.Limit / size); y < x {
				x, of = y, s.Of
			}
		}
	}
	return x, of
}
