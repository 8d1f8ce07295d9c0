package fit

import (
	"errors"
	"math"
	"reflect"
	"sync/atomic"
	"testing"

	"halfwater/dynamics"
)

// watched is a problem with a reading of nitrate a week, that counts how often it is run.
func watched() (Problem, *atomic.Int64) {
	p := fed()
	for week := range 8 {
		p.Readings = append(p.Readings, Reading{Day: 3 + 7*float64(week), See: nitrate, Lo: 8, Hi: 12, Log: true, SD: 0.2, Classes: 5, Lot: -1, Wander: -1})
	}
	runs, start := new(atomic.Int64), p.Start
	p.Start = func(own *dynamics.Params, z []float64) dynamics.State {
		runs.Add(1)
		return start(own, z)
	}
	return p, runs
}

// works are the long works of this package, each from the same problem.
func works(t *testing.T, p *Problem) map[string]func(Watch) (any, error) {
	effort := func(w Watch) Effort { return Effort{Draws: 60, Moves: 1, Scouts: 20, Bends: true, Watch: w} }
	before, err := p.Solve(effort(Watch{}), 1)
	if err != nil {
		t.Fatal(err)
	}
	longer := *p
	course := *p.Course
	course.Days += 28
	course.Pieces = append([]dynamics.Piece(nil), course.Pieces...)
	course.Pieces[0].To = course.Days
	longer.Course, longer.Readings = &course, nil
	way := Way{p.Readings, 0.5}
	return map[string]func(Watch) (any, error){
		"Solve":     func(w Watch) (any, error) { return p.Solve(effort(w), 1) },
		"SolveFrom": func(w Watch) (any, error) { return p.SolveFrom(&before, effort(w), 1) },
		"Onward":    func(w Watch) (any, error) { return p.Onward(w, &longer, &before, 120, []float64{60, 80}, 1) },
		"SolveWays": func(w Watch) (any, error) {
			post, _, err := p.SolveWays([]Way{way, way}, func(k int, p *Problem) (Posterior, error) {
				return p.Solve(effort(w.Part(float64(k)/2, float64(k+1)/2)), 1)
			})
			return post, err
		},
	}
}

// TestWatched: progress never goes back and ends at 1, and what is found is the same as when nobody looks.
func TestWatched(t *testing.T) {
	p, _ := watched()
	for name, work := range works(t, &p) {
		var told []float64
		got, err := work(Watch{Done: make(chan struct{}), Progress: func(share float64) { told = append(told, share) }})
		if err != nil {
			t.Fatal(name, err)
		}
		if len(told) < 20 || told[0] > 0.5 || told[len(told)-1] != 1 {
			t.Errorf("%s told %v", name, told)
		}
		for i := 1; i < len(told); i++ {
			if told[i] < told[i-1] {
				t.Errorf("%s went back from %g to %g", name, told[i-1], told[i])
			}
		}
		alone, _ := work(Watch{})
		if !reflect.DeepEqual(got, alone) {
			t.Errorf("%s finds something else when it is watched", name)
		}
	}
}

// TestStopped: at whatever share of the work it is told to end, it ends after a few runs more: those that workers
// have in hand, a round of each climb at most.
func TestStopped(t *testing.T) {
	p, runs := watched()
	const most = 40
	for name, work := range works(t, &p) {
		before := runs.Load()
		if _, err := work(Watch{}); err != nil {
			t.Fatal(name, err)
		}
		if all := runs.Load() - before; name != "Onward" && all < 3*most {
			t.Fatalf("%s has %d runs in all: too few to tell", name, all)
		}
		for _, at := range []float64{0, 0.02, 0.1, 0.3, 0.42, 0.5, 0.7, 0.99} {
			done, stopped, then := make(chan struct{}), false, int64(0)
			got, err := work(Watch{Done: done, Progress: func(share float64) {
				if share >= at && !stopped {
					stopped, then = true, runs.Load()
					close(done)
				}
			}})
			if !errors.Is(err, ErrStopped) {
				t.Errorf("%s stopped at %g: %v", name, at, err)
			}
			if !reflect.ValueOf(got).IsZero() {
				t.Errorf("%s stopped at %g has half an answer", name, at)
			}
			if more := runs.Load() - then; more > most {
				t.Errorf("%s stopped at %g went on for %d runs", name, at, more)
			}
		}
	}
}

// TestPart: the parts of a work join without a gap.
func TestPart(t *testing.T) {
	var told float64
	w := Watch{Progress: func(share float64) { told = share }}
	for _, x := range []struct{ from, to, share, want float64 }{{0, 0.3, 1, 0.3}, {0.3, 1, 0, 0.3}, {0.3, 1, 1, 1}, {0.2, 0.6, 0.5, 0.4}} {
		w.Part(x.from, x.to).Progress(x.share)
		if math.Abs(told-x.want) > 1e-15 {
			t.Errorf("%g of the part from %g to %g is %g", x.share, x.from, x.to, told)
		}
	}
	if (Watch{}).Part(0, 0.5).Progress != nil {
		t.Error("a part of silence speaks")
	}
}
