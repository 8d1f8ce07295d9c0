package dynamics

import (
	"math"
	"slices"

	"halfwater/book"
	"halfwater/enclosure"
	"halfwater/load"
	"halfwater/quantity"
	"halfwater/water"
)

// forcing lays out the stretches of even load, temperature and evaporation.
func (m *maker) forcing() {
	c := &m.course
	inputs := load.CourseOf(m.lines, m.window.Water, m.window.To)
	temps := m.temperatures()
	breaks := []float64{0, c.Days}
	add := func(day float64) {
		if day > 1e-6 && day < c.Days-1e-6 {
			breaks = append(breaks, day)
		}
	}
	for _, s := range inputs {
		add(c.Day(s.From))
		add(c.Day(s.To))
	}
	for _, t := range temps {
		add(t.day)
	}
	for _, l := range m.lines { // stops, before their events are made
		switch b := l.Body.(type) {
		case book.SwitchedOn:
			if !b.OffSince.IsZero() {
				add(c.Day(b.OffSince))
				add(c.Day(l.At))
			}
		case book.Service:
			add(c.Day(l.At))
			add(c.Day(l.At) + float64(b.NoFlowMinutes)/(24*60))
		}
	}
	slices.Sort(breaks)
	breaks = slices.Compact(breaks)
	evaporation, sd := m.evaporation()
	c.EvaporationSD = sd
	for i := range len(breaks) - 1 {
		p := Piece{From: breaks[i], To: breaks[i+1], Evaporation: evaporation}
		mid := (p.From + p.To) / 2
		for _, s := range inputs {
			if c.Day(s.From) <= mid && mid < c.Day(s.To) {
				p.take(&s)
			}
		}
		p.Temp = tempAt(temps, mid)
		c.Pieces = append(c.Pieces, p)
	}
	m.loadSD(inputs)
	if len(inputs) == 0 {
		m.note(NoFood, "", "")
	}
	if len(temps) == 0 {
		m.note(NoTemperature, "", "")
	}
	if f := m.facts.At(m.window.Water, m.during()); len(f.Stages) == 0 && !moved(f.Fittings) {
		for i := range c.Pieces {
			c.Pieces[i].Still = true
		}
	}
}

// take adds one input. What food and waste do not give off at once is mulm; leaf and wood come free as
// package load has spread them, with the carbon that they leach.
func (p *Piece) take(s *load.Stretch) {
	n, tan := float64(s.PerDay.N.Median), min(float64(s.PerDay.TAN.Median), float64(s.PerDay.N.Median))
	p.TAN += tan
	rest := n - tan
	switch s.What {
	case "leaf", "wood":
		p.Leach += s.PerDay.C.Median.Milligrams()
		p.Labile += rest
	default:
		p.Labile += labileShare * rest
		p.Slow += (1 - labileShare) * rest
	}
	if n > 0 {
		p.PO4 += s.PerDay.P.Median.Milligrams() * tan / n
	}
}

// loadSD is the doubt of the whole load, as of the inputs by what each brought.
func (m *maker) loadSD(inputs load.Course) {
	c := &m.course
	sum, weighted := 0.0, 0.0
	for _, s := range inputs {
		from, to := max(c.Day(s.From), 0), min(c.Day(s.To), c.Days)
		if to <= from {
			continue
		}
		n := float64(s.PerDay.N.Median) * (to - from)
		if n <= 0 { // wood
			continue
		}
		sum += n
		weighted += n * s.PerDay.N.Sigma()
	}
	if sum > 0 {
		c.LoadSD = weighted / sum
	}
}

type tempRead struct{ day, t float64 }

// temperatures are the readings of the water's temperature, one a day at most.
func (m *maker) temperatures() []tempRead {
	var out []tempRead
	sum, n, today := 0.0, 0.0, 0
	flush := func() {
		if n > 0 {
			out = append(out, tempRead{float64(today) + 0.5, sum / n})
		}
		sum, n = 0, 0
	}
	for _, l := range m.lines {
		r, ok := l.Body.(book.Reading)
		if !ok || r.Of != quantity.OfWaterTemp || r.Place == "glass" {
			continue
		}
		if _, doubted := m.aside[l.ID]; doubted {
			continue
		}
		t := (r.Lo + r.Hi) / 2
		if !(t > coldest && t < warmest) {
			continue
		}
		if day := floor(m.course.Day(l.At)); day != today || n == 0 {
			flush()
			today = day
		}
		sum += t
		n++
	}
	flush()
	return out
}

func floor(x float64) int {
	i := int(x)
	if float64(i) > x {
		i--
	}
	return i
}

// tempAt is the mean of the readings around a day; usual indoor warmth when there are none.
func tempAt(reads []tempRead, day float64) float64 {
	if len(reads) == 0 {
		return usualWarmth
	}
	i, _ := slices.BinarySearchFunc(reads, day, func(r tempRead, d float64) int {
		if r.day <= d {
			return -1
		}
		return 1
	})
	switch i {
	case 0:
		return reads[0].t
	case len(reads):
		return reads[len(reads)-1].t
	}
	return (reads[i-1].t + reads[i].t) / 2
}

// usualTemp is the temperature of the stretch of a day.
func (m *maker) usualTemp(day float64) float64 {
	for i := range m.course.Pieces {
		if p := &m.course.Pieces[i]; day < p.To {
			return p.Temp
		}
	}
	return usualWarmth
}

// evaporation is the litres a day that top-ups and the surplus of changes replaced, or what such a
// surface usually loses, with its ln standard deviation. The first and the last top-up need not end at the same level.
func (m *maker) evaporation() (perDay, sd float64) {
	c := &m.course
	litres, days, last, n := 0.0, 0.0, 0.0, 0
	fill := func(day, more float64) {
		if n > 0 && day-last <= UnwrittenDays { // the first one, and the first after a gap, fills what was lost before
			litres += more
			days += day - last
		}
		last = day
		n++
	}
	for _, l := range m.lines {
		day := c.Day(l.At)
		if day < 0 {
			continue
		}
		switch b := l.Body.(type) {
		case book.TopUp:
			fill(day, float64(b.Litres))
		case book.Change:
			in := 0.0
			for _, p := range b.In {
				in += float64(p.Litres)
			}
			if out := float64(b.OutLitres); out > 0 && in > out && in < 1.5*out {
				fill(day, in-out)
			}
		}
	}
	if n >= 3 && days > 3 {
		many := float64(n - 1)
		return litres / days, math.Sqrt(square(topUpsSD) + square(topUpSD)/many + square(topUpLevel/many))
	}
	m.note(EvaporationOld, "", "")
	return evaporationPerSquare * c.Surface, evaporationSD
}

// UnwrittenDays is for how many days at most nothing was topped up; past them nobody wrote it down. Judgement: a box that is not filled for
// so long runs low.
const UnwrittenDays = 56

// topUps lets the routine's water replace what evaporates when nobody writes top-ups down; a pure one when
// the routine names none, unless changes pour in more than they take out and so fill to the mark again.
func (m *maker) topUps() {
	c := &m.course
	out, in := 0.0, 0.0
	for _, l := range m.lines {
		switch b := l.Body.(type) {
		case book.TopUp:
			if c.Day(l.At) >= 0 {
				return
			}
		case book.Change:
			if b.OutLitres > 0 {
				out += float64(b.OutLitres)
				for _, p := range b.In {
					in += float64(p.Litres)
				}
			}
		}
	}
	f := m.facts.At(m.window.Water, m.during())
	b := brew{all: nearlyPure}
	switch {
	case f.Routine != nil && f.Routine.TopUpWith != "":
		b = m.source(f.Routine.TopUpWith, f, "")
	case in > 1.02*out:
		return
	case len(f.Sources) > 0 && !slices.ContainsFunc(f.Sources, pureSource): // nobody tops up with what there is not
		b = m.brewed(f.Sources[0], "")
	}
	m.note(TopUpUnlogged, "", "")
	b.all.Temp = m.usualTemp(0)
	m.put(Event{Day: 0, Kind: Template, Pour: b.all, Tap: b.tap})
	for i := range c.Pieces {
		c.Pieces[i].TopUp = 1
	}
}

// pureSource reports whether a source water is one to replace vapour with: RO, rain, made, or one that conducts or hardens as
// little as those (60 uS/cm, 1 degree; judgement).
func pureSource(s enclosure.SourceWater) bool {
	a := &s.Analysis
	return a.Kind == water.RO || a.Kind == water.Rain || s.MadeBy != "" ||
		a.EC.Is && a.EC.Value < 60 || a.GH.Is && a.KH.Is && a.GH.Value < 1 && a.KH.Value < 1
}

// moved reports whether a device moves the water.
func moved(fittings []enclosure.Fitting) bool {
	return slices.ContainsFunc(fittings, func(f enclosure.Fitting) bool { return f.What == "pump" || f.What == "air pump" })
}

// noFlow marks the stretches in which the filter stood.
func (m *maker) noFlow() {
	for i := range m.course.Pieces {
		p := &m.course.Pieces[i]
		mid := (p.From + p.To) / 2
		for _, s := range m.stops {
			if s[0] <= mid && mid <= s[1] {
				p.NoFlow = true
			}
		}
	}
}

var (
	labileShare          = table.Value("labile share of waste")
	usualWarmth          = table.Value("usual warmth")
	evaporationPerSquare = table.Value("evaporation per square metre")
	evaporationSD        = table.Value("evaporation sd")
	topUpsSD             = table.Value("top-ups sd")
	topUpSD              = table.Value("top-up sd")
	topUpLevel           = table.Value("top-up level")
)
