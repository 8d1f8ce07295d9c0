package plan

import (
	"math"
	"slices"

	"halfwater/change"
	"halfwater/husbandry"
	"halfwater/infer"
	"halfwater/quantity"
)

// choice is how much is changed, with what, and in how many visits.
type choice struct {
	share    quantity.Share // today
	blend    blend
	salts    []salt         // that the doses of the blend belong to
	whole    quantity.Share // what was wanted in one visit
	days     int
	asked    bool    // the share is the keeper's, or a correction of a range of the keeper's: it is done in steps
	near     bool    // the blend is held near to what is there by a day's steps
	soft     bool    // small soft steps because of ammonia
	harm     float64 // chance that it would free ammonia; NaN when it cannot be told
	plateaus []Plateau
	larger   *Larger
}

// choose sizes the change and finds the blend. False when the sources cannot fill it.
func (v *visit) choose() (choice, bool) {
	x := v.Share
	if x == 0 {
		x = v.routine
	}
	b, list, ok := v.blendFor(x)
	if !ok {
		return choice{}, false
	}
	asked := v.Share > 0
	if !asked {
		// The blend depends on the share and the share on the blend: once around is enough, since
		// a larger share asks less of the blend.
		plateau, back := v.needs(b, x)
		asked = back > max(plateau, x)
		if need := max(plateau, back); need > x {
			x = min(need, max(largestShare, v.routine))
			if b, list, ok = v.blendFor(x); !ok {
				return choice{}, false
			}
		}
	}
	c := choice{share: x, whole: x, blend: b, salts: list, days: 1, asked: asked, plateaus: v.plateaus(b, x)}
	c.larger = v.larger(b, x)
	v.withinSteps(&c)
	v.withinAmmonia(&c)
	return c, true
}

// blendFor is the blend for a share; salts join when the waters alone leave a gap.
func (v *visit) blendFor(x quantity.Share) (blend, []salt, bool) {
	wishes, litres := v.wishes(x), v.litres(x)
	b, ok := v.blended(wishes, litres, nil)
	shelf := v.shelf()
	if !ok || len(shelf) == 0 || len(v.gaps(wishes, b)) == 0 {
		return b, nil, ok
	}
	if salted, ok := v.blended(wishes, litres, shelf); ok {
		return salted, shelf, true
	}
	return b, nil, true
}

// litres of a share, to the half litre.
func (v *visit) litres(x quantity.Share) quantity.Litres {
	return quantity.Litres(math.Round(float64(x)*float64(v.held.Median)*2) / 2)
}

// needs are the share that keeps every plateau within its range, and the one that brings back what
// has left a range of the keeper's own or passed its act line. What is only outside the range of the stock comes back
// by the blend, week by week: there is no hurry that a larger step would be worth.
func (v *visit) needs(b blend, x quantity.Share) (plateau, correction quantity.Share) {
	for _, p := range v.plateaus(b, x) {
		plateau = max(plateau, p.NeedShare)
	}
	back := func(of quantity.Measurand, now, with float64, r quantity.Range[float64]) {
		if !known(now) || !beyond(of, now, r) {
			return
		}
		edge := min(max(now, r.Lo), r.Hi)
		if s, ok := change.ShareToReach(now, edge, with); ok {
			correction = max(correction, s)
		}
	}
	for _, of := range []quantity.Measurand{quantity.OfGH, quantity.OfKH, quantity.OfEC} {
		if k, ok := v.ranges.Of(of); ok && (k.LoBy.Keeper || k.HiBy.Keeper) {
			back(of, levelOf(v.now.Levels, of), levelOf(b.mid, of), k.Range)
		}
	}
	if line, ok := v.lines.Of(husbandry.NitrateLine); ok {
		back(quantity.OfNO3, float64(v.now.NO3), float64(b.no3), quantity.Range[float64]{Hi: line.Act.Or(math.Inf(1))})
	}
	return plateau, correction
}

// gaps are the wishes for GH and KH that a blend does not meet.
func (v *visit) gaps(wishes []wish, b blend) []Gap {
	var out []Gap
	for _, w := range wishes {
		if w.of != quantity.OfGH && w.of != quantity.OfKH {
			continue
		}
		got := levelOf(b.mid, w.of)
		if got >= w.range_.Lo-slackOf[w.of] && got <= w.range_.Hi+slackOf[w.of] {
			continue
		}
		g := Gap{Of: w.of, Wanted: w.range_, Reached: got}
		if edge := min(max(got, w.range_.Lo), w.range_.Hi); v.within(w.of, edge) == edge {
			g.ConflictWith = conflict[w.of] // it could be met, were it not for the other
		}
		out = append(out, g)
	}
	return out
}

var conflict = map[quantity.Measurand]quantity.Measurand{
	quantity.OfGH: quantity.OfKH, quantity.OfKH: quantity.OfGH,
}

// mostInADay is the greatest share of a blend that moves GH, KH and EC by no more than a day's
// step, with 95 % chance over the draws, and which of them binds most often, less what was
// poured within the day. Temperature does not
// count: the new water is brought to it.
func (v *visit) mostInADay(b blend) (quantity.Share, quantity.Measurand) {
	with := b.mid
	with.Temp = quantity.Celsius(math.NaN())
	unread, capped := v.unread()
	most := make([]float64, len(v.draws))
	binds := map[quantity.Measurand]int{}
	for i := range v.draws {
		d := &v.draws[i]
		now := change.Levels{GH: d.GH, KH: d.KH, EC: d.EC, Temp: quantity.Celsius(math.NaN())}
		x, of := change.GreatestShare(now, with, v.limits)
		if capped && x > v.limits.GH {
			x, of = v.limits.GH, unread
		}
		most[i] = float64(x) / v.heldRatio(d)
		binds[of]++
	}
	if len(most) == 0 {
		return 1, ""
	}
	slices.Sort(most)
	today := float64(v.pouredToday())
	first := quantity.OfGH
	for _, of := range []quantity.Measurand{quantity.OfKH, quantity.OfEC, unread} {
		if binds[of] > binds[first] {
			first = of
		}
	}
	return quantity.Share(max(quantile(most, hardLimit)-today, 0)), first
}

// unread reports that nothing was ever read that a step could be held by: neither GH nor KH nor EC.
// No more is poured then than the share of a day's step: a water twice as hard stays within.
func (v *visit) unread() (quantity.Measurand, bool) {
	for _, of := range []quantity.Measurand{quantity.OfGH, quantity.OfKH, quantity.OfEC} {
		if !neverRead(v.Belief, of) {
			return "", false
		}
	}
	return quantity.OfGH, true
}

// heldRatio is how much larger a share of the held water the same litres are in a draw than by the
// median.
func (v *visit) heldRatio(d *infer.Draw) float64 {
	if r := float64(v.now.Held / d.Held); r > 0 && !math.IsInf(r, 0) {
		return r
	}
	return 1
}

// shareOf is what a share by the median is in a draw.
func (v *visit) shareOf(d *infer.Draw, x quantity.Share) quantity.Share {
	return min(x*quantity.Share(v.heldRatio(d)), 1)
}

// withinSteps cuts a change that would move GH, KH or EC too far in a day.
func (v *visit) withinSteps(c *choice) {
	least, first := v.mostInADay(c.blend)
	if c.share <= least {
		return
	}
	if of, capped := v.unread(); capped && least >= v.limits.GH*0.8 {
		v.refuse(Refused{Code: "plan.unread-step", Of: of, Value: 100 * float64(c.share), Limit: 100 * float64(least), Unit: "%"})
		c.share, c.days = least, 1
		return
	}
	if !c.asked && v.nearEnough(c, c.share, first) {
		return
	}
	v.refuse(Refused{Code: "plan.step-too-large", Of: first, Value: 100 * float64(c.share), Limit: 100 * float64(least), Unit: "%"})
	if p, ok := change.Days(c.share, least); ok && p.Days <= longestPath {
		c.share, c.days = p.Share, p.Days
		return
	}
	if v.nearEnough(c, min(c.share, v.routine), first) {
		return // so far from what is wanted that it takes weeks
	}
	c.share, c.days = least, 1
}

// nearEnough finds the blend that is best among those that keep a share within a day's steps.
func (v *visit) nearEnough(c *choice, x quantity.Share, binds quantity.Measurand) bool {
	b, ok := v.blended(v.wishes(x), v.litres(x), c.salts, v.stepBounds(x)...)
	if ok {
		v.refuse(Refused{
			Code: "plan.nearer-blend", Of: binds, Value: levelOf(c.blend.mid, binds), Limit: levelOf(b.mid, binds), Unit: binds.Unit(),
		})
		c.blend, c.share, c.days, c.near = b, x, 1, true
	}
	return ok
}

// stepBounds are within what a pour has to be so that a share of it moves GH, KH and EC by no more
// than a day's step, with 95 % chance over the draws.
func (v *visit) stepBounds(x quantity.Share) []bound {
	var out []bound
	x += v.pouredToday()
	lo, hi := make([]float64, len(v.draws)), make([]float64, len(v.draws))
	for _, of := range []struct {
		of   quantity.Measurand
		step func(*infer.Draw) (now, most float64)
	}{
		{quantity.OfGH, func(d *infer.Draw) (float64, float64) { return float64(d.GH), float64(v.limits.StepGH(d.GH)) }},
		{quantity.OfKH, func(d *infer.Draw) (float64, float64) { return float64(d.KH), float64(v.limits.StepKH(d.KH)) }},
		{quantity.OfEC, func(d *infer.Draw) (float64, float64) { return float64(d.EC), float64(v.limits.StepEC(d.EC)) }},
	} {
		if !known(levelOf(v.now.Levels, of.of)) {
			continue
		}
		for i := range v.draws {
			now, most := of.step(&v.draws[i])
			share := float64(v.shareOf(&v.draws[i], x))
			lo[i], hi[i] = now-most/share, now+most/share
		}
		slices.Sort(lo)
		slices.Sort(hi)
		out = append(out, bound{of.of, quantity.Range[float64]{Lo: quantile(lo, 1-hardLimit), Hi: quantile(hi, hardLimit)}})
	}
	return out
}
