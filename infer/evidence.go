package infer

import (
	"math"
	"time"

	"halfwater/book"
	"halfwater/kit"
	"halfwater/quantity"
)

// evidence is a reading in the form that the unknowns understand.
type evidence struct {
	seen
	lot   string  // which lot's bias it carries
	lotSD float64 // of that bias before anything was read with it; on the logarithm when Log

	calibrated time.Time // of a pen
}

// evidenceOf turns a reading into evidence; false when its interval is none.
func (w *walk) evidenceOf(l book.Line, r book.Reading) (evidence, bool) {
	if math.IsNaN(r.Lo) || math.IsNaN(r.Hi) || r.Lo > r.Hi {
		return evidence{}, false
	}
	k, known := w.facts.Kit(r.Kit)
	known = known && k.Of == r.Of
	e := evidence{lot: r.Kit + "|" + string(r.Of)}
	span := r.Of.Span()
	e.lo, e.hi = r.Lo, r.Hi
	open := r.Lo <= span.Lo || r.Hi >= span.Hi
	if known {
		e.lot += "|" + k.Lot
		e.calibrated = k.Calibrated
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
		e.SD *= math.Sqrt(1 - square(value("lot.meter")))
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
		e.SD *= 1.1 // strength rises a little faster than conductivity
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
