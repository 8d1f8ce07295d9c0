package infer

import (
	"halfwater/book"
	"halfwater/infer/blame"
	"halfwater/infer/fit"
)

// contradictions are what does not fit in the readings of a question, of the lines that it was asked of.
func (q *question) contradictions(post *fit.Posterior, lines []book.Line) []blame.Contradiction {
	return blame.Contradictions(q.accusing(lines), post)
}

// accusing is the question as package blame takes it.
func (q *question) accusing(lines []book.Line) *blame.Question {
	out := &blame.Question{Problem: q.Problem, Lines: withPure(lines)}
	for _, w := range q.witnesses {
		middle, _ := w.middle()
		out.Witnesses = append(out.Witnesses, blame.Witness{
			Line: w.line, Of: w.of, Reads: w.reads, Kit: w.kit, Lot: w.lot, Middle: middle,
		})
	}
	return out
}
