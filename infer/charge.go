package infer

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"halfwater/book"
	"halfwater/infer/fit"
	"halfwater/kit"
	"halfwater/quantity"
)

// The codes of culprits; the sentences stand in internal/say.
const (
	ByChance  = "infer.culprit-chance"  // nothing is wrong: kits miss so far now and then
	ByReading = "infer.culprit-reading" // one reading: misread, not shaken, miscounted
	ByDecimal = "infer.culprit-decimal" // a slip of the decimal point; Name: times how much it was meant
	ByUnit    = "infer.culprit-unit"    // another unit, basis or factor; Name: the one that was meant
	ByLot     = "infer.culprit-lot"     // a lot or bottle; Name: of the kit
	ByPen     = "infer.culprit-pen"     // a pen or meter; Name: of the kit
	ByLog     = "infer.culprit-log"     // the book: something not written down, or litres; Name: "change", "top-up", "dose", or the line
	ByWater   = "infer.culprit-water"   // the water really did it; Name: the line that may have brought it about, or ""
)

// charge is one way in which the book may have come to hold what does not fit.
type charge struct {
	code, name string
	kit        string
	prior      float64 // odds beforehand, against that nothing is wrong
	lines      []int   // the readings that it is about

	odd   bool      // they say nothing
	times float64   // what they show stands for so many times as much; 0: once
	loads []float64 // by line: its part in a bias that they share
	sd    float64   // of that bias
	shift []float64 // by reading of the question: how far other water moves what its kit sees
}

// allege gives the charges against readings, units, lots and pens.
func (c *court) allege() []charge {
	q, kits := c.q, c.kits
	var out []charge
	byLot := map[int][]int{}
	byKit := map[string][]int{}
	var order []string
	for i := range q.witnesses {
		r, w := &q.Readings[i], &q.witnesses[i]
		k, known := kits.at(*w)
		of := kindOf(*w)
		odds := math.Max(r.Odd, value("odd.meter"))
		out = append(out, charge{code: ByReading, name: string(w.line.ID), prior: odds / (1 - odds), lines: []int{i}, odd: true})
		if !known || k.Form == kit.Meter || k.Form == kit.Card {
			out = append(out, slips(i, r, of)...)
		}
		name := kitOf(*w) + "|" + string(of)
		if _, have := byKit[name]; !have {
			order = append(order, name)
		}
		byKit[name] = append(byKit[name], i)
		if r.Lot >= 0 {
			byLot[r.Lot] = append(byLot[r.Lot], i)
		}
	}
	for _, name := range order {
		its := byKit[name]
		w := q.witnesses[its[0]]
		k, _ := kits.at(w)
		for _, m := range mixups(q, its, k) {
			m.lines, m.kit = its, kitOf(w)
			out = append(out, m)
			for _, lot := range lotsOf(q, its) { // who read the leaflet of one lot has read those of others
				m.lines = lot
				m.prior *= value("blame.one_lot")
				out = append(out, m)
			}
		}
	}
	for l := range q.Lots {
		if its := byLot[l]; len(its) > 0 {
			out = append(out, c.lotsOff(its)...)
		}
	}
	return out
}

// lotsOf are the readings of a kit by lot, when it had several.
func lotsOf(q *question, its []int) [][]int {
	var out [][]int
	at := map[string]int{}
	for _, i := range its {
		lot := q.witnesses[i].lot
		k, have := at[lot]
		if !have {
			k = len(out)
			at[lot] = k
			out = append(out, nil)
		}
		out[k] = append(out[k], i)
	}
	if len(out) == 1 {
		return nil
	}
	return out
}

// slips are the decimal points that may stand in the wrong place.
func slips(i int, r *fit.Reading, of quantity.Measurand) []charge {
	var out []charge
	if of == quantity.OfPH {
		return nil
	}
	for _, times := range []float64{10, 0.1} {
		if r.Lo*times < of.Span().Hi {
			out = append(out, charge{code: ByDecimal, name: fmt.Sprintf("%g", times), prior: value("blame.decimal"), lines: []int{i}, times: times})
		}
	}
	return out
}

// mixups are the other units, bases and factors by which a kit's numbers may have been meant.
func mixups(q *question, its []int, k kit.Kit) []charge {
	var r book.Reading
	for _, i := range its {
		if b, ok := q.witnesses[i].line.Body.(book.Reading); ok {
			r = b
			break
		}
	}
	if r.Of == "" || r.Basis == quantity.NotStated {
		return nil
	}
	var out []charge
	add := func(name string, times, prior float64) {
		if bad(times) || times < 1./50 || times > 50 || math.Abs(math.Log(times)) < 0.05 {
			return
		}
		if slices.ContainsFunc(out, func(c charge) bool { return math.Abs(c.times/times-1) < 1e-6 }) {
			return
		}
		out = append(out, charge{code: ByUnit, name: name, prior: prior, times: times})
	}
	stated := r.Of.InUnit(1, r.Unit, r.Basis)
	for _, b := range r.Of.Bases() {
		add(strings.TrimPrefix(string(b), "as "), stated/r.Of.InUnit(1, r.Unit, b), value("blame.basis"))
	}
	if len(r.Of.Bases()) == 0 && r.Of != quantity.OfPH {
		for _, u := range r.Of.Units() {
			add(u, stated/r.Of.InUnit(1, u, r.Basis), value("blame.unit"))
		}
	}
	if r.Of == quantity.OfTDS {
		for _, f := range []float64{0.5, 0.64, 0.7} {
			add(fmt.Sprintf("%g", f), tdsFactor(k)/f, value("blame.factor"))
		}
	}
	if k.Form == kit.Drops {
		for _, times := range []float64{0.5, 2} { // twice the sample, or half of it
			add(fmt.Sprintf("%g %s a drop", times*k.PerDrop, k.Unit), times, value("blame.sample"))
		}
	}
	return out
}

// mostTurns is how many readings of a lot are tried as the first that is off.
const mostTurns = 24

// lotsOff is a lot or pen that is off far beyond what is usual: from its first reading, or from a later one on.
func (court *court) lotsOff(its []int) []charge {
	q, kits := court.q, court.kits
	w := q.witnesses[its[0]]
	k, _ := kits.at(w)
	c := charge{code: ByLot, name: kitOf(w), kit: kitOf(w), sd: value("blame.lot")}
	whole, later := value("blame.lot_odds"), value("blame.lot_later")
	switch {
	case k.Form == kit.Meter:
		c.code, c.sd = ByPen, value("blame.pen")
		whole, later = value("blame.pen_odds"), value("blame.pen_later")
		if notedAny(q, its, kits, kit.NeverCalibrated, kit.CalibrationOld) {
			whole, later = value("blame.pen_stale"), value("blame.pen_stale")
		}
	case notedAny(q, its, kits, kit.OutOfDate):
		whole, later = value("blame.lot_old"), value("blame.lot_old")
	}
	if kindOf(w) == quantity.OfPH {
		c.sd = value("blame.ph")
		if k.Form == kit.Strip && soft(q, court.scales.seen) {
			whole = value("blame.strip_soft")
		}
	}
	step := max((len(its)+mostTurns-1)/mostTurns, 1)
	turns := (len(its) - 1 + step - 1) / step
	var out []charge
	for from := 0; from < len(its); from += step {
		off := c
		off.prior = whole
		if from > 0 {
			off.prior = later / float64(turns)
		}
		off.lines = its[from:]
		for _, i := range off.lines {
			off.loads = append(off.loads, court.part(i))
		}
		out = append(out, off)
	}
	return out
}

// soft reports whether the water is so soft that strips of pH cannot be relied on.
func soft(q *question, seen []float64) bool {
	sum, n := 0.0, 0.0
	for i, w := range q.witnesses {
		if w.of == quantity.OfKH {
			sum, n = sum+seen[i], n+1
		}
	}
	return n > 0 && sum/n < value("blame.soft")
}

// shelf is the kits of the book, each from its date.
type shelf []book.Line

func shelfOf(lines []book.Line) shelf {
	var out shelf
	for _, l := range lines {
		if _, ok := l.Body.(kit.Kit); ok {
			out = append(out, l)
		}
	}
	return out
}

// at is the kit that a reading was made with; false when it was made without one.
func (s shelf) at(w witness) (found kit.Kit, ok bool) {
	name := kitOf(w)
	for _, l := range s {
		if k := l.Body.(kit.Kit); k.Name == name && k.Of == kindOf(w) && (!ok || !l.At.After(w.line.At)) {
			found, ok = k, true
		}
	}
	return found, ok
}

func kitOf(w witness) string { return kitOfLot(w.lot) }

// kindOf is what the kit of a witness reads, be it in the enclosure or in a sample that is known.
func kindOf(w witness) quantity.Measurand {
	parts := strings.Split(w.lot, "|")
	return quantity.Measurand(parts[min(1, len(parts)-1)])
}

// notedAny reports whether any of some readings carries one of the remarks.
func notedAny(q *question, its []int, kits shelf, notes ...kit.Note) bool {
	for _, i := range its {
		w := q.witnesses[i]
		k, ok := kits.at(w)
		r, is := w.line.Body.(book.Reading)
		if !ok || !is {
			continue
		}
		if iv, err := k.Read(r.Shown, w.line.At); err == nil && slices.ContainsFunc(notes, iv.Noted) {
			return true
		}
	}
	return false
}
