package infer

import (
	"math"

	"halfwater/book"
	"halfwater/kit"
	"halfwater/quantity"
)

// read takes a reading in. Doubtful is what it says when it lies far from what was expected.
func (w *walk) read(l book.Line, r book.Reading) (Doubtful, bool) {
	e, ok := w.evidenceOf(l, r)
	if !ok {
		return Doubtful{Line: l.ID, Of: r.Of, Code: "infer.reading-empty", Shown: quantity.Range[float64]{Lo: r.Lo, Hi: r.Hi}}, true
	}
	w.witnesses = append(w.witnesses, witness{l, r.Of, e})
	d := Doubtful{Line: l.ID, Of: r.Of, Code: "infer.reading-far", Shown: quantity.Range[float64]{Lo: r.Lo, Hi: r.Hi}}
	var low, high float64
	switch r.Of {
	case quantity.OfTAN, quantity.OfNO2:
		low, high, d.Expected = w.readPool(l, r, e)
	case quantity.OfLevel:
		w.elapse(l.At)
		if short, ok := w.box.missing(quantity.Millimetres((r.Lo + r.Hi) / 2)); ok && r.Hi-r.Lo < 50 {
			w.missing = short
		}
		return Doubtful{}, false
	default:
		slot, ok := slotOf(r.Of)
		if !ok {
			return Doubtful{}, false
		}
		if slot == warmth {
			w.warm(l.At)
		} else {
			w.elapse(l.At)
		}
		v := w.readSlot(slot, e)
		low, high, d.Expected = v.low, v.high, v.expected
		if slot == ions {
			each(&d.Expected, conducted)
		}
		if r.Of == quantity.OfTDS {
			k, _ := w.facts.Kit(r.Kit)
			f := k.Factor()
			each(&d.Expected, func(x float64) float64 { return x * f })
		}
	}
	d.Odds = math.Min(math.Min(low, high), 1)
	return d, d.Odds < value("doubt.tail")
}

func (w *walk) readPool(l book.Line, r book.Reading, e evidence) (low, high float64, expected quantity.Band[float64]) {
	p := &w.tan
	if r.Of == quantity.OfNO2 {
		p = &w.no2
	}
	p.elapse(l.At)
	expected = p.band()
	e.SD = math.Hypot(e.SD, e.lotSD)
	iv := kit.Interval{Of: r.Of, Range: quantity.Range[float64]{Lo: r.Lo, Hi: r.Hi}, OpenAbove: math.IsInf(e.hi, 1), OpenBelow: math.IsInf(e.lo, -1)}
	low, high = p.read(e.seen, iv, l.At)
	return low, high, expected
}

// readSlot takes a reading of a carried quantity in.
func (w *walk) readSlot(slot int, e evidence) verdict {
	g := &w.g
	seenAs := 1.0
	if dissolved(slot) {
		seenAs = w.box.litres / w.now()
	}
	lot := w.lotSlot(e)
	s := e.seen
	if !w.met[slot] { // against the first reading nothing speaks
		s.Odd, s.first = 0, true
	}
	w.met[slot] = true
	w.believeTwice(slot, e, seenAs)
	if lot < 0 {
		s.SD = math.Hypot(s.SD, e.lotSD)
	}
	floor := math.Inf(-1)
	if s.Log {
		floor = -0.3 * s.Shift
	}
	// A lot's bias is a share of the value read: settle at which value.
	guess := math.Max(g.mean[slot]*seenAs, 0)
	for try := 1; ; try++ {
		sum := []term{{slot, seenAs}}
		switch {
		case lot >= 0 && s.Log:
			sum = append(sum, term{lot, guess + s.Shift})
		case lot >= 0:
			sum = append(sum, term{lot, 1})
		}
		mean, variance, with := g.project(sum)
		v := s.judge(mean, variance, floor)
		if !s.Log || try == 3 || math.Abs(v.mean-guess) < 0.05*(guess+s.Shift) {
			g.learn(mean, variance, &with, v.mean, v.variance)
			return v
		}
		guess = math.Max(v.mean, 0)
	}
}

// believeTwice: a reading far from what was expected may be a slip. When the next one is as far on the same side, or on its way back
// from there, something has happened that the book does not hold, and what was expected counts no more.
func (w *walk) believeTwice(slot int, e evidence, seenAs float64) {
	before := w.far[slot]
	w.far[slot] = nil
	g := &w.g
	mean, sd := g.mean[slot]*seenAs, g.sd(slot)*seenAs
	at, wide := e.middle()
	if math.Abs(at-mean) < 3*math.Hypot(sd, wide) {
		return
	}
	w.far[slot] = &e
	if before == nil {
		return
	}
	was, also := before.middle()
	between := (was-at)*(at-mean) > 0
	if between || math.Abs(was-at) < 2*math.Hypot(wide, also) {
		g.shake(square((at-mean)/seenAs), term{slot, 1})
	}
}

func each(b *quantity.Band[float64], f func(float64) float64) {
	b.Low, b.Lo, b.Median, b.Hi, b.High = f(b.Low), f(b.Lo), f(b.Median), f(b.Hi), f(b.High)
}
