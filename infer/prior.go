package infer

import (
	"math"
	"time"

	"halfwater/book"
	"halfwater/dynamics"
	"halfwater/enclosure"
	"halfwater/load"
)

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
	var last time.Time
	sum, days, n := 0.0, 0.0, 0
	for _, l := range lines {
		if t, ok := l.Body.(book.TopUp); ok && !l.At.Before(from) {
			if since := l.At.Sub(last); n > 0 && since.Hours()/24 <= dynamics.UnwrittenDays { // the first, and the first after a gap, replaced a loss from before
				sum += float64(t.Litres)
				days += since.Hours() / 24
			}
			last = l.At
			n++
		}
	}
	if n >= 2 && days >= 1 && sum > 0 {
		own := sum / days
		ownSD := own*(0.05+0.25/math.Sqrt(float64(n))) + 0.01 // litres by eye
		p, q := 1/square(sd), 1/square(ownSD)
		mean, sd = (p*mean+q*own)/(p+q), 1/math.Sqrt(p+q)
	}
	return mean, sd
}
