package infer

import (
	"fmt"
	"math"
	"slices"
	"time"

	"halfwater/book"
	"halfwater/dynamics"
	"halfwater/enclosure"
	"halfwater/infer/fit"
	"halfwater/load"
	"halfwater/quantity"
	"halfwater/water"
)

// witness is a reading that was taken in, with what it says.
type witness struct {
	line book.Line
	of   quantity.Measurand
	evidence
}

// question is the book as a problem that package fit solves.
type question struct {
	fit.Problem
	witnesses []witness // by reading

	usual    dynamics.State // the enclosure as it is taken to begin
	lots     map[string]int // by name
	hours    moments
	open     []unsettled // kits of whose numbers nobody knows what they count
	tried    []unsettled // those of them that were tried on each basis
	bases    []Meant     // what was found of those
	conducts float64     // conductivity as if ions did not hinder each other, per sum of their own
}

// wandering are the quantities that may depart slowly from the model, in the order of fit's wanders.
var wandering = []quantity.Measurand{
	quantity.OfTAN, quantity.OfNO2, quantity.OfNO3, quantity.OfPH, quantity.OfGH, quantity.OfKH, quantity.OfEC, quantity.OfChloride,
}

func wanderOf(m quantity.Measurand) int {
	for i, w := range wandering {
		if w == m {
			return i
		}
	}
	return -1
}

// ask turns the book into a problem: the course from one moment to another, the priors of this
// enclosure, the doubts of its source waters, and what was read. Errors are those of dynamics.Compile.
func (w *walk) ask(lines []book.Line, waterBody string, from, to, recorded time.Time) (*question, error) {
	held := w.boxes[len(w.boxes)-1]
	window := dynamics.Window{Water: waterBody, From: from, To: to, Recorded: recorded, Held: quantity.HeldLitres(held.litres)}
	lines = withPure(lines)
	course, err := dynamics.Compile(lines, window)
	if err != nil {
		return nil, err
	}
	q := &question{Problem: fit.Problem{Course: &course, Pace: dynamics.Quick, Power: value("power")}}
	for u := range q.Priors {
		q.Priors[u] = dynamics.Unknown(u).Prior()
	}
	q.Priors[dynamics.HeldWater].SD = math.Max(held.sd, held.measured)
	q.Priors[dynamics.Load].SD = math.Max(q.Priors[dynamics.Load].SD, course.LoadSD)
	q.Priors[dynamics.Evaporation].SD = course.EvaporationSD
	until := to // of what lies ahead nothing is written yet
	if w.at.Before(to) {
		until = w.at
	}
	if load.Written(lines, waterBody, from, until) < value("load.written") {
		q.Priors[dynamics.Load].SD = math.Max(q.Priors[dynamics.Load].SD, value("load.unfed"))
	}

	first := w.firstRead(from)
	q.begin(first, slices.ContainsFunc(w.witnesses, func(r witness) bool { return r.of == quantity.OfTAN || r.of == quantity.OfNO2 }))
	if w.before != nil {
		q.inherit(w.before)
	}
	for _, k := range wandering {
		name := "depart." + string(k)
		q.Wanders = append(q.Wanders, fit.Wander{Name: string(k), Ratio: k != quantity.OfPH && k != quantity.OfKH, SD: value(name), Phi: value("depart.phi")})
	}
	q.slant(lines, window)

	w.gauge(q)
	q.lots = map[string]int{}
	for _, r := range w.witnesses {
		if r.swing > 0 && r.mean == nil {
			q.swings(r.of, r.line.At)
		}
	}
	for _, l := range w.tests {
		if _, ok := l.Body.(book.AeratedGlass); ok {
			q.swings(quantity.OfPH, l.At)
		}
	}
	q.hours.sort()
	for _, r := range w.witnesses {
		if r.line.At.Before(from) {
			continue
		}
		if see, ok := q.see(r.of); ok {
			f := q.reading(r, see)
			q.unsettle(r, f)
			q.put(r, f)
		}
	}
	q.beside(lines, w.tests)
	q.Power += (1 - q.Power) / (1 + float64(len(q.Readings))/value("power.few"))
	return q, nil
}

// see is what a kit of a measurand looks at in a state.
func (q *question) see(m quantity.Measurand) (func(*dynamics.State) float64, bool) {
	switch m {
	case quantity.OfTAN:
		return func(s *dynamics.State) float64 { return float64(s.AmmoniaAsRead()) }, true
	case quantity.OfNO2:
		return func(s *dynamics.State) float64 { return float64(s.Nitrite()) }, true
	case quantity.OfNO3:
		return func(s *dynamics.State) float64 { return float64(s.Nitrate()) }, true
	case quantity.OfPH:
		return func(s *dynamics.State) float64 { return float64(s.PH()) }, true
	case quantity.OfGH:
		return func(s *dynamics.State) float64 { return float64(s.GH()) }, true
	case quantity.OfKH:
		return func(s *dynamics.State) float64 { return float64(s.KH()) }, true
	case quantity.OfEC, quantity.OfTDS:
		return func(s *dynamics.State) float64 { return q.conducts * ownStrength(s) }, true
	case quantity.OfChloride:
		return func(s *dynamics.State) float64 { return float64(s.Chloride()) }, true
	case quantity.OfPO4:
		return func(s *dynamics.State) float64 { return float64(s.Phosphate()) }, true
	case quantity.OfOxygen:
		return func(s *dynamics.State) float64 { return float64(s.DissolvedOxygen()) }, true
	}
	return nil, false
}

// ownStrength sums the equivalent conductances of the ions at infinite dilution (Standard Methods 2510).
func ownStrength(s *dynamics.State) float64 {
	const molarN = water.MolarN
	return (119*s.Ca + 106.2*s.Mg + 50.1*s.Na + 73.5*s.K + 76.4*s.Cl + 160*s.SO4 + 44.5*s.Alk +
		(73.5*s.TAN+71.4*s.NO3+71.8*s.NO2)/molarN) / s.Volume
}

// gauge compares the sum with the full chemistry once, at the enclosure as it is taken to begin.
func (w *walk) gauge(q *question) {
	q.conducts = 1
	p := dynamics.Book()
	s := q.Start(&p, make([]float64, len(q.Starts)))
	q.usual = s
	if exact, err := s.Exact(); err == nil {
		if own := ownStrength(&s); own > 0 {
			q.conducts = strength(float64(exact.EC25())) / own
		}
	}
}

// reading is a witness of the water as fit takes it.
func (q *question) reading(w witness, see func(*dynamics.State) float64) fit.Reading {
	return q.readingOf(w, w.of, see)
}

// readingOf is a witness that a kit of a measurand gave, with all that it shares with others.
func (q *question) readingOf(w witness, m quantity.Measurand, see func(*dynamics.State) float64) fit.Reading {
	if m == quantity.OfTDS {
		m = quantity.OfEC
	}
	r := fit.Reading{
		Day: min(max(q.Course.Day(w.when()), 0), q.Course.Days), See: see, Lo: w.lo, Hi: w.hi,
		Log: w.Log, SD: w.alone(), Shift: w.Shift, Odd: w.Odd, Classes: w.Classes, Point: w.point, Wander: wanderOf(m),
	}
	lot := fit.Lot{SD: math.Sqrt(square(w.lotSD) - square(w.factor)), Tail: value("lot.tail")}
	key := w.lot
	holds := q.Course.Day(w.calibrated) + value("calibration.holds")
	switch { // a pen drifts; what it drifts is not scatter
	case m == quantity.OfPH && w.point:
		if w.mean == nil {
			r.SD = value("ph.scatter")
			if w.line.By == book.Sitter {
				r.SD *= value("sitter.wider")
			}
		}
		before := value("ph.drift") * math.Sqrt(math.Max(-holds, 0)/14) // what it has drifted before the window
		lot = fit.Lot{SD: math.Min(math.Hypot(value("lot.ph"), before), value("ph.never")), Walk: value("ph.drift"), From: holds}
		if w.calibrated.IsZero() {
			lot = fit.Lot{SD: value("ph.never")}
		}
		key += fmt.Sprint("|", w.calibrated.Unix())
	case m == quantity.OfEC && w.point && !w.calibrated.IsZero():
		lot = fit.Lot{SD: math.Sqrt(square(lot.SD) - square(w.drift)), Tail: value("lot.tail"), Walk: value("ec.drift"), From: holds}
		key += fmt.Sprint("|", w.calibrated.Unix())
	}
	r.Lot = q.lot(key, lot)
	if w.factor > 0 {
		r.Also = append(r.Also, fit.Share{Of: q.lot(key+"|factor", fit.Lot{SD: w.factor}), By: 1})
	}
	if w.aged > 0 { // it goes off with time, for all its readings alike
		old := fit.Lot{SD: w.aged, Walk: value("lot.ages") * w.aged, From: q.Course.Day(w.past), Fault: true}
		r.Also = append(r.Also, fit.Share{Of: q.lot(key+"|past its date", old), By: 1})
	}
	if w.swing > 0 {
		if name, many := q.hours.together(m, w.line.At); many && w.mean == nil {
			r.Also = append(r.Also, fit.Share{Of: q.lot(name, fit.Lot{SD: w.swing}), By: 1})
		} else {
			r.SD = math.Hypot(r.SD, w.swing)
		}
	}
	return r
}

// slant finds what the doubt about each source water does, by compiling the book again with it moved.
func (q *question) slant(lines []book.Line, window dynamics.Window) {
	names := []string{}
	latest := map[string]enclosure.SourceWater{}
	for _, l := range lines {
		if s, ok := l.Body.(enclosure.SourceWater); ok {
			if _, have := latest[s.Name]; !have {
				names = append(names, s.Name)
			}
			latest[s.Name] = s
		}
	}
	for _, name := range names {
		for _, d := range doubtsOf(latest[name]) {
			moved := make([]book.Line, len(lines))
			copy(moved, lines)
			for i, l := range moved {
				if s, ok := l.Body.(enclosure.SourceWater); ok && s.Name == name {
					d.move(&s.Analysis)
					moved[i].Body = s
				}
			}
			c, err := dynamics.Compile(moved, window)
			if err != nil || len(c.Events) != len(q.Course.Events) {
				continue // moved it cannot be: then it is not in doubt that way
			}
			s := fit.Slant{Name: name + ": " + d.name}
			any := false
			for i := range c.Events {
				delta := fit.Less(c.Events[i].Pour, q.Course.Events[i].Pour)
				any = any || delta != dynamics.Water{}
				s.Pour = append(s.Pour, delta)
			}
			if any {
				q.Slants = append(q.Slants, s)
			}
		}
	}
}

// withPure writes down what a membrane usually lets through where nobody measured it.
func withPure(lines []book.Line) []book.Line {
	out := append([]book.Line(nil), lines...)
	for i, l := range out {
		s, ok := l.Body.(enclosure.SourceWater)
		if !ok {
			continue
		}
		b := brewOf(s)
		if !b.pure() {
			continue
		}
		a := &s.Analysis
		if !a.GH.Is && !a.Ca.Is {
			a.GH = water.Stated(quantity.Hardness(b.mean[gh]))
		}
		if !a.KH.Is {
			a.KH = water.Stated(quantity.Alkalinity(b.mean[kh]))
		}
		if !a.EC.Is {
			a.EC = water.Stated(quantity.Conductivity(conducted(b.mean[ions])))
		}
		out[i].Body = s
	}
	return out
}

// sourceDoubt is one way in which an analysis may be off, by one standard deviation.
type sourceDoubt struct {
	name string
	move func(*water.Analysis)
}

// doubtsOf are the doubts of an analysis: all of it together, then one number beside the others.
func doubtsOf(s enclosure.SourceWater) []sourceDoubt {
	b := brewOf(s)
	own := value("source.own")
	if b.pure() { // what a membrane lets through
		return []sourceDoubt{{"all", func(a *water.Analysis) {
			a.GH = water.Stated(quantity.Hardness(b.mean[gh] * (1 + b.share)))
			a.KH = water.Stated(quantity.Alkalinity(b.mean[kh] * (1 + b.share)))
			a.EC = water.Stated(quantity.Conductivity(conducted(b.mean[ions]) * (1 + b.share)))
		}}}
	}
	return []sourceDoubt{
		{"all", func(a *water.Analysis) {
			by := 1 + b.share
			scale(&a.GH, by)
			scale(&a.KH, by)
			scale(&a.EC, by)
			scale(&a.Ca, by)
			scale(&a.Mg, by)
			scale(&a.Na, by)
			scale(&a.K, by)
			scale(&a.Cl, by)
			scale(&a.SO4, by)
		}},
		{"hardness", func(a *water.Analysis) {
			scale(&a.GH, 1+math.Hypot(own, 0.1/math.Max(b.mean[gh], 0.1)))
			scale(&a.Ca, 1+own)
			scale(&a.Mg, 1+own)
		}},
		{"alkalinity", func(a *water.Analysis) { scale(&a.KH, 1+math.Hypot(own, 0.1/math.Max(b.mean[kh], 0.1))) }},
		{"conductivity", func(a *water.Analysis) {
			scale(&a.EC, 1+own)
			scale(&a.Cl, 1+own)
			scale(&a.Na, 1+own)
		}},
		{"nitrate", func(a *water.Analysis) {
			a.NO3 = water.Stated(quantity.Nitrate(b.mean[nitrate] + b.own[nitrate]))
		}},
	}
}

func scale[Q quantity.Number](x *water.Known[Q], by float64) {
	if x.Is {
		x.Value = Q(float64(x.Value) * by)
	}
}
