package infer

import (
	"math"
	"time"

	"halfwater/book"
	"halfwater/enclosure"
	"halfwater/load"
	"halfwater/quantity"
)

// draws is how many equally likely waters a belief holds.
const draws = 500

// window is how far back from the last reading lines are read; older readings say nothing that later
// ones do not. Facts hold however old they are.
const window = 39 * 7 * 24 * time.Hour

// NoMoment is a window without a moment of the belief.
type NoMoment struct{}

func (NoMoment) Error() string {
	return "a belief needs the moment that it is for; give the window's At"
}

// Believe computes the belief of one water body at one moment from the lines of its book that were
// recorded by a moment. It is a pure function of the window. Lines may come in any order. Nothing
// read and nothing known gives NaN and no evidence; sources and stock without readings give wide
// bands. Error: [NoMoment].
func Believe(w Window) (Belief, error) {
	if w.At.IsZero() {
		return Belief{}, NoMoment{}
	}
	if w.Recorded.IsZero() {
		w.Recorded = w.At
	}
	if w.Water == "" {
		w.Water = book.MainWater
	}
	lines := ofWater(book.Standing(w.Lines, w.Recorded), w.Water, w.At)
	lines = withoutReadings(lines, book.SetAsides(lines, w.Recorded))

	v := begin(lines, w.Water, w.At)
	b := Belief{Water: w.Water, At: w.At, Evidence: map[quantity.Measurand]Evidence{}}
	for _, l := range lines {
		switch body := l.Body.(type) {
		case enclosure.Fact:
			v.accept(body, l.At)
		case book.Reading:
			if l.At.Before(v.from) {
				continue
			}
			if d, far := v.read(l, body); far {
				b.Doubtful = append(b.Doubtful, d)
			}
		default:
			if !l.At.Before(v.from) {
				v.happen(l)
			}
		}
	}
	v.elapse(w.At)
	v.warm(w.At)
	v.tan.elapse(w.At)
	v.no2.elapse(w.At)
	v.testify(&b, lines)
	v.draw(&b, w.Seed)
	return b, nil
}

// ofWater keeps the lines of a water body up to a moment.
func ofWater(lines []book.Line, waterBody string, at time.Time) []book.Line {
	out := lines[:0:0]
	for _, l := range lines {
		if !l.At.After(at) && (l.Water == waterBody || l.Water == "") {
			out = append(out, l)
		}
	}
	return out
}

// withoutReadings drops the readings that say nothing (more) of the water in the enclosure: those set
// aside, those of something else, a glass or a source water, and of a probe all but one in some hours,
// as the next minute's number is no new evidence.
func withoutReadings(lines []book.Line, aside map[book.ID]book.SetAside) []book.Line {
	elsewhere := map[string]bool{"glass": true, "jar": true, "bucket": true, "mix": true}
	for _, l := range lines {
		if s, ok := l.Body.(enclosure.SourceWater); ok {
			elsewhere[s.Name] = true
		}
	}
	probed := map[quantity.Measurand]time.Time{}
	out := lines[:0:0]
	for _, l := range lines {
		if r, ok := l.Body.(book.Reading); ok {
			if _, doubted := aside[l.ID]; doubted || elsewhere[r.Place] {
				continue
			}
			if l.By == book.Probe {
				if last, ok := probed[r.Of]; ok && l.At.Sub(last) < probeEvery {
					continue
				}
				probed[r.Of] = l.At
			}
		}
		out = append(out, l)
	}
	return out
}

const probeEvery = 6 * time.Hour

// begin puts down what is believed before the first line of the window.
func begin(lines []book.Line, waterBody string, at time.Time) *walk {
	w := &walk{brews: map[string]brew{}, doubts: map[string]doubt{}, kits: map[string]int{}}
	w.from = lastReading(lines, at).Add(-window)
	w.at = at
	all := enclosure.Facts{}
	every := map[string]brew{}
	for _, l := range lines {
		if fact, ok := l.Body.(enclosure.Fact); ok {
			all = all.With(fact)
			if s, ok := fact.(enclosure.SourceWater); ok {
				every[s.Name] = brewOf(s)
			}
		}
		if l.At.Before(w.from) {
			continue
		}
		if l.At.Before(w.at) {
			w.at = l.At
		}
		switch b := l.Body.(type) {
		case book.TopUp:
			w.topped = true
		case book.Reading:
			if slot, ok := slotOf(b.Of); ok {
				w.known[slot] = true
			}
		}
	}
	if w.at.Before(w.from) {
		w.at = w.from
	}
	w.start, w.warmAt = w.at, w.at
	w.boxes = boxes(lines, at)
	w.box = w.boxes[0]
	w.feed = load.CourseOf(lines, waterBody, at)
	w.ref = float64(w.feed.Between(at.AddDate(0, 0, -7), at)) / 7

	w.expectLevels(every)
	w.expectRates(all, lines, at)
	w.g.put(held, 0, w.boxes[len(w.boxes)-1].sd)
	for i := range manyDoubts {
		w.g.put(sources+i, 0, 0)
	}
	w.tan.begin(w.at)
	w.no2.begin(w.at)
	return w
}

// lastReading is when the water was last read; the moment itself when it never was.
func lastReading(lines []book.Line, at time.Time) time.Time {
	for i := len(lines) - 1; i >= 0; i-- {
		if _, ok := lines[i].Body.(book.Reading); ok {
			return lines[i].At
		}
	}
	return at
}

// expectLevels is the belief before any reading: somewhere about the source waters.
func (w *walk) expectLevels(every map[string]brew) {
	g := &w.g
	u := unknownBrew(every)
	wide := [levels]struct{ mean, sd, more float64 }{
		nitrate: {6, 10, 8}, kh: {5, 5, 3}, gh: {8, 6, 4}, ions: {400, 350, 200}, chloride: {30, 40, 20},
		ph: {7.4, 0.6, 0}, warmth: {24, 4, 0},
	}
	for slot := range levels {
		mean, sd := wide[slot].mean, wide[slot].sd
		if dissolved(slot) && u.has[slot] {
			mean = u.mean[slot]
			sd = math.Hypot(u.own[slot], wide[slot].more)
			if slot == nitrate {
				mean += 3
			}
			w.known[slot] = true
		}
		g.put(slot, mean, sd)
	}
	if len(w.feed) > 0 {
		w.known[nitrate] = true
	}
	if w.known[kh] {
		w.known[ph] = true // by the CO2 that is usual
	}
}

// expectRates is the belief about what is made and lost, from what is put in.
func (w *walk) expectRates(f enclosure.Facts, lines []book.Line, at time.Time) {
	g := &w.g
	mean, sd := value("rise.unknown"), 0.25
	if n := w.feed.At(at).N; w.ref > 0 {
		made := value("yield.nitrate") * w.ref / w.box.litres
		mean = made - value("uptake.usual")
		sd = math.Hypot(made*math.Hypot(n.Sigma(), 0.25), 0.08)
	}
	g.put(rise, mean, sd)
	perN := value("kh.per_nitrate")
	g.put(fall, 0, math.Hypot(value("kh.other"), 0.05*math.Hypot(mean, sd)))
	g.link(fall, rise, perN)
	g.mean[fall] = perN * mean
	g.put(harden, 0, value("gh.other"))

	e, esd := evaporation(f, lines, w.from, at)
	g.put(vapour, e, esd)
}

// evaporation is the litres a day that top-ups replaced, or what a box of this size usually loses.
func evaporation(f enclosure.Facts, lines []book.Line, from, at time.Time) (mean, sd float64) {
	area := 0.35
	if b := f.Basin; b != nil && b.Length > 0 && b.Width > 0 {
		area = float64(b.Length) * float64(b.Width) / 1e6 * (1 - float64(b.LandShare))
	}
	mean = value("vapour.per_area") * area
	sd = 0.8 * mean
	var first, last time.Time
	sum, n := 0.0, 0
	for _, l := range lines {
		if t, ok := l.Body.(book.TopUp); ok && !l.At.Before(from) {
			if n == 0 {
				first = l.At
			} else {
				sum += float64(t.Litres) // the first replaced a loss from before
			}
			last = l.At
			n++
		}
	}
	if days := last.Sub(first).Hours() / 24; n >= 2 && days >= 1 && sum > 0 {
		own := sum / days
		ownSD := own * (0.05 + 0.25/math.Sqrt(float64(n))) // litres by eye
		p, q := 1/square(sd), 1/square(ownSD)
		mean, sd = (p*mean+q*own)/(p+q), 1/math.Sqrt(p+q)
	}
	return mean, sd
}

// accept takes in a fact.
func (w *walk) accept(fact enclosure.Fact, at time.Time) {
	switch fact.(type) {
	case enclosure.SourceWater, enclosure.Basin, enclosure.Retired, enclosure.Routine:
		w.elapse(at) // what was before goes by the facts that were
	}
	w.facts = w.facts.With(fact)
	switch f := fact.(type) {
	case enclosure.SourceWater:
		b := brewOf(f)
		w.brews[f.Name] = b
		w.doubtOf(f.Name, b)
	case enclosure.Retired:
		if f.OfKind == "source water" {
			delete(w.brews, f.OfKey)
		}
	case enclosure.Basin:
		for _, b := range w.boxes {
			if !b.from.After(at) {
				w.box = b
			}
		}
		w.missing = 0
	case enclosure.Batch:
		if at.After(w.start) { // newcomers, not the first stock
			w.upset(value("pool.jump_stock"))
		}
	}
}

// happen takes in what happened that is no reading and no fact.
func (w *walk) happen(l book.Line) {
	switch b := l.Body.(type) {
	case book.Change:
		w.elapse(l.At)
		in, out := b.In, float64(b.OutLitres)
		total := 0.0
		for _, p := range in {
			total += float64(p.Litres)
		}
		if short, ok := w.box.missing(b.LevelBefore); ok {
			w.missing = short
		}
		if short, ok := w.box.missing(b.LevelAfter); ok && out <= 0 {
			out = short - w.missing
		}
		if out <= 0 {
			out = total
		}
		if total <= 0 && out > 0 {
			in = []book.Poured{{Litres: quantity.Litres(out)}}
		}
		w.pour(out, in, b.Salts, b.MixEC)
	case book.TopUp:
		w.elapse(l.At)
		w.pour(0, []book.Poured{{Source: b.Source, Litres: b.Litres}}, nil, 0)
	case book.Dose:
		if b.Grams > 0 {
			w.elapse(l.At)
			w.pour(0, nil, []book.SaltPoured{{Formula: b.What, Grams: b.Grams}}, 0)
		}
	case book.Service:
		w.upset(rinsed(b.RinsedIn) + value("pool.jump_stop")*float64(b.NoFlowMinutes)/60)
	case book.SwitchedOn:
		if !b.OffSince.IsZero() {
			w.upset(value("pool.jump_stop") * l.At.Sub(b.OffSince).Hours())
		}
	case book.TakenOut:
		if b.What == "carcass" {
			w.upset(value("pool.jump_carcass"))
		}
	}
}

// rinsed is the chance of a bump after a stage was rinsed in something.
func rinsed(in string) float64 {
	switch in {
	case "tap":
		return value("pool.jump_tap")
	case "hot tap", "replaced":
		return value("pool.jump_lost")
	}
	return value("pool.jump_gentle")
}

// upset gives total ammonia and nitrite a chance of a bump.
func (w *walk) upset(chance float64) {
	chance = math.Min(math.Max(chance, 0), 0.5)
	w.tan.bump, w.no2.bump = math.Max(w.tan.bump, chance), math.Max(w.no2.bump, chance)
}
