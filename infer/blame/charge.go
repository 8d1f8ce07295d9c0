package blame

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
	for i := range q.Witnesses {
		r, w := &q.Readings[i], &q.Witnesses[i]
		k, known := kits.at(*w)
		of := w.Reads
		odds := math.Max(r.Odd, value("reading"))
		out = append(out, charge{code: ByReading, name: string(w.Line.ID), prior: odds / (1 - odds), lines: []int{i}, odd: true})
		if !known || k.Form == kit.Meter || k.Form == kit.Card {
			out = append(out, slips(i, r, of)...)
		}
		name := w.Kit + "|" + string(of)
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
		w := q.Witnesses[its[0]]
		k, _ := kits.at(w)
		for _, m := range mixups(q, its, k) {
			m.lines, m.kit = its, w.Kit
			out = append(out, m)
			for _, lot := range lotsOf(q, its) { // who read the leaflet of one lot has read those of others
				m.lines = lot
				m.prior *= value("one_lot")
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
func lotsOf(q *Question, its []int) [][]int {
	var out [][]int
	at := map[string]int{}
	for _, i := range its {
		lot := q.Witnesses[i].Lot
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
			out = append(out, charge{code: ByDecimal, name: fmt.Sprintf("%g", times), prior: value("decimal"), lines: []int{i}, times: times})
		}
	}
	return out
}

// mixups are the other units, bases and factors by which a kit's numbers may have been meant.
func mixups(q *Question, its []int, k kit.Kit) []charge {
	var r book.Reading
	for _, i := range its {
		if b, ok := q.Witnesses[i].Line.Body.(book.Reading); ok {
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
		add(strings.TrimPrefix(string(b), "as "), stated/r.Of.InUnit(1, r.Unit, b), value("basis"))
	}
	if len(r.Of.Bases()) == 0 && r.Of != quantity.OfPH {
		for _, u := range r.Of.Units() {
			add(u, stated/r.Of.InUnit(1, u, r.Basis), value("unit"))
		}
	}
	if r.Of == quantity.OfTDS {
		for _, f := range []float64{0.5, 0.64, 0.7} {
			add(fmt.Sprintf("%g", f), k.Factor()/f, value("factor"))
		}
	}
	if k.Form == kit.Drops {
		for _, times := range []float64{0.5, 2} { // twice the sample, or half of it
			add(fmt.Sprintf("%g %s a drop", times*k.PerDrop, k.Unit), times, value("sample"))
		}
	}
	return out
}

// mostTurns is how many readings of a lot are tried as the first that is off.
const mostTurns = 24

// lotsOff is a lot or pen that is off far beyond what is usual: from its first reading, or from a later one on.
func (court *court) lotsOff(its []int) []charge {
	q, kits := court.q, court.kits
	w := q.Witnesses[its[0]]
	k, _ := kits.at(w)
	c := charge{code: ByLot, name: w.Kit, kit: w.Kit, sd: value("lot")}
	whole, later := value("lot_odds"), value("lot_later")
	switch {
	case k.Form == kit.Meter:
		c.code, c.sd = ByPen, value("pen")
		whole, later = value("pen_odds"), value("pen_later")
		if notedAny(q, its, kits, kit.NeverCalibrated, kit.CalibrationOld) {
			whole, later = value("pen_stale"), value("pen_stale")
		}
	case notedAny(q, its, kits, kit.OutOfDate):
		whole, later = value("lot_old"), value("lot_old")
	}
	if w.Reads == quantity.OfPH {
		c.sd = value("ph")
		if k.Form == kit.Strip && soft(q, court.scales.seen) {
			whole = value("strip_soft")
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
func soft(q *Question, seen []float64) bool {
	sum, n := 0.0, 0.0
	for i, w := range q.Witnesses {
		if w.Of == quantity.OfKH {
			sum, n = sum+seen[i], n+1
		}
	}
	return n > 0 && sum/n < value("soft")
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
func (s shelf) at(w Witness) (found kit.Kit, ok bool) {
	name := w.Kit
	for _, l := range s {
		if k := l.Body.(kit.Kit); k.Name == name && k.Of == w.Reads && (!ok || !l.At.After(w.Line.At)) {
			found, ok = k, true
		}
	}
	return found, ok
}

// notedAny reports whether any of some readings carries one of the remarks.
func notedAny(q *Question, its []int, kits shelf, notes ...kit.Note) bool {
	for _, i := range its {
		w := q.Witnesses[i]
		k, ok := kits.at(w)
		r, is := w.Line.Body.(book.Reading)
		if !ok || !is {
			continue
		}
		if iv, err := k.Read(r.Shown, w.Line.At); err == nil && slices.ContainsFunc(notes, iv.Noted) {
			return true
		}
	}
	return false
}
