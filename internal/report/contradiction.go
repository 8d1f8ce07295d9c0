package report

import (
	"slices"
	"strings"

	"halfwater/book"
	"halfwater/infer"
	"halfwater/internal/look"
	"halfwater/internal/say"
	"halfwater/quantity"
)

// ContradictionNow is evidence that does not fit together, with who may be to blame and what would tell.
type ContradictionNow struct {
	Of       quantity.Measurand
	Says     string
	Lines    []book.ID
	Culprits []CulpritNow
	Suspect  []book.ID  // those of Lines that are more likely wrong than right
	Doubts   string     // which they are, in words; "" none
	Checks   []CheckNow // what to do to tell the culprits apart, what tells most first
}

// CheckNow is something to do.
type CheckNow struct{ Code string }

// CulpritNow is one way in which it may have come about.
type CulpritNow struct {
	Code    string
	Of      quantity.Measurand
	Name    string // as the belief has it
	Kit     string // of a unit, lot or pen
	What    string // in words
	Written bool   // Name is a line of the book
	Odds    float64
}

// manyLines is how many readings of a contradiction are named one by one.
const manyLines = 3

func contradictions(b infer.Belief, lines []book.Line) []ContradictionNow {
	if len(b.Contradictions) == 0 {
		return nil
	}
	byID := map[book.ID]book.Line{}
	for _, l := range lines {
		byID[l.ID] = l
	}
	var out []ContradictionNow
	for _, c := range b.Contradictions {
		n := ContradictionNow{Of: c.Of, Lines: c.Lines, Suspect: c.Suspect}
		n.Says = say.Sentence("infer.contradiction", struct {
			These string
			One   bool
		}{these(c.Lines, byID, b), len(c.Lines) == 1})
		for _, x := range c.Culprits {
			what, written := lineWords(book.ID(x.Name), byID, b)
			if !written {
				what = x.Name
			}
			n.Culprits = append(n.Culprits, CulpritNow{Code: x.Code, Of: c.Of, Name: x.Name, Kit: x.Kit, What: what, Written: written, Odds: x.Odds})
		}
		if k := len(c.Suspect); k > 0 {
			n.Doubts = say.Sentence("infer.suspect", struct {
				N        int
				One, All bool
				These    string
			}{k, k == 1, k == len(c.Lines), these(c.Suspect, byID, b)})
		}
		for _, code := range c.Checks {
			n.Checks = append(n.Checks, CheckNow{code})
		}
		out = append(out, n)
	}
	return out
}

// these names readings: each when they are few, else how many and from when to when.
func these(ids []book.ID, byID map[book.ID]book.Line, b infer.Belief) string {
	var each []string
	var first, last string
	for _, id := range ids {
		l, ok := byID[id]
		if !ok {
			continue
		}
		words, _ := lineWords(id, byID, b)
		each = append(each, words)
		if last = say.ShortDay(l.At, b.At); first == "" {
			first = last
		}
	}
	if len(each) > manyLines {
		return say.Sentence("infer.many-readings", struct {
			N           int
			First, Last string
		}{len(each), first, last})
	}
	return strings.Join(each, "; ")
}

// lineWords names a line: a reading by its kit, day and what was shown, another by its kind and day.
func lineWords(id book.ID, byID map[book.ID]book.Line, b infer.Belief) (string, bool) {
	l, ok := byID[id]
	if !ok {
		return "", false
	}
	if r, is := l.Body.(book.Reading); is {
		return kitAndDay(r.Kit, l, b) + ": " + r.Shown, true
	}
	return l.Body.Kind() + ", " + say.ShortDay(l.At, b.At), true
}

// ContradictionRow is a contradiction as the page shows it.
type ContradictionRow struct {
	Name, Says string
	Culprits   []OddsRow
	Doubts     string
	Checks     []string
}

// ContradictionRows words what does not fit.
func ContradictionRows(n WaterNow) []ContradictionRow {
	var out []ContradictionRow
	for _, c := range n.Contradictions {
		r := ContradictionRow{Name: name(c.Of), Says: c.Says, Doubts: c.Doubts}
		for _, x := range c.Culprits {
			r.Culprits = append(r.Culprits, OddsRow{look.OddsOf(x.Odds), say.Sentence(x.Code, x)})
		}
		for _, x := range c.Checks {
			r.Checks = append(r.Checks, say.Sentence(x.Code, x))
		}
		out = append(out, r)
	}
	return out
}

// UnfitWords says in a line of what something does not fit; "" when all does.
func UnfitWords(rows []ContradictionRow) string {
	var names []string
	for _, r := range rows {
		if !slices.Contains(names, r.Name) {
			names = append(names, r.Name)
		}
	}
	if len(names) == 0 {
		return ""
	}
	return say.Sentence("now.unfit", names)
}
