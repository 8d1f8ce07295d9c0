package blame

import (
	"slices"

	"halfwater/book"
	"halfwater/infer/fit"
	"halfwater/quantity"
)

// Question is a book as it was put to package fit: the problem, and who said what in it.
type Question struct {
	fit.Problem
	Witnesses []Witness   // by reading of the problem
	Lines     []book.Line // of which it was made; what is in a pure source water must be written in its line
}

// Witness is who told of a reading.
type Witness struct {
	Line   book.Line
	Of     quantity.Measurand // that it tells of the enclosure's water; another name where it tells of something else
	Reads  quantity.Measurand // that its kit reads, be it in the enclosure or in a sample that is known
	Kit    string             // its name; "" where none was named
	Lot    string             // by which readings made with one lot are known
	Middle float64            // what stands for the reading, canonical
}

// mostContradictions is how many are named.
const mostContradictions = 6

// Contradictions names what does not fit in the readings of a question, and weighs who is to blame: one reading,
// the unit, the lot, the book, or the water. Each is weighed by how likely it makes the readings that it is
// about when all others are taken as they are. What several may explain is one contradiction; when it is named
// the likeliest is taken as found and the rest is looked at again. It is a pure function of its arguments: none where
// nothing was read or the numbers do not bear it.
func Contradictions(q *Question, post *fit.Posterior) []Contradiction {
	if len(q.Witnesses) == 0 || len(q.Witnesses) != len(q.Readings) {
		return nil
	}
	which := heard(q)
	s, ok := newScales(q, post, which)
	if !ok {
		return nil
	}
	c := courtOf(q, post, which, s)
	open := slices.Clone(c.charges)
	for range mostContradictions {
		named, after := c.next()
		if named == nil {
			break
		}
		c.out = append(c.out, *named)
		if after == nil {
			return c.out
		}
		c.scales = after
	}
	c.scales, c.charges = s, open
	c.apart()
	return c.out
}
