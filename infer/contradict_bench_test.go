package infer

import (
	"testing"

	"halfwater/book"
	"halfwater/infer/fit"
)

// BenchmarkContradict weighs who is to blame in 26 weeks, in a book in which all is well and in one with faults.
func BenchmarkContradict(b *testing.B) {
	for _, kind := range []string{"plain", "faults"} {
		e := newTruth(3, kind)
		e.keep(26)
		q, post, lines := e.solved(b)
		b.Run(kind, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				q.contradictions(post, lines)
			}
		})
	}
}

// solved is the book as a question, with its posterior, as [Believe] has them.
func (t *truth) solved(tb testing.TB) (*question, *fit.Posterior, []book.Line) {
	tb.Helper()
	at := t.lines[len(t.lines)-1].At.AddDate(0, 0, 1)
	w := Window{Lines: t.lines, At: at, Recorded: at, Seed: 1}
	b, v, lines, err := believe(w)
	if err != nil {
		tb.Fatal(err)
	}
	a, err := v.histories(lines, b.window, fit.Watch{})
	if err != nil {
		tb.Fatal(err)
	}
	return a.question, &a.post, lines
}
