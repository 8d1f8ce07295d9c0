//go:build long

package infer

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"halfwater/book"
	"halfwater/dynamics"
	"halfwater/infer/fit"
)

// TestQuickMovesNoBand: outlooks by the quick pace have the deciles and medians of those by the careful one, to a tenth of
// the width of the 80 % band, in enclosures of all kinds, of long and short record, where what was done in the last six
// weeks is done again twice. (The pace with steps by rules that was before moved pH by a third of the width.)
func TestQuickMovesNoBand(t *testing.T) {
	worst := make([]float64, len(foretold))
	n := 0
	for i := range 30 {
		e := newTruth(uint64(400+i), aheadKinds[i%len(aheadKinds)])
		e.keep([]int{26, 10, 4}[i/5%3])
		now := e.lines[len(e.lines)-1].At.AddDate(0, 0, 1)
		b, err := Believe(Window{Lines: e.lines, At: now, Recorded: now, Seed: 1})
		if err != nil {
			t.Fatal(err)
		}
		if b.account == nil {
			continue
		}
		n++
		careful, quick := b.weekly(t, e.lines, now, dynamics.Careful), b.weekly(t, e.lines, now, dynamics.Quick)
		for m := range foretold {
			for k, q := range careful[m] {
				for j := range q {
					worst[m] = math.Max(worst[m], math.Abs(quick[m][k][j]-q[j])/(q[2]-q[0]))
				}
			}
		}
	}
	for m, of := range foretold {
		t.Logf("%s: %.2f %% of the width at worst, %d enclosures", of.Label(), 100*worst[m], n)
		if worst[m] > 0.1 || n < 12 {
			t.Errorf("%s: moved by %.3f of the width, in %d enclosures", of.Label(), worst[m], n)
		}
	}
}

// weekly are the deciles and median, by quantity foretold and week, of a thousand futures by a pace.
func (b Belief) weekly(t *testing.T, lines []book.Line, now time.Time, pace dynamics.Pace) [][][3]float64 {
	const weeks, kept = 12, 6
	a := b.account
	var expected []book.Line
	for _, l := range lines {
		for by := kept; by <= weeks; by += kept {
			switch l.Body.(type) {
			case book.Change, book.TopUp:
				if next := l; l.At.AddDate(0, 0, 7*kept).After(now) {
					next.At, next.ID = l.At.AddDate(0, 0, 7*by), book.ID(fmt.Sprint("~", len(expected)))
					expected = append(expected, next)
				}
			}
		}
	}
	end := now.AddDate(0, 0, 7*weeks)
	longer, err := a.walk.ask(withExpected(a.window.Lines, expected, now), b.Water, a.question.Course.From, end.Add(time.Minute), now)
	if err != nil {
		t.Fatal(err)
	}
	longer.Pace = pace
	var days []float64
	for wk := 1; wk <= weeks; wk++ {
		days = append(days, longer.Course.Day(now.AddDate(0, 0, 7*wk)))
	}
	runs, err := a.question.Onward(fit.Watch{}, &longer.Problem, &a.post, futures, days, 1)
	if err != nil {
		t.Fatal(err)
	}
	out := make([][][3]float64, len(foretold))
	r := rand.New(rand.NewPCG(1, hours))
	for k := range days {
		x := make([][]float64, len(foretold))
		for i, moments := range runs {
			d := a.draw(b.Draws[i%len(b.Draws)], &a.post.Draws[i%len(a.post.Draws)].Params, &moments[k].State, moments[k].Wander, r)
			for m, of := range foretold {
				if v, ok := d.Of(of); ok {
					x[m] = append(x[m], v)
				}
			}
		}
		for m := range x {
			if slices.Sort(x[m]); len(x[m]) > 0 {
				out[m] = append(out[m], [3]float64{at(x[m], 0.1), at(x[m], 0.5), at(x[m], 0.9)})
			}
		}
	}
	return out
}
