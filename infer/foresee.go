package infer

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"time"

	"halfwater/book"
	"halfwater/infer/fit"
	"halfwater/quantity"
)

// Foresee gives the beliefs about moments that lie ahead, by a belief about now and by lines that are
// expected: changes and top-ups as the routine has them, with the dates on which they would happen. The
// histories of the belief run on under them; where it has none (b.Rough), the first look is carried on as
// between the last reading and now. Doubt about lines that are kept otherwise is not in it. Moments must ascend and not
// lie before that of the belief. Errors: those of dynamics.Compile and of [Believe].
func Foresee(b Belief, expected []book.Line, at []time.Time) ([]Belief, error) {
	return ForeseeContext(context.Background(), b, expected, at, nil)
}

// ForeseeContext is [Foresee] for who waits, as [BelieveContext] is [Believe].
func ForeseeContext(ctx context.Context, b Belief, expected []book.Line, at []time.Time, progress func(share float64)) ([]Belief, error) {
	watch := watched(ctx, progress)
	out, err := b.foresee(expected, at, watch)
	if err != nil {
		return nil, stoppedBy(ctx, err)
	}
	end(watch)
	return out, nil
}

func (b Belief) foresee(expected []book.Line, at []time.Time, watch fit.Watch) ([]Belief, error) {
	if b.account == nil {
		return b.walkOn(expected, at, watch)
	}
	a := b.account
	known := a.window.Recorded
	lines := withExpected(a.window.Lines, expected, known)
	longer, err := a.walk.ask(lines, b.Water, a.question.Course.From, at[len(at)-1].Add(time.Minute), known)
	if err != nil {
		return nil, err
	}
	days := make([]float64, len(at))
	for i, t := range at {
		days[i] = max(longer.Course.Day(t), a.question.Course.Days)
	}
	runs, err := a.question.Onward(watch.Part(0, ranOn), &longer.Problem, &a.post, futures, days, a.window.Seed)
	if err != nil {
		return nil, err
	}
	var carried []Belief // of what the first look has
	if len(a.alarming) > 0 {
		if carried, err = b.walkOn(expected, at, watch.Part(ranOn, 1)); err != nil {
			return nil, err
		}
	}
	out := make([]Belief, len(at))
	fit.Watch{Done: watch.Done}.Each(len(at), func(k int) {
		t, r := at[k], rand.New(rand.NewPCG(a.window.Seed, hours+1+uint64(k)))
		o := b
		o.At, o.account, o.Branches = t, nil, nil
		o.Draws = make([]Draw, len(runs))
		ahead := t.Sub(b.At).Hours() / 24
		warmer := math.Min(value("wander.temp")*math.Sqrt(max(ahead, 0)), value("wander.temp_most"))
		for i, moments := range runs {
			h := &a.post.Draws[i%len(a.post.Draws)]
			now := b.Draws[i%len(b.Draws)]
			if carried != nil {
				first := carried[k].Draws[i%len(carried[k].Draws)]
				now.TAN, now.NO2, now.PH = first.TAN, first.NO2, first.PH
			}
			d := a.draw(now, &h.Params, &moments[k].State, moments[k].Wander, r)
			d.Temp += quantity.Celsius(moments[k].State.Temp - h.End.Temp + warmer*r.NormFloat64())
			o.Draws[i] = d
		}
		out[k] = o
	})
	if watch.Stopped() {
		return nil, fit.ErrStopped
	}
	return out, nil
}

// walkOn carries the first look on.
func (b Belief) walkOn(expected []book.Line, at []time.Time, watch fit.Watch) ([]Belief, error) {
	w := b.window
	known := w.Recorded
	lines := withExpected(book.Standing(w.Lines, known), expected, known)
	out, errs := make([]Belief, len(at)), make([]error, len(at))
	watch.Each(len(at), func(k int) {
		out[k], errs[k] = Glance(Window{Lines: lines, Water: w.Water, At: at[k], Recorded: known, Seed: w.Seed})
	})
	if watch.Stopped() {
		return nil, fit.ErrStopped
	}
	return out, errors.Join(errs...)
}

// withExpected are the lines of a book with those that are expected, as if they had been written down.
func withExpected(lines, expected []book.Line, recorded time.Time) []book.Line {
	lines = slices.Clip(lines)
	for _, l := range expected {
		l.Recorded = recorded
		lines = append(lines, l)
	}
	return lines
}
