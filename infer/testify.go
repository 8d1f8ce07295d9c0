package infer

import (
	"math"
	"slices"
	"time"

	"halfwater/book"
	"halfwater/kit"
	"halfwater/quantity"
)

// manyReadings is how many readings of one measurand are named as evidence.
const manyReadings = 8

// testify says what the belief rests on, and what it refuses to say.
func (w *walk) testify(b *Belief, lines []book.Line) {
	read := map[quantity.Measurand]*Evidence{}
	var tds book.ID
	ghRead := false
	for i := len(lines) - 1; i >= 0; i-- {
		l := lines[i]
		r, ok := l.Body.(book.Reading)
		if !ok || l.At.Before(w.from) {
			continue
		}
		m := r.Of
		if m == quantity.OfTDS {
			m = quantity.OfEC
		}
		if m == quantity.OfEC && tds == "" {
			tds = l.ID
		}
		ghRead = ghRead || m == quantity.OfGH
		e := read[m]
		if e == nil {
			e = &Evidence{Last: l.At, Carried: carried(lines, l.At), Floor: w.floorOf(r), ByReadings: math.NaN()}
			read[m] = e
		}
		if len(e.Readings) < manyReadings {
			e.Readings = append(e.Readings, l.ID)
		}
	}
	for m, e := range read {
		_, slot := slotOf(m)
		if slot || m == quantity.OfTAN || m == quantity.OfNO2 {
			b.Evidence[m] = *e
		}
	}
	for slot := range levels {
		m := measurandOf[slot]
		if _, ok := b.Evidence[m]; !ok && w.known[slot] {
			b.Evidence[m] = Evidence{Carried: carried(lines, time.Time{}), ByReadings: math.NaN()}
		}
	}
	for _, m := range []quantity.Measurand{quantity.OfTAN, quantity.OfNO2} {
		if _, ok := b.Evidence[m]; !ok {
			b.Evidence[m] = Evidence{ByReadings: math.NaN()}
		}
	}
	for of, p := range map[quantity.Measurand]*pool{quantity.OfTAN: &w.tan, quantity.OfNO2: &w.no2} {
		b.alarm(of, p.alarming || p.met && p.band().Median > value("alarm.much")) // of which the first look cannot tell how it goes on
	}
	_, w.phRead = read[quantity.OfPH]
	if !ghRead && tds != "" {
		b.Refused = append(b.Refused, Refusal{Of: quantity.OfGH, Code: "infer.gh-from-tds", Line: tds})
	}
}

// carried are the kinds of line since a moment that moved the value.
func carried(lines []book.Line, since time.Time) []string {
	var out []string
	for _, l := range lines {
		if !l.At.After(since) {
			continue
		}
		switch l.Body.(type) {
		case book.Change, book.TopUp, book.Feed, book.Dose, book.TakenOut:
			if k := l.Body.Kind(); !slices.Contains(out, k) {
				out = append(out, k)
			}
		}
	}
	return out
}

// floorOf is what the lowest class of a colour kit reaches up to: under it the kit says nothing.
func (w *walk) floorOf(r book.Reading) float64 {
	if k, ok := w.facts.Kit(r.Kit); ok && k.Of == r.Of && (k.Form == kit.Card || k.Form == kit.Strip) && len(k.Steps) > 1 && k.Steps[0] == 0 {
		if iv, err := k.Read("0", time.Time{}); err == nil {
			return iv.Hi
		}
	}
	if r.Lo <= r.Of.Span().Lo && r.Hi > r.Lo && (r.Of == quantity.OfTAN || r.Of == quantity.OfNO2 || r.Of == quantity.OfNO3) {
		return r.Hi
	}
	return 0
}
