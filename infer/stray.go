package infer

import (
	"cmp"
	"math"
	"slices"

	"halfwater/infer/fit"
	"halfwater/quantity"
)

// astray reports whether the histories do not account for what was read last: of some quantity the last two
// readings both count as saying nothing, on the same side. One such reading is a misreading; two are the
// water, and something that the book does not tell of.
func (q *question) astray(post *fit.Posterior) bool {
	sides := map[quantity.Measurand]int{} // of the last one: +1 too high, -1 too low
	done := map[quantity.Measurand]bool{}
	seen := q.Seen(post.Mode)
	for i, of := range q.lastFirst {
		if done[of] {
			continue
		}
		side := strayed(q.Readings[i], seen[i])
		last, second := sides[of]
		if second && side != 0 && side == last {
			return true
		}
		sides[of], done[of] = side, second || side == 0
	}
	return false
}

// alarming are ammonia and nitrite where their last reading would seldom be so high under the histories: what may
// kill is believed until it is read again.
func (q *question) alarming(post *fit.Posterior) map[quantity.Measurand]bool {
	out, done := map[quantity.Measurand]bool{}, map[quantity.Measurand]bool{}
	seen := q.Seen(post.Mode)
	for i, of := range q.lastFirst {
		if (of != quantity.OfTAN && of != quantity.OfNO2) || done[of] {
			continue
		}
		done[of] = true
		if strayed(q.Readings[i], seen[i]) > 0 || seldomSoHigh(post, q.Readings[i], i) {
			out[of] = true
		}
	}
	return out
}

// lastFirst goes through the readings of the water in the enclosure, by index, with the quantity of each, the last first.
func (q *question) lastFirst(yield func(reading int, of quantity.Measurand) bool) {
	var its []int
	for i := len(q.Readings) - 1; i >= 0; i-- {
		if q.Readings[i].Own == nil && q.witnesses[i].of != "" {
			its = append(its, i)
		}
	}
	slices.SortStableFunc(its, func(i, j int) int { return cmp.Compare(q.Readings[j].Day, q.Readings[i].Day) })
	for _, i := range its {
		if !yield(i, q.witnesses[i].of) {
			return
		}
	}
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
