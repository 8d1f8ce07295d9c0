package infer

import (
	"math"

	"halfwater/infer/fit"
	"halfwater/quantity"
)

// astray reports whether the histories do not account for what was read last: of some quantity the last two
// readings both count as saying nothing, on the same side. One such reading is a misreading; two are the
// water, and something that the book does not tell of. Of ammonia and nitrite one reading that would seldom be so high is
// enough: what may kill is believed until it is read again.
func (q *question) astray(post *fit.Posterior) bool {
	seen := q.Seen(post.Mode)
	last := map[quantity.Measurand]int{} // +1 or -1: the last one was too high or too low
	done := map[quantity.Measurand]bool{}
	for i := len(seen) - 1; i >= 0; i-- {
		of := q.witnesses[i].of
		if q.Readings[i].Own != nil || done[of] {
			continue
		}
		side := strayed(q.Readings[i], seen[i])
		if _, first := last[of]; !first {
			if (of == quantity.OfTAN || of == quantity.OfNO2) && (side > 0 || seldomSoHigh(post, q.Readings[i], i)) {
				return true
			}
			last[of] = side
			done[of] = side == 0
			continue
		}
		if side != 0 && side == last[of] {
			return true
		}
		done[of] = true
	}
	return false
}

// strayed is the side on which a reading lies when it is likelier that it says nothing; 0 when it is not.
func strayed(r fit.Reading, seen float64) int {
	odd := math.Log(r.Odd / float64(max(r.Classes, 1)))
	says := math.Log1p(-r.Odd)
	r.Odd = 0
	logP, score, _ := r.Weigh(seen)
	if r.Point {
		odd -= math.Log(r.SD)
	}
	switch {
	case says+logP >= odd:
		return 0
	case score > 0:
		return 1
	}
	return -1
}

// seldomSoHigh reports whether a kit without bias would show so much in fewer histories than one in five (stray.high).
func seldomSoHigh(post *fit.Posterior, r fit.Reading, i int) bool {
	lo := r.Lo
	if r.Log {
		lo = math.Log(math.Max(r.Lo+r.Shift, 1e-9))
	}
	sum := 0.0
	for k := range post.Draws {
		sum += phi((post.Draws[k].Truth[i] - lo) / r.SD)
	}
	return sum < value("stray.high")*float64(len(post.Draws))
}
