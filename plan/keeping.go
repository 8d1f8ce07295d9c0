package plan

import (
	"errors"
	"math"
	"time"

	"halfwater/book"
	"halfwater/change"
	"halfwater/enclosure"
	"halfwater/husbandry"
	"halfwater/infer"
	"halfwater/quantity"
)

// keeping reads what the stock needs: ranges, lines, limits of a step. Needs that contradict each
// other, and an own line that is looser than the table, become refusals.
func (v *visit) keeping() {
	ranges, err := enclosure.KeepingRanges(v.Facts.Stock, v.Facts.Wanted)
	v.ranges = ranges
	v.faults(err)
	var chloride husbandry.Maybe[quantity.MgPerL]
	if cl := v.median(func(d *infer.Draw) float64 { return float64(d.Chloride) }); known(cl) {
		chloride = husbandry.Known(quantity.MgPerL(cl))
	}
	v.lines = ranges.Lines(chloride)
	v.limits = ranges.Steps
}

// faults turns what the ranges refuse into refusals of the sheet.
func (v *visit) faults(err error) {
	var many interface{ Unwrap() []error }
	if errors.As(err, &many) {
		for _, e := range many.Unwrap() {
			v.faults(e)
		}
		return
	}
	var conflict enclosure.Conflict
	var looser husbandry.LooserThanTable
	switch {
	case errors.As(err, &conflict):
		v.refuse(Refused{Code: "plan.ranges-conflict", Of: conflict.Of, Value: conflict.Lo, Limit: conflict.Hi, Unit: conflict.Of.Unit()})
	case errors.As(err, &looser):
		v.refuse(Refused{Code: "plan.line-looser", Value: looser.Asked, Limit: looser.Table, Unit: looser.Unit})
	}
}

var everywhere = quantity.Range[float64]{Lo: math.Inf(-1), Hi: math.Inf(1)}

// rangeOf is within what a measurand is kept: the keeping range, and unless the keeper has set an
// own one, KH not under its watch line and nitrate not over it. Needs that contradict each other
// give the middle between them.
func (v *visit) rangeOf(of quantity.Measurand) quantity.Range[float64] {
	r := everywhere
	own := false
	if k, ok := v.ranges.Of(of); ok {
		r, own = k.Range, k.LoBy.Keeper || k.HiBy.Keeper
	}
	switch of {
	case quantity.OfKH:
		if line, ok := v.lines.Of(husbandry.KHLine); ok && !own {
			if x, ok := line.Watch.Get(); ok && x < r.Hi {
				r.Lo = max(r.Lo, x)
			}
		}
	case quantity.OfNO3:
		if line, ok := v.lines.Of(husbandry.NitrateLine); ok && !own {
			r.Hi = min(r.Hi, line.Watch.Or(math.Inf(1)))
		}
	}
	if r.Empty() {
		return point((r.Lo + r.Hi) / 2)
	}
	return r
}

// rates are the medians of what happens between two changes; NaN where it is not known.
type rates struct {
	khFall float64 // dKH lost
	lost   float64 // litres replaced by top-up: evaporated or leaked
}

func (v *visit) readRates() {
	v.rates.khFall = v.median(func(d *infer.Draw) float64 { return float64(d.KHFall) }) * v.interval / 7
	v.rates.lost = v.median(func(d *infer.Draw) float64 { return float64(d.Lost()) }) * v.interval
}

// creep is how much top-up gathers of a conserved measurand until the next change: what its litres
// bring, over the litres held. NaN when the top-up is not known.
func (v *visit) creep(of quantity.Measurand) float64 {
	s, ok := v.topUp()
	if !ok {
		return math.NaN()
	}
	return levelOf(s.mid, of) * v.toppedUp() / float64(v.now.Held)
}

// toppedUp is the litres that top-ups bring from one change to the next: by the book's own lines when
// they span four weeks, else what is believed to evaporate and leak.
func (v *visit) toppedUp() float64 {
	var first, last time.Time
	var sum quantity.Litres
	for _, l := range v.Lines {
		t, ok := l.Body.(book.TopUp)
		if !ok || !v.mine(l) || v.on.Sub(l.At) > lookBack {
			continue
		}
		if first.IsZero() {
			first = l.At // it replaced a loss from before
		} else {
			sum += t.Litres
		}
		last = l.At
	}
	days := last.Sub(first).Hours() / 24
	if days < 28 {
		return v.rates.lost
	}
	return float64(sum) / days * v.interval
}

// lookBack is how far back a habit is read from the book.
const lookBack = 26 * 7 * 24 * time.Hour

// beyond reports whether a level lies outside a range by more than a test can tell.
func beyond(of quantity.Measurand, level float64, r quantity.Range[float64]) bool {
	return level < r.Lo-slackOf[of] || level > r.Hi+slackOf[of]
}

// topUp is the source that replaces evaporation: that of the latest line, else of the routine.
func (v *visit) topUp() (source, bool) {
	name := ""
	if r := v.Facts.Routine; r != nil {
		name = r.TopUpWith
	}
	for i := len(v.Lines) - 1; i >= 0; i-- {
		if t, ok := v.Lines[i].Body.(book.TopUp); ok && v.mine(v.Lines[i]) && t.Source != "" {
			name = t.Source
			break
		}
	}
	for _, s := range v.sources {
		if s.name == name {
			return s, true
		}
	}
	return source{}, false
}

// mine reports whether a line is about this water body and not later than the visit.
func (v *visit) mine(l book.Line) bool {
	return (l.Water == v.Belief.Water || l.Water == "") && !l.At.After(v.on)
}

// plateaus are where nitrate, KH and EC settle before a change with a pour, and the share that
// would keep them in range.
func (v *visit) plateaus(b blend, x quantity.Share) []Plateau {
	var out []Plateau
	weeks := v.interval / 7
	add := func(of quantity.Measurand, src float64, rise func(*infer.Draw) float64) {
		r := bandOf[float64](v, rise)
		if !known(r.Median) || !known(src) {
			return
		}
		p := Plateau{Of: of, Source: src, Rise: r, Share: x, Changes: change.CyclesToShow(x, 0.9)}
		at := func(rise float64) float64 { return change.Plateau(src, rise, x).Before }
		p.Before = quantity.Band[float64]{Low: at(r.Low), Lo: at(r.Lo), Median: at(r.Median), Hi: at(r.Hi), High: at(r.High)}
		within := v.rangeOf(of)
		edge := within.Hi
		if r.Median < 0 {
			edge = within.Lo
		}
		if s, ok := change.ShareForPeak(src, r.Median, edge); ok && !math.IsInf(edge, 0) {
			p.NeedShare = s
		}
		out = append(out, p)
	}
	add(quantity.OfNO3, float64(b.no3), func(d *infer.Draw) float64 { return float64(d.NO3Rise) * weeks })
	add(quantity.OfKH, float64(b.mid.KH), func(d *infer.Draw) float64 { return -float64(d.KHFall) * weeks })
	if s, ok := v.topUp(); ok {
		brought := levelOf(s.mid, quantity.OfEC) * v.toppedUp()
		add(quantity.OfEC, float64(b.mid.EC), func(d *infer.Draw) float64 { return brought / float64(d.Held) })
	}
	return out
}
