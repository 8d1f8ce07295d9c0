package dynamics

import (
	"math"
	"strings"
	"time"

	"halfwater/book"
	"halfwater/enclosure"
	"halfwater/load"
	"halfwater/water"
)

// event turns a line into what it does to the water, if anything.
func (m *maker) event(l book.Line) {
	day := m.course.Day(l.At)
	switch b := l.Body.(type) {
	case book.Change:
		m.changed(l, b, day)
	case book.TopUp:
		f := m.facts.At(m.window.Water, l.At)
		br := m.blend([]book.Poured{{Source: b.Source, Litres: b.Litres}}, f, l.ID)
		br.all.Temp = m.usualTemp(day)
		m.put(Event{Day: day, Kind: Poured, Line: l.ID, In: float64(b.Litres), ToMark: true, Pour: br.all, Tap: br.tap})
	case book.Service:
		m.serviced(l, b, day)
	case book.SwitchedOn:
		if !b.OffSince.IsZero() && b.OffSince.Before(l.At) {
			m.stopped(l.ID, m.course.Day(b.OffSince), day)
		}
	case book.Dose:
		m.dosed(l, b, day)
	case book.Trim:
		m.put(Event{Day: day, Kind: Trimmed, Line: l.ID, N: float64(load.Trimmed(b.WetGrams).Median)})
	case book.Added:
		if what := strings.ToLower(b.What); strings.Contains(what, "carbon") && !strings.Contains(what, "carbonate") {
			e := Event{Day: day, Kind: Renewed, Line: l.ID, Grams: float64(b.Grams)}
			for i := range m.course.Stages {
				e.Places[i+1] = true
			}
			e.Loss = m.prior(LossOf("carbon swapped"))
			m.put(e)
		}
	}
}

func (m *maker) put(e Event) { m.course.Events = append(m.course.Events, e) }

// prior adds a loss and gives its number for an event.
func (m *maker) prior(l Loss) int {
	m.course.Losses = append(m.course.Losses, l)
	return len(m.course.Losses)
}

// changed is a change of water. Out is as logged, or by the levels, or as much as was poured in. When
// what was poured is at least four fifths of it, the keeper filled to the mark.
func (m *maker) changed(l book.Line, b book.Change, day float64) {
	f := m.facts.At(m.window.Water, l.At)
	e := Event{Day: day, Kind: Poured, Line: l.ID, Out: float64(b.OutLitres), Mulm: mulmWithWater, Bed: float64(b.BedShare), Change: 1}
	in := b.In
	for _, p := range in {
		e.In += float64(p.Litres)
	}
	if e.Out <= 0 && m.level != nil && b.LevelBefore > b.LevelAfter && b.LevelAfter > 0 {
		e.Out = float64(m.level.Fell(b.LevelBefore, b.LevelAfter).Median)
		m.note(ChangeLitres, l.ID, "levels")
	}
	if e.Out <= 0 {
		e.Out = e.In
		m.note(ChangeLitres, l.ID, "poured")
	}
	if e.In <= 0 {
		in, e.In = []book.Poured{{Litres: 1}}, e.Out
	}
	e.ToMark = e.In >= 0.8*e.Out
	br := m.blend(in, f, l.ID)
	e.Salts = m.salts(b.Salts, l.ID)
	if b.MixEC > 0 {
		br.strengthen(float64(b.MixEC), &e.Salts, e.In)
	}
	e.Pour, e.Tap = br.all, br.tap
	e.Pour.Temp = m.usualTemp(day)
	if b.Temp != 0 {
		e.Pour.Temp = float64(b.Temp)
	}
	m.neutralise(&e, br, f, l)
	if e.Bed > 0 && e.Loss == 0 {
		e.Places[Elsewhere] = true
		e.Loss = m.prior(LossOf("bed siphoned").times(e.Bed / 0.25))
	}
	m.put(e)
}

// neutralise is what becomes of chlorine and chloramine. With a neutraliser in the book the chlorine is
// gone; the ammonia of chloramine stays, bound when the label says so.
func (m *maker) neutralise(e *Event, br brew, f enclosure.Facts, l book.Line) {
	dosed, binds := len(f.Neutralisers) > 0, false
	for _, n := range f.Neutralisers {
		binds = binds || n.BindsTAN
	}
	for _, other := range m.lines {
		if d, ok := other.Body.(book.Dose); ok && isNeutraliser(d.What) && other.At.Sub(l.At).Abs() < 12*time.Hour {
			dosed = true
		}
	}
	switch {
	case dosed && binds:
		e.Binds = br.bound
	case dosed: // the chlorine is taken, ammonium and chloride are left
		n := e.Pour.Chloramine
		e.Pour.Chloramine = 0
		e.Pour.TAN += n
		e.Pour.Cl += n / molarN
	case br.chlorine:
		m.note(ChlorineOpen, l.ID, "chlorine")
		for i := range len(m.course.Stages) + 1 {
			e.Places[i] = true
		}
		e.Loss = m.prior(LossOf("chlorine 30 %").times(e.Out / m.course.Held / 0.3))
	case br.bound:
		m.note(ChlorineOpen, l.ID, "chloramine")
	}
}

func isNeutraliser(what string) bool {
	w := strings.ToLower(what)
	return strings.Contains(w, "neutrali") || strings.Contains(w, "thiosulf") || strings.Contains(w, "conditioner")
}

// serviced is work on one stage: what the rinse takes, and what a stop takes of the whole filter.
func (m *maker) serviced(l book.Line, b book.Service, day float64) {
	i, known := m.place(b.Stage)
	if !known {
		m.note(LineLeftOut, l.ID, b.Stage)
		return
	}
	f := m.facts.At(m.window.Water, l.At)
	e := Event{Day: day, Kind: Lost, Line: l.ID, Mulm: 0.5 / float64(len(m.course.Stages))}
	e.Places[i] = true
	switch b.RinsedIn {
	case "replaced":
		e.Loss = m.prior(Loss{Of: "replaced", Sure: 1})
		for _, s := range f.Stages {
			if s.Name == b.Stage && s.Carbon {
				e.Kind, e.Grams = Renewed, carbonPerLitre*m.course.Held
			}
		}
	case "tap":
		kind := "tap"
		for _, s := range f.Sources {
			if s.Chloramine || s.Analysis.Chloramine.Or(0) > 0 {
				kind = "tap chloramine"
			}
		}
		e.Loss = m.prior(LossOf(kind))
	case "tank water", "hot tap", "nothing":
		e.Loss = m.prior(LossOf(b.RinsedIn))
	default:
		e.Loss = m.prior(LossOf("unsaid"))
	}
	m.put(e)
	if minutes := float64(b.NoFlowMinutes); minutes > 0 {
		m.stopped(l.ID, day, day+minutes/(24*60))
	}
}

// stopped is a filter that stood still from one day to another; the loss comes when it runs again.
func (m *maker) stopped(line book.ID, from, to float64) {
	if len(m.course.Stages) == 0 || !(to > from) {
		return
	}
	m.stops = append(m.stops, [2]float64{max(from, 0), min(to, m.course.Days)})
	hours := (to - from) * 24
	if hours < 0.25 || to >= m.course.Days {
		return
	}
	e := Event{Day: to, Kind: Lost, Line: line, Loss: m.prior(lossOfStop(hours))}
	for i := range m.course.Stages {
		e.Places[i+1] = true
	}
	m.put(e)
}

// lossOfStop goes straight between the rows of losses.txt, in logit against the logarithm of time.
func lossOfStop(hours float64) Loss {
	rows := []struct {
		hours float64
		name  string
	}{{1, "stopped 1 h"}, {4, "stopped 4 h"}, {12, "stopped 12 h"}, {24, "stopped 24 h"}}
	i := 0
	for i < len(rows)-2 && hours > rows[i+1].hours {
		i++
	}
	f := math.Log(hours/rows[i].hours) / math.Log(rows[i+1].hours/rows[i].hours)
	f = min(max(f, -2), 2) // a week is no different from three days
	a, b := LossOf(rows[i].name), LossOf(rows[i+1].name)
	size := math.Exp((1-f)*math.Log(a.A+a.B) + f*math.Log(b.A+b.B))
	mean := 1 / (1 + math.Exp(-((1-f)*logit(a.A/(a.A+a.B)) + f*logit(b.A/(b.A+b.B)))))
	return beta("stopped", mean*size, (1-mean)*size)
}

// times is the loss k times as large, its mean at most 0.95, as sure as before.
func (l Loss) times(k float64) Loss {
	size := l.A + l.B
	mean := min(l.A/size*k, 0.95)
	return beta(l.Of, mean*size, (1-mean)*size)
}

// dosed is something put into the water.
func (m *maker) dosed(l book.Line, b book.Dose, day float64) {
	what := strings.ToLower(b.What)
	switch {
	case isNeutraliser(what):
		f := m.facts.At(m.window.Water, l.At)
		for _, n := range f.Neutralisers {
			if n.BindsTAN {
				m.put(Event{Day: day, Kind: Dosed, Line: l.ID, Binds: true})
				return
			}
		}
	case strings.Contains(what, "medicine"), strings.Contains(what, "antibiotic"), strings.Contains(what, "copper"), strings.Contains(what, "peroxide"):
		e := Event{Day: day, Kind: Lost, Line: l.ID, Loss: m.prior(LossOf("medicine"))}
		for i := range len(m.course.Stages) + 1 {
			e.Places[i] = true
		}
		m.put(e)
	default:
		if _, err := water.SaltNamed(b.What); err == nil && b.Grams > 0 {
			m.put(Event{Day: day, Kind: Dosed, Line: l.ID, Salts: m.salts([]book.SaltPoured{{Formula: b.What, Grams: b.Grams}}, l.ID)})
			return
		}
		m.note(LineLeftOut, l.ID, b.What)
	}
}

var (
	mulmWithWater  = table.Value("mulm with the water")
	carbonPerLitre = table.Value("carbon per litre")
)
