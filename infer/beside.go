package infer

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"time"

	"halfwater/book"
	"halfwater/dynamics"
	"halfwater/enclosure"
	"halfwater/infer/fit"
	"halfwater/kit"
	"halfwater/quantity"
)

// beside takes in tests of other waters: glasses that were aired, stones in jars, source waters, standards and
// blanks, with the kits and analyses that were in force. One from before the course says nothing that the kits of
// today would still carry.
func (q *question) beside(lines, tests []book.Line) {
	if len(tests) == 0 {
		return
	}
	all := slices.Concat(lines, tests)
	book.Sort(all)
	var facts enclosure.Facts
	for _, l := range all {
		if f, ok := l.Body.(enclosure.Fact); ok {
			facts = facts.With(f)
			continue
		}
		if day := q.Course.Day(l.At); day < 0 || day > q.Course.Days {
			continue
		}
		switch b := l.Body.(type) {
		case book.AeratedGlass:
			q.glass(facts, l, b)
		case book.StoneJar:
			q.jar(l, b)
		case book.KnownSample:
			q.sample(facts, l, b)
		case book.Reading:
			if s, ok := sourceAt(facts, b.Place); ok {
				q.sourceRead(facts, l, b, s)
			}
		}
	}
}

func sourceAt(facts enclosure.Facts, name string) (enclosure.SourceWater, bool) {
	for _, s := range facts.Sources {
		if s.Name == name {
			return s, true
		}
	}
	return enclosure.SourceWater{}, false
}

// put takes in evidence.
func (q *question) put(w witness, r fit.Reading) {
	r.Name = fmt.Sprint(w.line.ID, "|", w.of)
	q.Readings = append(q.Readings, r)
	q.witnesses = append(q.witnesses, w)
}

// glass takes in a glass of the water that air has run through. Before it is a reading like others; afterwards
// the same pen reads the same water at the CO2 of the room, as far as it has come there: what the pen is off
// falls out of the difference, and the water's CO2 is left.
func (q *question) glass(facts enclosure.Facts, l book.Line, g book.AeratedGlass) {
	read := func(x quantity.PH) book.Reading {
		r := book.Reading{Of: quantity.OfPH, Kit: g.Kit, Unit: "pH", Shown: strconv.FormatFloat(float64(x), 'f', -1, 64), Lo: float64(x) - 0.1, Hi: float64(x) + 0.1}
		if k, ok := facts.Kit(g.Kit); ok && k.Of == r.Of {
			if iv, err := k.Read(r.Shown, l.At); err == nil {
				r.Lo, r.Hi = iv.Lo, iv.Hi
			}
		}
		return r
	}
	see, _ := q.see(quantity.OfPH)
	before, ok := evidenceOf(facts, l, read(g.Before))
	if !ok {
		return
	}
	w := witness{l, quantity.OfPH, before}
	q.put(w, q.reading(w, see))

	after, ok := evidenceOf(facts, l, read(g.After))
	if !ok {
		return
	}
	after.SD = math.Sqrt(square(after.SD) - square(after.swing))
	after.swing = 0
	w = witness{l, "", after}
	room, roomSD := dynamics.RoomCO2()
	air := g.Hours / value("glass.air")
	left := math.Exp(-air) // of the distance from the water's CO2 to the room's, on the logarithm
	at := func(s *dynamics.State, room float64) float64 {
		return float64(s.PHAt(quantity.Atm(math.Pow(s.PCO2, left) * math.Pow(room, 1-left))))
	}
	r := q.readingOf(w, quantity.OfPH, func(s *dynamics.State) float64 { return at(s, float64(room)) })
	const small = 0.1
	slope := (at(&q.usual, float64(room)*math.Exp(small)) - at(&q.usual, float64(room)*math.Exp(-small))) / (2 * small)
	r.Also = append(r.Also, fit.Share{Of: q.lot("room co2", fit.Lot{SD: roomSD}), By: slope})
	// How fast air brings it there is in doubt: that moves left by left*air for each unit of its logarithm.
	perLn := 0.43 // of pH
	r.SD = math.Hypot(r.SD, perLn*value("glass.usual_ln")*left*air*value("glass.air_ln"))
	r.Wander = -1
	q.put(w, r)
}

// jar takes in a stone that lay in a jar. What it gave there is one stone's in soft water: the enclosure's is
// a few times that, more or less, and has other sources and sinks beside. It tells the sign and the size, not
// the number.
func (q *question) jar(l book.Line, j book.StoneJar) {
	var meq, sd float64 // per litre of the jar
	gained := j.After - j.Before
	drop := math.Sqrt2 * math.Hypot(kit.ErrorWithout(quantity.OfKH).SD, 1/math.Sqrt(12))
	switch j.Of {
	case quantity.OfKH:
		meq, sd = gained/2.804, drop/2.804
	case quantity.OfGH:
		meq, sd = 2*gained/5.608, 2*drop/5.608
	case quantity.OfEC:
		per := value("ec.per_gh") * 5.608 / 2 // uS/cm for one meq/L of calcium with bicarbonate
		meq, sd = gained/per, value("jar.ec")/per
	default:
		return
	}
	like := value("jar.like") * float64(j.Litres) / j.Days / (q.Course.Held * q.Priors[dynamics.HeldWater].Median)
	rate := meq * like
	r := fit.Reading{
		Day: q.Course.Day(l.At), Lo: rate, Hi: rate, Point: true, Odd: value("jar.odd"), Classes: 20, Lot: -1, Wander: -1,
		See: func(*dynamics.State) float64 { return 0 },
		Own: func(p *dynamics.Params, _ *dynamics.State) float64 { return p[dynamics.Stone] },
		SD:  math.Sqrt(square(value("jar.beside")) + square(rate*value("jar.wide")) + square(sd*like)),
	}
	q.put(witness{line: l}, r)
}

// sample takes in a standard or a blank: what the kit showed of a known content is its lot's bias.
func (q *question) sample(facts enclosure.Facts, l book.Line, s book.KnownSample) {
	k, ok := facts.Kit(s.Kit)
	if !ok || k.Of != s.Of {
		return
	}
	iv, err := k.Read(s.Shown, l.At)
	if err != nil {
		return
	}
	holds, within := s.Value, s.Within
	q.known(facts, l, book.Reading{Of: s.Of, Kit: s.Kit, Shown: s.Shown, Unit: k.Unit, Basis: k.Basis, Lo: iv.Lo, Hi: iv.Hi}, holds, within)
}

// known takes in a reading of a water whose content is known, within a standard deviation.
func (q *question) known(facts enclosure.Facts, l book.Line, r book.Reading, holds, within float64) (reading int, ok bool) {
	e, ok := evidenceOf(facts, l, r)
	if !ok || r.Basis == quantity.NotStated {
		return 0, false
	}
	of := r.Of
	if of == quantity.OfEC {
		within *= strength(holds+1) - strength(holds)
		holds = strength(holds)
	} else if of == quantity.OfTDS {
		return 0, false
	}
	if e.Log {
		if !(holds+e.Shift > 0) { // of nothing a share is nothing: a kit that errs by shares is not told by a blank
			return 0, false
		}
		within /= holds + e.Shift
	}
	e.SD = math.Sqrt(square(e.SD) - square(e.swing))
	e.swing = 0
	w := witness{l, "", e}
	f := q.readingOf(w, of, func(*dynamics.State) float64 { return holds })
	f.SD = math.Hypot(f.SD, within)
	f.Wander = -1
	q.put(w, f)
	return len(q.Readings) - 1, true
}

// sourceRead takes in a reading of a source water: it tells of the kit as far as the analysis is sure, and of
// what was poured as far as the kit is.
func (q *question) sourceRead(facts enclosure.Facts, l book.Line, r book.Reading, s enclosure.SourceWater) {
	b := brewOf(s)
	slot, is := slotOf(r.Of)
	var holds, own float64
	var doubt string
	switch {
	case r.Of == quantity.OfTAN && (s.Analysis.TAN.Is || b.pure()):
		holds, own = b.tan, math.Max(0.1*b.tan, value("source.trace"))
	case r.Of == quantity.OfNO2 && (s.Analysis.NO2.Is || b.pure()):
		holds, own = b.no2, math.Max(0.1*b.no2, value("source.trace"))
	case is && slot <= chloride && b.has[slot]:
		holds, own = b.mean[slot], b.own[slot]
		doubt = map[int]string{gh: "hardness", kh: "alkalinity", ions: "conductivity", nitrate: "nitrate"}[slot]
	default:
		return
	}
	within := value("wander.source") * holds
	all, alone := q.slanted(s.Name+": all"), -1
	if doubt != "" {
		alone = q.slanted(s.Name + ": " + doubt)
	}
	if alone < 0 {
		within = math.Hypot(within, own)
	}
	share := b.share * holds
	if r.Of == quantity.OfTAN || r.Of == quantity.OfNO2 || r.Of == quantity.OfNO3 {
		share = 0 // the doubt of all ions together leaves nitrogen out
	}
	if all < 0 {
		within = math.Hypot(within, share)
	}
	asKit := holds
	if slot == ions && is {
		holds, within = conducted(holds), within*conducted(holds+1e-9)/(holds+1e-9)
	}
	i, ok := q.known(facts, l, r, holds, within)
	if !ok {
		return
	}
	f := &q.Readings[i]
	by := func(x float64) float64 {
		if f.Log {
			return x / math.Max(asKit+f.Shift, 1e-9)
		}
		return x
	}
	if all >= 0 && share > 0 {
		f.Slanted = append(f.Slanted, fit.Share{Of: all, By: by(share)})
	}
	if alone >= 0 {
		f.Slanted = append(f.Slanted, fit.Share{Of: alone, By: by(own)})
	}
}

// slanted is the doubt of that name; -1 where the water was never poured.
func (q *question) slanted(name string) int {
	return slices.IndexFunc(q.Slants, func(s fit.Slant) bool { return s.Name == name })
}

// lot is the bias of that name, made when it is first asked for.
func (q *question) lot(name string, l fit.Lot) int {
	i, ok := q.lots[name]
	if !ok {
		i = len(q.Lots)
		q.lots[name] = i
		l.Name = name
		q.Lots = append(q.Lots, l)
	}
	return i
}

// moments are the times at which a measurand that swings within the day was read, in order.
type moments map[quantity.Measurand][]time.Time

// swings notes the readings whose swing may be one.
func (q *question) swings(of quantity.Measurand, at time.Time) {
	if q.hours == nil {
		q.hours = moments{}
	}
	q.hours[of] = append(q.hours[of], at)
}

func (h moments) sort() {
	for _, times := range h {
		slices.SortFunc(times, time.Time.Compare)
	}
}

// together names the hours in which a reading stands with others; false when it stands alone.
func (h moments) together(of quantity.Measurand, at time.Time) (string, bool) {
	within := time.Duration(value("swing.hours") * float64(time.Hour))
	var first time.Time
	n, mine := 0, false
	for _, t := range h[of] {
		if n == 0 || t.Sub(first) > within {
			if mine {
				break
			}
			first, n = t, 0
		}
		n++
		mine = mine || t.Equal(at)
	}
	return fmt.Sprint("swing|", of, "|", first.Unix()), mine && n > 1
}
