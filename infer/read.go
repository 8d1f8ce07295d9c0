package infer

import (
	"math"

	"halfwater/book"
	"halfwater/kit"
	"halfwater/quantity"
)

// evidence is a reading in the form that the unknowns understand.
type evidence struct {
	seen
	lot     string  // which lot's bias it carries
	lotSD   float64 // of that bias before anything was read with it; on the logarithm when Log
	mainKit kit.Kit
}

// evidenceOf turns a reading into evidence; false when its interval is none.
func (w *walk) evidenceOf(l book.Line, r book.Reading) (evidence, bool) {
	if math.IsNaN(r.Lo) || math.IsNaN(r.Hi) || r.Lo > r.Hi {
		return evidence{}, false
	}
	k, known := w.facts.Kit(r.Kit)
	known = known && k.Of == r.Of
	e := evidence{lot: r.Kit + "|" + string(r.Of), mainKit: k}
	span := r.Of.Span()
	e.lo, e.hi = r.Lo, r.Hi
	open := r.Lo <= span.Lo || r.Hi >= span.Hi
	if known {
		e.lot += "|" + k.Lot
		e.Model = k.Error(l.At)
		e.point = k.Form == kit.Meter && !open
	} else {
		e.Model = kit.ErrorWithout(r.Of)
	}
	if r.Hi >= span.Hi {
		e.hi = math.Inf(1)
	}
	if r.Lo <= span.Lo {
		e.lo = math.Inf(-1)
	}
	e.lotSD = lotSD(e.Model, r.Of, e.point)
	if e.point {
		rest := 1 - square(value("lot.meter"))
		e.SD *= math.Sqrt(rest)
		e.Odd, e.Classes = math.Max(e.Odd, value("odd.meter")), 20
	}
	switch r.Of { // within a day the water itself swings
	case quantity.OfPH:
		e.SD = math.Hypot(e.SD, value("wander.ph_hour"))
	case quantity.OfWaterTemp:
		e.SD = math.Hypot(e.SD, value("wander.temp_hour"))
	}
	if l.By == book.Sitter {
		e.SD *= value("sitter.wider")
		e.Odd, e.Classes = math.Max(e.Odd, value("sitter.odd")), max(e.Classes, 6)
	}
	if r.Of == quantity.OfTDS {
		lo, hi := 1/k.TDSFactor, 1/k.TDSFactor
		if k.TDSFactor <= 0 { // the factor is not printed: it lies between the usual ones
			lo, hi = 1/0.7, 1/0.5
			e.lotSD = math.Hypot(e.lotSD, math.Log(0.7/0.5)/math.Sqrt(12))
		}
		middle := math.Sqrt(lo * hi)
		e.lo, e.hi = e.lo*middle, e.hi*middle
	}
	if r.Of == quantity.OfEC || r.Of == quantity.OfTDS {
		e.lo, e.hi = strengthOrOpen(e.lo), strengthOrOpen(e.hi)
		if !e.Log {
			e.SD = math.Max(e.SD, 1)
		}
		e.Log, e.SD = true, 1.1*math.Max(e.SD, 0.003)
	}
	return e, true
}

func strengthOrOpen(ec float64) float64 {
	if math.IsInf(ec, 0) {
		return ec
	}
	return strength(ec)
}

// lotSD is the bias that readings of one lot, bottle or pen share.
func lotSD(m kit.Model, of quantity.Measurand, meter bool) float64 {
	switch {
	case meter:
		return value("lot.meter") * m.SD
	case of == quantity.OfPH:
		return value("lot.ph")
	case m.Log:
		return value("lot.colour")
	}
	return value("lot.drops") / 0.4 * m.SD
}

// lotSlot is the slot of a lot's bias, made when it is first met; -1 when there is no room left.
func (w *walk) lotSlot(e evidence) int {
	if i, ok := w.kits[e.lot]; ok {
		return i
	}
	i := lots + len(w.kits)
	if i >= room {
		return -1
	}
	w.kits[e.lot] = i
	w.g.put(i, 0, e.lotSD)
	return i
}

// read takes a reading in. Doubtful is what it says when it lies far from what was expected.
func (w *walk) read(l book.Line, r book.Reading) (Doubtful, bool) {
	e, ok := w.evidenceOf(l, r)
	if !ok {
		return Doubtful{Line: l.ID, Of: r.Of, Code: "infer.reading-empty", Shown: quantity.Range[float64]{Lo: r.Lo, Hi: r.Hi}}, true
	}
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
			f := tdsFactor(k)
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
		seenAs = w.box.litres / math.Max(w.box.litres-w.missing, 0.3*w.box.litres)
	}
	lot := w.lotSlot(e)
	s := e.seen
	if !w.met[slot] { // against the first reading nothing speaks
		s.Odd = 0
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
	var v verdict
	guess := math.Max(g.mean[slot]*seenAs, 0)
	for range 2 { // a lot's bias is a share of the value: settle at which value
		sum := []term{{slot, seenAs}}
		switch {
		case lot >= 0 && s.Log:
			sum = append(sum, term{lot, guess + s.Shift})
		case lot >= 0:
			sum = append(sum, term{lot, 1})
		}
		mean, variance, with := g.project(sum)
		v = s.judge(mean, variance, floor)
		if !s.Log || lot < 0 || math.Abs(v.mean-guess) < 0.05*(guess+s.Shift) {
			g.learn(mean, variance, &with, v.mean, v.variance)
			return v
		}
		guess = math.Max(v.mean, 0)
	}
	sum := []term{{slot, seenAs}, {lot, guess + s.Shift}}
	mean, variance, with := g.project(sum)
	v = s.judge(mean, variance, floor)
	g.learn(mean, variance, &with, v.mean, v.variance)
	return v
}

// believeTwice: a reading far from what was expected may be a slip. When the next one says the same,
// something has happened that the book does not hold, and what was expected counts no more.
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
	if was, also := before.middle(); math.Abs(was-at) < 2*math.Hypot(wide, also) {
		g.shake(square((at-mean)/seenAs), term{slot, 1})
	}
}

// middle is a number that stands for the reading, with its doubt as a standard deviation.
func (e evidence) middle() (at, sd float64) {
	lo, hi := e.lo, e.hi
	if math.IsInf(lo, -1) {
		lo = math.Min(hi, 0)
	}
	if math.IsInf(hi, 1) {
		hi = 2 * lo
	}
	at = (lo + hi) / 2
	sd = e.SD
	if e.Log {
		sd *= at + e.Shift
	}
	if !e.point {
		sd = math.Hypot(sd, (hi-lo)/math.Sqrt(12))
	}
	return at, sd
}

func each(b *quantity.Band[float64], f func(float64) float64) {
	b.Low, b.Lo, b.Median, b.Hi, b.High = f(b.Low), f(b.Lo), f(b.Median), f(b.Hi), f(b.High)
}
