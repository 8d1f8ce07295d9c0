package draw

import "math"

// axis is a linear scale from a quantity to px, held at its ends.
type axis struct{ lo, hi, from, to float64 }

func (a axis) at(v float64) float64 {
	if !finite(v) || a.hi <= a.lo {
		return a.from
	}
	return a.from + (min(max(v, a.lo), a.hi)-a.lo)/(a.hi-a.lo)*(a.to-a.from)
}

// has reports whether v stands on the scale and not beyond its ends.
func (a axis) has(v float64) bool { return v >= a.lo && v <= a.hi }

// ends makes usable ends of a scale: in order, apart, and such as a quantity can have. Ends that are
// not so become 0 to 1.
func ends(lo, hi float64) (float64, float64) {
	const most, least = 1e9, 1e-9
	if !(math.Abs(lo) < most) || !(math.Abs(hi) < most) || !(hi-lo > least) {
		return 0, 1
	}
	return lo, hi
}

// widen moves the ends out in whole steps of a quarter of the scale until values fit, at most to
// eight times its length. A scale that begins at 0 stays there for values that are not below.
func widen(lo, hi float64, values ...float64) (float64, float64) {
	step := (hi - lo) / 4
	for _, v := range values {
		if !finite(v) {
			continue
		}
		if v > hi {
			hi = lo + step*math.Min(math.Ceil((v-lo)/step), 32)
		}
		if v < lo {
			lo = hi - step*math.Min(math.Ceil((hi-v)/step), 32)
		}
	}
	return lo, hi
}
