package infer

import (
	"slices"
	"time"

	"halfwater/book"
)

// Foresee gives the beliefs about moments that lie ahead, by the book and by lines that are expected:
// changes and top-ups as the routine has them, with the dates on which they would happen. It carries on
// exactly as [Believe] does between the last reading and now, so that its bands are those that were tried in
// doc/infer.md. Doubt about lines that are kept otherwise is not in it. Moments must ascend. Errors: those of
// [Believe].
func Foresee(w Window, expected []book.Line, at []time.Time) ([]Belief, error) {
	known := w.Recorded
	if known.IsZero() {
		known = w.At
	}
	lines := slices.Clip(book.Standing(w.Lines, known))
	for _, l := range expected {
		l.Recorded = known
		lines = append(lines, l)
	}
	out := make([]Belief, 0, len(at))
	for _, t := range at {
		b, err := Believe(Window{Lines: lines, Water: w.Water, At: t, Recorded: known, Seed: w.Seed})
		if err != nil {
			return nil, err
		}
		out = append(out, b)
	}
	return out, nil
}
