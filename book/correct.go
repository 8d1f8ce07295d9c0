package book

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"
)

var (
	_ = register(Withdraw{})
	_ = register(SetAside{})
	_ = register(Note{})
	_ = register(Price{})
)

// Withdraw says that an earlier line was wrong; what is right is another line.
type Withdraw struct {
	Line   ID
	Reason string
}

// SetAside says that an earlier reading is doubted: not used, still kept.
type SetAside struct {
	Line   ID
	Reason string
}

// withdrawn are the lines that are withdrawn at a moment of knowledge. The latest word counts first,
// so that withdrawing a withdrawal brings the line back.
func withdrawn(lines []Line, recorded time.Time) map[ID]bool {
	var words []Line
	for i := range lines {
		if _, ok := lines[i].Body.(Withdraw); ok && !lines[i].Recorded.After(recorded) {
			words = append(words, lines[i])
		}
	}
	slices.SortFunc(words, func(a, b Line) int {
		if c := b.Recorded.Compare(a.Recorded); c != 0 {
			return c
		}
		return strings.Compare(string(b.ID), string(a.ID))
	})
	gone := map[ID]bool{}
	for _, l := range words {
		if !gone[l.ID] {
			gone[l.Body.(Withdraw).Line] = true
		}
	}
	return gone
}

// SetAsides are the lines that are set aside at a moment of knowledge, with the reason given last.
func SetAsides(lines []Line, recorded time.Time) map[ID]SetAside {
	var words []Line
	for i := range lines {
		switch lines[i].Body.(type) {
		case SetAside, Withdraw:
			words = append(words, lines[i])
		}
	}
	out := map[ID]SetAside{}
	for _, l := range Standing(words, recorded) {
		if s, ok := l.Body.(SetAside); ok {
			out[s.Line] = s
		}
	}
	return out
}

// Note is free text.
type Note struct{ Text string }

// Price of something bought. Amount in the keeper's currency.
type Price struct {
	What     string
	Amount   float64
	Currency string // ISO 4217
}

// Kind is the kind of line.
func (Withdraw) Kind() string { return "withdraw" }

// Kind is the kind of line.
func (SetAside) Kind() string { return "set aside" }

// Kind is the kind of line.
func (Note) Kind() string { return "note" }

// Kind is the kind of line.
func (Price) Kind() string { return "price" }

// Refs are the names that the line uses.
func (w Withdraw) Refs() []Ref { return []Ref{{"line", "line", string(w.Line)}} }

// Refs are the names that the line uses.
func (s SetAside) Refs() []Ref { return []Ref{{"line", "line", string(s.Line)}} }

// Check says what is wrong with the line.
func (w Withdraw) Check() error {
	c := checking(w)
	c.named("line", string(w.Line), "write the id of the line that was wrong")
	return c.err()
}

// Check says what is wrong with the line.
func (s SetAside) Check() error {
	c := checking(s)
	c.named("line", string(s.Line), "write the id of the line that is doubted")
	return c.err()
}

// Check says what is wrong with the line.
func (n Note) Check() error {
	c := checking(n)
	c.named("text", n.Text, "write the note")
	return c.err()
}

// Check says what is wrong with the line.
func (p Price) Check() error {
	c := checking(p)
	c.named("what", p.What, "say what was bought")
	c.within("amount", p.Amount, 0, math.MaxFloat64, p.Currency)
	if len(p.Currency) != 3 || strings.ContainsFunc(p.Currency, func(r rune) bool { return r < 'A' || r > 'Z' }) {
		c.bad("currency", "book.currency", fmt.Sprintf("is %q", p.Currency), "write the three letters of ISO 4217: EUR, USD, GBP")
	}
	return c.err()
}
