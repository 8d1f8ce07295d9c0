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
// between the last reading and now. Ammonia and nitrite that alarm ([Evidence].Alarming) are not foreseen: NaN. Doubt
// about lines that are kept otherwise is not in it. Moments must ascend and not lie before that of the belief. Errors:
// [Unforeseeable].
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

// Unforeseeable is a moment that an outlook cannot be of.
type Unforeseeable struct{ At time.Time }

func (e Unforeseeable) Error() string {
	return "no outlook for " + e.At.Format(time.DateTime) + ": moments must ascend, and none may lie before that of the belief, which must be one of now"
}

func (b Belief) foresee(expected []book.Line, at []time.Time, watch fit.Watch) ([]Belief, error) {
	if len(at) == 0 {
		return nil, nil
	}
	last := b.At
	for _, t := range at {
		if t.Before(last) || b.foreseen {
			return nil, Unforeseeable{t}
		}
		last = t
	}
	if b.account == nil {
		return b.walkOn(expected, at, watch)
	}
	a := b.account
	known := a.window.Recorded
	lines := withExpected(a.window.Lines, expected, known)
	longer, err := a.walk.ask(lines, b.Water, a.question.Course.From, at[len(at)-1].Add(time.Minute), known)
	if err != nil { // longer than a course may be
		return b.walkOn(expected, at, watch)
	}
	days := make([]float64, len(at))
	for i, t := range at {
		days[i] = max(longer.Course.Day(t), a.question.Course.Days)
	}
	runs, err := a.question.Onward(watch.Part(0, ranOn), &longer.Problem, &a.post, futures, days, a.window.Seed)
	if err != nil {
		return nil, err
	}
	calm := *a
	calm.alarming = nil // the first look has what alarms now; nothing says how it goes on
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
			if ahead == 0 { // what is foreseen of now is what is believed
				o.Draws[i] = now
				continue
			}
			d := calm.draw(now, &h.Params, &moments[k].State, moments[k].Wander, r)
			d.Temp += quantity.Celsius(moments[k].State.Temp - h.End.Temp + warmer*r.NormFloat64())
			o.Draws[i] = d
		}
		out[k] = o.unforeseen()
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
		o, err := Glance(Window{Lines: lines, Water: w.Water, At: at[k], Recorded: known, Seed: w.Seed})
		for _, of := range []quantity.Measurand{quantity.OfTAN, quantity.OfNO2} {
			if _, ok := o.Evidence[of]; ok && b.Evidence[of].Alarming { // by histories
				o.alarm(of, true)
			}
		}
		out[k], errs[k] = o.unforeseen(), err
	})
	if watch.Stopped() {
		return nil, fit.ErrStopped
	}
	return out, errors.Join(errs...)
}

// unforeseen is a belief about a time to come, without what alarms: whether it was misread, passes, or means a filter
// that is no more, the next reading tells. Ammonia becomes nitrite, so that it takes nitrite along.
func (b Belief) unforeseen() Belief {
	tan := b.Evidence[quantity.OfTAN].Alarming
	no2 := tan || b.Evidence[quantity.OfNO2].Alarming
	b.foreseen = true
	for i := range b.Draws {
		if tan {
			b.Draws[i].TAN = quantity.TotalAmmonia(math.NaN())
		}
		if no2 {
			b.Draws[i].NO2 = quantity.Nitrite(math.NaN())
		}
	}
	return b
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
