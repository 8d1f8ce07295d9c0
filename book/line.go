package book

import (
	"slices"
	"time"
)

// ID is an opaque, time-sortable name of a line, made by the program.
type ID string

// MainWater is the water body of a line that names none.
const MainWater = "main"

// By says who wrote a line; a sitter's readings count less.
type By string

// The hands that write.
const (
	Keeper By = "keeper"
	Sitter By = "sitter"
	Probe  By = "probe"
)

// Body is what a line says. Facts of package enclosure are bodies too.
type Body interface{ Kind() string }

// Line is one thing that happened, or one fact from its date on.
type Line struct {
	ID       ID
	At       time.Time // when it held or happened
	Recorded time.Time // when the book learnt it
	Water    string    // water body; MainWater by default
	Batch    string    // a batch of animals by its stock name; "" when none is meant
	By       By
	Body     Body
}

// Compare orders lines by At, then by Recorded, then by ID: the order of the book.
func Compare(a, b Line) int {
	if c := a.At.Compare(b.At); c != 0 {
		return c
	}
	if c := a.Recorded.Compare(b.Recorded); c != 0 {
		return c
	}
	switch {
	case a.ID < b.ID:
		return -1
	case a.ID > b.ID:
		return 1
	}
	return 0
}

// Sort puts lines into the order of the book.
func Sort(lines []Line) { slices.SortStableFunc(lines, Compare) }

// Standing are the lines that stand at a moment of knowledge, in the order of the book: recorded by
// then and not withdrawn by a line recorded by then. A withdrawal that is itself withdrawn no longer
// counts. Lines that are set aside still stand; see [SetAsides].
func Standing(lines []Line, recorded time.Time) []Line {
	gone := withdrawn(lines, recorded)
	out := make([]Line, 0, len(lines)) // a book with a probe is long
	for i := range lines {
		if l := &lines[i]; !l.Recorded.After(recorded) && (len(gone) == 0 || !gone[l.ID]) {
			out = append(out, *l)
		}
	}
	if len(out) == 0 {
		return nil
	}
	if !slices.IsSortedFunc(out, Compare) {
		Sort(out)
	}
	return out
}

// Window is a part of a book. The zero window is all of it.
type Window struct {
	From, To time.Time // From <= At < To; a zero end is open
	Kinds    []string  // only these kinds; all when empty
}

// Has reports whether a line lies in the window.
func (w Window) Has(l Line) bool {
	return !l.At.Before(w.From) && (w.To.IsZero() || l.At.Before(w.To)) &&
		(len(w.Kinds) == 0 || slices.Contains(w.Kinds, l.Body.Kind()))
}
