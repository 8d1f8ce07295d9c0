package infer

import (
	"math"
	"time"

	"halfwater/book"
	"halfwater/enclosure"
	"halfwater/kit"
	"halfwater/quantity"
)

// evidence is a reading in the form that the unknowns understand. Its SD is all that is not the bias of
// its lot; aged and swing are parts of it that it shares with others.
type evidence struct {
	seen
	kit   string             // its name; "" where none was named
	reads quantity.Measurand // what that shows, be it of the enclosure or of another water
	lot   string             // which lot's bias it carries
	lotSD float64            // of that bias before anything was read with it; on the logarithm when Log

	aged   float64   // by a lot past its date: the same way each time
	past   time.Time // that date
	swing  float64   // the water's own within a day: the same for readings of one hour
	drift  float64   // part of lotSD: of a conductivity pen, since it was calibrated
	factor float64   // part of lotSD: of a TDS pen whose factor is not printed

	mean       *mean     // of a probe: what stands for many
	calibrated time.Time // of a pen

	ways []kit.Way // what it says on each basis, when that is open
}

// alone is the part of the doubt that a reading has for itself.
func (e evidence) alone() float64 {
	return math.Sqrt(math.Max(square(e.SD)-square(e.aged)-square(e.swing), 0))
}

// when is the moment that a reading is of.
func (w witness) when() time.Time {
	if w.mean != nil {
		return w.mean.when
	}
	return w.line.At
}

// evidenceOf turns a reading into evidence; false when its interval is none.
func (w *walk) evidenceOf(l book.Line, r book.Reading) (evidence, bool) {
	e, ok := evidenceOf(w.facts, l, r)
	if m, is := w.means[l.ID]; is && ok {
		e.average(m, r.Of)
	}
	return e, ok
}

func evidenceOf(facts enclosure.Facts, l book.Line, r book.Reading) (evidence, bool) {
	if math.IsNaN(r.Lo) || math.IsNaN(r.Hi) || r.Lo > r.Hi {
		return evidence{}, false
	}
	k, known := facts.Kit(r.Kit)
	known = known && k.Of == r.Of
	e := evidence{kit: r.Kit, reads: r.Of, lot: r.Kit + "|" + string(r.Of), ways: meant(facts, l, r)}
	span := r.Of.Span()
	e.lo, e.hi = r.Lo, r.Hi
	open := r.Lo <= span.Lo || r.Hi >= span.Hi
	switch {
	case known:
		e.lot += "|" + k.Lot
	case l.By == book.Probe:
		k, known = kit.Kit{Of: r.Of, Form: kit.Meter, Unit: r.Of.Unit()}, true
	}
	if known {
		e.calibrated = k.Calibrated
		e.Model = fresh(k, l.At).Error(l.At)
		e.point = k.Form == kit.Meter && !open
		e.past = k.GoodUntil()
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
	if known {
		more := math.Sqrt(math.Max(square(k.Error(l.At).SD)-square(e.SD), 0))
		switch {
		case k.Form != kit.Meter:
			e.aged = more
		default:
			e.drift = more
			e.lotSD = math.Hypot(e.lotSD, more)
		}
	}
	if e.point {
		e.SD *= math.Sqrt(1 - square(value("lot.meter")))
		e.Odd, e.Classes = math.Max(e.Odd, value("odd.meter")), 20
	}
	if l.By == book.Sitter {
		e.SD *= value("sitter.wider")
		e.Odd, e.Classes = math.Max(e.Odd, value("sitter.odd")), max(e.Classes, 6)
	}
	switch r.Of { // within a day the water itself swings
	case quantity.OfPH:
		e.swing = value("wander.ph_hour")
	case quantity.OfWaterTemp:
		e.swing = value("wander.temp_hour")
	case quantity.OfOxygen:
		e.swing = value("wander.oxygen_hour")
		if e.Log {
			e.swing /= math.Max((r.Lo+r.Hi)/2, 1) + e.Shift
		}
	}
	e.SD = math.Sqrt(square(e.SD) + square(e.aged) + square(e.swing))
	if r.Of == quantity.OfTDS {
		lo, hi := 1/k.TDSFactor, 1/k.TDSFactor
		if k.TDSFactor <= 0 { // the factor is not printed: it lies between the usual ones
			lo, hi = 1/0.7, 1/0.5
			e.factor = math.Log(0.7/0.5) / math.Sqrt(12)
			e.lotSD = math.Hypot(e.lotSD, e.factor)
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

// fresh is a kit as it would be in date and, but for the pH pen, whose drift goes by its own rule, just
// calibrated.
func fresh(k kit.Kit, at time.Time) kit.Kit {
	k.Opened, k.UseBy = time.Time{}, time.Time{}
	if k.Of != quantity.OfPH {
		k.Calibrated = at
	}
	return k
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
