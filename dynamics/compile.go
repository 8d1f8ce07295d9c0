package dynamics

import (
	"cmp"
	"fmt"
	"slices"
	"time"

	"halfwater/book"
	"halfwater/enclosure"
	"halfwater/quantity"
	"halfwater/water"
)

// Window says which part of a book to compile.
type Window struct {
	Water    string    // water body; [book.MainWater] when empty
	From, To time.Time // the course; To may lie ahead, the forcing then stays as it was
	Recorded time.Time // as the book was known then; To when zero
	// Held is the water held at the full mark; by the measures of the box when 0.
	Held quantity.HeldLitres
}

// BadWindow is a course that does not go forward.
type BadWindow struct{ From, To time.Time }

func (e BadWindow) Error() string {
	return fmt.Sprintf("the course ends at %s, not after it begins at %s; give a later end", e.To.Format(time.DateTime), e.From.Format(time.DateTime))
}

// TooLong is a course of more than ten years: most likely a slip in a year.
type TooLong struct{ From, To time.Time }

func (e TooLong) Error() string {
	return fmt.Sprintf("the course from %s to %s is longer than ten years; look at the years", e.From.Format(time.DateOnly), e.To.Format(time.DateOnly))
}

// Compile turns the lines of a book into a course. Lines may come in any order; those that do not
// stand, or hold for another water, are left out. Facts are those in force at each moment. What was
// assumed is noted in [Course.Notes]. The same lines and window give the same course.
//
// Errors: [BadWindow], [TooLong], and those of enclosure.HeldWater when the held water is neither
// given nor to be had from the measures of the box.
func Compile(lines []book.Line, w Window) (Course, error) {
	if !w.To.After(w.From) {
		return Course{}, BadWindow{w.From, w.To}
	}
	if w.To.Sub(w.From) > 3653*24*time.Hour {
		return Course{}, TooLong{w.From, w.To}
	}
	if w.Water == "" {
		w.Water = book.MainWater
	}
	if w.Recorded.IsZero() {
		w.Recorded = w.To
	}
	m := maker{window: w, facts: book.TimelineOf(lines, w.Recorded), brews: map[enclosure.SourceWater]brew{}}
	m.lines = ofWater(book.Standing(lines, w.Recorded), w)
	m.aside = book.SetAsides(lines, w.Recorded)
	c := &m.course
	c.From, c.Days = w.From, w.To.Sub(w.From).Hours()/24
	if err := m.box(); err != nil {
		return Course{}, err
	}
	m.forcing()
	for _, l := range m.lines {
		if !l.At.Before(w.From) && l.At.Before(w.To) {
			m.event(l)
		}
	}
	m.noFlow()
	m.topUps()
	m.order()
	return *c, nil
}

// maker is a course in the making.
type maker struct {
	course Course
	window Window
	lines  []book.Line // of this water, in order
	facts  *book.Timeline
	aside  map[book.ID]book.SetAside
	level  *enclosure.LevelTable // nil when never measured
	stops  [][2]float64          // days without flow
	brews  map[enclosure.SourceWater]brew
}

func ofWater(lines []book.Line, w Window) []book.Line {
	out := make([]book.Line, 0, len(lines))
	for _, l := range lines {
		if l.At.Before(w.To) && (l.Water == w.Water || l.Water == book.AllWaters) {
			out = append(out, l)
		}
	}
	return out
}

func (m *maker) note(code string, line book.ID, what string) {
	n := Note{code, line, what}
	if !slices.Contains(m.course.Notes, n) {
		m.course.Notes = append(m.course.Notes, n)
	}
}

// during is a moment of the course at which facts are looked up for the whole of it.
func (m *maker) during() time.Time { return m.window.To.Add(-time.Nanosecond) }

// box finds held water, surface, pressure and the stages.
func (m *maker) box() error {
	c := &m.course
	f := m.facts.At(m.window.Water, m.during())
	c.Light = Light{On: 8, Hours: 10, Meal: 18}
	c.Pressure = float64(water.PressureAt(f.About.Altitude))
	c.Held = float64(m.window.Held)
	if f.Basin != nil {
		var tests []enclosure.LevelTest
		for _, l := range m.lines {
			if t, ok := l.Body.(book.LevelTest); ok {
				tests = append(tests, enclosure.LevelTest(t))
			}
		}
		if t, err := enclosure.NewLevelTable(*f.Basin, tests); err == nil {
			m.level = &t
			c.Surface = float64(t.Surface(f.Basin.FullMark))
		}
		if c.Held <= 0 {
			held, err := enclosure.HeldWater(enclosure.Geometry{Basin: f.Basin, Tests: tests}, nil)
			if err != nil {
				return err
			}
			c.Held = float64(held.Held.Median)
		}
	}
	if c.Held <= 0 {
		return enclosure.HeldUnknown{}
	}
	if c.Surface <= 0 {
		c.Surface = c.Held * surfacePerLitre
	}
	m.stages()
	return nil
}

// stages names every stage that stood in the course, in the order of their first appearance; a stage
// that was taken out keeps its place.
func (m *maker) stages() {
	c := &m.course
	add := func(f enclosure.Facts) {
		for _, s := range f.Stages {
			if slices.Contains(c.Stages, s.Name) {
				continue
			}
			if len(c.Stages) == Parts-1 {
				m.note(StagesTooMany, "", s.Name)
				continue
			}
			c.Stages = append(c.Stages, s.Name)
		}
	}
	add(m.facts.At(m.window.Water, m.window.From))
	for _, l := range m.lines {
		if _, ok := l.Body.(enclosure.Stage); ok && !l.At.Before(m.window.From) {
			add(m.facts.At(m.window.Water, l.At))
		}
	}
}

// place is the index of a stage in a state; the last one for stages past what a state holds, and 0,
// false for a name that is none.
func (m *maker) place(stage string) (int, bool) {
	i := slices.Index(m.course.Stages, stage)
	return i + 1, i >= 0
}

// order puts the events in order of time and the numbers of changes with them.
func (m *maker) order() {
	c := &m.course
	slices.SortStableFunc(c.Events, func(a, b Event) int { return cmp.Compare(a.Day, b.Day) })
	c.Changes = 0
	for i := range c.Events {
		if c.Events[i].Change > 0 {
			c.Changes++
			c.Events[i].Change = c.Changes
		}
	}
	for i := range c.Pieces {
		p := &c.Pieces[i]
		if p.TopUp > 0 {
			p.TopUp = 1 + slices.IndexFunc(c.Events, func(e Event) bool { return e.Kind == Template })
		}
	}
}

var surfacePerLitre = table.Value("surface per litre")
