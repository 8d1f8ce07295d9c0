package husbandry

import (
	"fmt"
	"math"

	"halfwater/quantity"
)

// Standard normal quantiles of the ends of a [quantity.Band].
const (
	z95 = 1.6448536269514722
	z90 = 1.2815515655446004
)

// spread is the band of a quantity by its median and its 5 % and 95 % quantiles, all above zero:
// log-normal on either side of the median, with the side's own width.
func spread[Q quantity.Number](p5, median, p95 float64) quantity.Band[Q] {
	down, up := math.Log(p5/median)/z95, math.Log(p95/median)/z95
	at := func(side, z float64) Q { return Q(median * math.Exp(side*z)) }
	return quantity.Band[Q]{
		Low: at(down, z95), Lo: at(down, z90), Median: Q(median), Hi: at(up, z90), High: at(up, z95),
	}
}

// bandOf is the band of a constant whose doubt reads "5-95 %: 0.1-1.0".
func bandOf[Q quantity.Number](name string) quantity.Band[Q] {
	for _, c := range constants.List {
		if c.Name != name {
			continue
		}
		var lo, hi float64
		if n, err := fmt.Sscanf(c.Doubt, "5-95 %%: %g-%g", &lo, &hi); n != 2 || err != nil || !(0 < lo && lo <= c.Value && c.Value <= hi) {
			panic(fmt.Sprintf("husbandry: doubt of %s reads %q", name, c.Doubt))
		}
		return spread[Q](lo, c.Value, hi)
	}
	panic("husbandry: no constant " + name)
}

// times is a band multiplied by a number above zero.
func times[R, Q quantity.Number](b quantity.Band[Q], factor float64) quantity.Band[R] {
	f := func(q Q) R { return R(float64(q) * factor) }
	return quantity.Band[R]{Low: f(b.Low), Lo: f(b.Lo), Median: f(b.Median), Hi: f(b.Hi), High: f(b.High)}
}
