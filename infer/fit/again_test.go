package fit

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"halfwater/dynamics"
)

// readUntil reads nitrate each week by a pen, until a day.
func readUntil(p *Problem, until float64) {
	p.Readings = nil
	for i, day := range []float64{10, 17, 24, 31, 38, 45, 52} {
		if day > until {
			continue
		}
		x := 4 + 0.5*float64(i%3)
		p.Readings = append(p.Readings, Reading{
			Name: fmt.Sprint("nitrate on day ", day), Day: day, See: nitrate, Lo: x, Hi: x, SD: 0.5, Classes: 1, Point: true, Lot: -1, Wander: -1,
		})
	}
}

// TestAgain: with a reading more the search that begins with the effects found before comes to the mode of the whole search, and
// its draws have the same middle.
func TestAgain(t *testing.T) {
	p := fed()
	readUntil(&p, 45)
	e := Effort{Draws: 200, Scouts: 4}
	before, err := p.Solve(e, 1)
	if err != nil {
		t.Fatal(err)
	}
	readUntil(&p, 52)
	whole, err := p.Solve(e, 1)
	if err != nil {
		t.Fatal(err)
	}
	places := newBench(&p).again(&before)
	for i, row := range places[0].slopes.of {
		if known := row != nil; known != (i < 6) {
			t.Errorf("reading %d: effects of before %v", i, known)
		}
	}
	p.Readings[2].Log, p.Readings[2].Shift = true, 1
	if newBench(&p).again(&before)[0].slopes.of[2] != nil {
		t.Error("a kit sees by logarithms now, and the effects of before serve")
	}
	p.Readings[2].Log, p.Readings[2].Shift = false, 0
	sooner, err := p.SolveFrom(&before, e, 1)
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(sooner.Weight-whole.Weight) > 0.01 {
		t.Errorf("log posterior %.4f, by the whole search %.4f", sooner.Weight, whole.Weight)
	}
	for _, u := range []dynamics.Unknown{dynamics.Load, dynamics.Uptake} {
		of := func(post *Posterior) float64 {
			var x []float64
			for i := range post.Draws {
				x = append(x, post.Draws[i].Z[u])
			}
			slices.Sort(x)
			return x[len(x)/2]
		}
		if a, c := of(&sooner), of(&whole); math.Abs(a-c) > 0.1 {
			t.Errorf("%v: middle at %.2f, by the whole search at %.2f", u, a, c)
		}
	}
}

// TestAgainOnlyWhatHolds: effects of before serve when what is new acts after all that was read, and not when a change is put
// in before a reading, or one acts on another day.
func TestAgainOnlyWhatHolds(t *testing.T) {
	shapeWith := func(until float64, changes ...float64) shape {
		p := fed()
		c := *p.Course
		c.Events, c.Changes = nil, 0
		for _, day := range changes {
			c.Changes++
			c.Events = append(c.Events, dynamics.Event{Day: day, Out: 20, In: 20, Change: c.Changes})
		}
		p.Course = &c
		readUntil(&p, until)
		return newBench(&p).shape()
	}
	was := shapeWith(38, 7.5, 14.5, 21.5)
	for _, c := range []struct {
		what    string
		changes []float64
		holds   bool
	}{
		{"nothing new", []float64{7.5, 14.5, 21.5}, true},
		{"a change after the last reading", []float64{7.5, 14.5, 21.5, 40}, true},
		{"a change between", []float64{7.5, 14.5, 18, 21.5}, false},
		{"a change before the last reading", []float64{7.5, 14.5, 21.5, 35}, false},
		{"a change on another day", []float64{7.5, 14.5, 22}, false},
		{"a change withdrawn", []float64{7.5, 14.5}, false},
	} {
		now := shapeWith(52, c.changes...)
		if got := was.within(&now); got != c.holds {
			t.Errorf("%s: effects hold %v", c.what, got)
		}
	}
}
