package infer

import (
	"slices"
	"time"

	"halfwater/book"
	"halfwater/infer/fit"
)

const (
	week   = 7 * 24 * time.Hour
	season = 13 * week // by how much the beginning of a long book's window moves on
)

// epoch is where histories begin: with the book, or, when that is longer than the window, a whole number of
// seasons later, so that the window is 26 to 39 weeks long, whatever is written in it, and begins for many days on the same one.
func (w *walk) epoch(lines []book.Line) time.Time {
	first := w.first(lines)
	if behind := w.from.Sub(first); behind > 0 {
		seasons := (behind + season - 1) / season
		return first.Add(seasons * season)
	}
	return first
}

// first is when the book began.
func (w *walk) first(lines []book.Line) time.Time {
	first := w.start
	for _, l := range lines {
		if l.At.Before(first) {
			first = l.At
		}
	}
	return first
}

// whole asks the question of the whole window, with what was learnt before it. Errors: those of
// dynamics.Compile, [NothingRead] and fit.ErrStopped.
func (w *walk) whole(lines []book.Line, win Window, watch fit.Watch) (*question, error) {
	from := w.epoch(lines)
	if w.before = w.pastBy(win.Before, lines, from); w.before == nil {
		w.before = w.past(lines, win, from, generations, watch)
	}
	if watch.Stopped() {
		return nil, fit.ErrStopped
	}
	// What happened just now has happened.
	q, err := w.ask(lines, win.Water, from, win.At.Add(time.Minute), win.Recorded)
	if err != nil {
		return nil, err
	}
	if len(q.Readings) == 0 {
		return nil, NothingRead{w.start, win.At}
	}
	return q, nil
}

// past is what was found by the half year before a window began: histories that end where it begins. It hangs on
// nothing that came later.
type past struct {
	at    time.Time
	lines []string // by which it was found: ids, of readings with the basis that they were taken on
	held  float64  // litres that a factor of 1 on the held water stands for
	draws []fit.History
}

const (
	generations = 2 // how many half years are looked at before a window; of earlier ones little is left
	fewest      = 8 // readings from which on a half year says something
)

// looking is the effort spent on a half year before the window.
var looking = fit.Effort{Draws: 100}

// past looks at the half year before a moment; nil when there was none, nothing was found or the watch ended it.
func (w *walk) past(lines []book.Line, win Window, at time.Time, generation int, watch fit.Watch) *past {
	first := w.first(lines)
	if generation == 0 || !at.After(first) {
		return nil
	}
	from := at.Add(-2 * season)
	if from.Before(first) {
		from = first
	}
	_, then, its, err := believe(Window{Lines: win.Lines, Water: win.Water, At: at, Recorded: win.Recorded, Seed: win.Seed})
	if err != nil {
		return nil
	}
	half := 0.0
	if generation > 1 && from.After(first) {
		half = 0.5
	}
	then.before = then.past(its, win, from, generation-1, watch.Part(0, half))
	q, err := then.ask(its, win.Water, from, at, win.Recorded)
	if err != nil || len(q.Readings) < fewest {
		return nil
	}
	post, err := q.Solve(spent(looking, watch.Part(half, 1)), win.Seed)
	if err != nil || !post.Sure {
		return nil
	}
	return &past{at: at, lines: w.linesBefore(lines, at), held: q.Course.Held, draws: post.Draws}
}

// pastBy is what a belief has found already, when it holds for these lines.
func (w *walk) pastBy(b *Belief, lines []book.Line, at time.Time) *past {
	if b == nil || b.account == nil {
		return nil
	}
	p := b.account.walk.before
	if p == nil || !p.at.Equal(at) || !slices.Equal(p.lines, w.linesBefore(lines, at)) {
		return nil
	}
	return p
}

// linesBefore are the lines up to a moment, tests of other waters among them, by what they say.
func (w *walk) linesBefore(lines []book.Line, at time.Time) []string {
	var out []string
	for _, list := range [][]book.Line{lines, w.tests} {
		for i := range list {
			l := &list[i]
			if l.At.After(at) {
				continue
			}
			says := string(l.ID)
			if r, ok := l.Body.(book.Reading); ok {
				says += " " + string(r.Basis)
			}
			out = append(out, says)
		}
	}
	return out
}
