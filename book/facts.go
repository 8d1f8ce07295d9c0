package book

import (
	"time"

	"halfwater/enclosure"
	"halfwater/kit"
)

var (
	_ = register(enclosure.About{})
	_ = register(enclosure.Basin{})
	_ = register(enclosure.SourceWater{})
	_ = register(enclosure.Fitting{})
	_ = register(enclosure.Stage{})
	_ = register(enclosure.Batch{})
	_ = register(enclosure.RangeWanted{})
	_ = register(enclosure.Vessel{})
	_ = register(enclosure.Neutraliser{})
	_ = register(enclosure.Routine{})
	_ = register(enclosure.Retired{})
	_ = register(kit.Kit{})
)

// AllWaters is the water body of a fact that serves every water body of the enclosure.
const AllWaters = ""

// WaterOf is the water body of a line that names none: facts that serve the whole enclosure (its
// name, source waters, kits, vessels, neutralisers) hold for all, everything else for the main one.
func WaterOf(b Body) string {
	switch v := b.(type) {
	case enclosure.About, enclosure.SourceWater, enclosure.Vessel, enclosure.Neutraliser, kit.Kit:
		return AllWaters
	case enclosure.Retired:
		if zero, ok := New(v.OfKind); ok {
			if b, ok := Deref(zero); ok && b.Kind() != v.Kind() {
				return WaterOf(b)
			}
		}
	}
	return MainWater
}

// FactsAt gives the facts in force at a moment for a water body, as they were known at a moment:
// lines that held by at, recorded by recorded and not withdrawn by then. Of two facts with the
// same kind and key the later one in the order of the book holds.
func FactsAt(lines []Line, waterBody string, at, recorded time.Time) enclosure.Facts {
	return TimelineOf(lines, recorded).At(waterBody, at)
}

// Timeline is the facts of a book through time, as they were known at one moment.
type Timeline struct {
	facts []Line
	memo  map[string]moment // by look: where the last one ended
}

type moment struct {
	n     int // of facts taken in
	facts enclosure.Facts
}

// TimelineOf gives the facts of some lines as they were known at a moment.
func TimelineOf(lines []Line, recorded time.Time) *Timeline {
	t := &Timeline{memo: map[string]moment{}}
	for _, l := range Standing(lines, recorded) {
		if _, ok := l.Body.(enclosure.Fact); ok {
			t.facts = append(t.facts, l)
		}
	}
	return t
}

// At gives the facts in force at a moment for a water body. Looks that go forward in time cost
// least. It is not for use by several goroutines at once.
func (t *Timeline) At(waterBody string, at time.Time) enclosure.Facts {
	return t.at(waterBody, at, func(l Line) bool { return l.Water == waterBody || l.Water == AllWaters })
}

// Anywhere gives the facts in force at a moment in any water body; of two of the same kind and key the
// later one.
func (t *Timeline) Anywhere(at time.Time) enclosure.Facts {
	return t.at("\x00", at, func(Line) bool { return true })
}

func (t *Timeline) at(memo string, at time.Time, holds func(Line) bool) enclosure.Facts {
	m := t.memo[memo]
	if m.n > 0 && t.facts[m.n-1].At.After(at) {
		m = moment{}
	}
	for ; m.n < len(t.facts) && !t.facts[m.n].At.After(at); m.n++ {
		if l := t.facts[m.n]; holds(l) {
			m.facts = m.facts.With(l.Body.(enclosure.Fact))
		}
	}
	t.memo[memo] = m
	return m.facts
}

// factRefs are the names that a fact uses of other facts.
func factRefs(f enclosure.Fact) []Ref {
	switch v := f.(type) {
	case enclosure.SourceWater:
		return []Ref{{"fitting", "made by", v.MadeBy}}
	case enclosure.Routine:
		return []Ref{{"source water", "top up with", v.TopUpWith}}
	case enclosure.Retired:
		return []Ref{{v.OfKind, "key", v.OfKey}}
	}
	return nil
}
