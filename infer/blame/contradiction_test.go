package blame

import (
	"slices"
	"testing"

	"halfwater/book"
)

// TestContradictions: a book in which all is well has none; where one KH of it is read three times as high, that reading is named,
// whose culprits sum to one, and is more likely wrong than not.
func TestContradictions(t *testing.T) {
	q, post := asked(t)
	if c := Contradictions(q, post); len(c) > 0 {
		t.Fatalf("all is well, and %+v", c)
	}
	at := slices.IndexFunc(q.Witnesses, func(w Witness) bool { return w.Kit == "KH drops" && w.Line.At.Sub(q.Lines[0].At).Hours() > 24*35 })
	q.Readings[at].Lo, q.Readings[at].Hi = 3*q.Readings[at].Lo, 3*q.Readings[at].Hi
	c := Contradictions(q, post)
	if len(c) != 1 || !slices.Equal(c[0].Suspect, []book.ID{q.Witnesses[at].Line.ID}) || c[0].Odds(ByReading) < 0.5 {
		t.Fatalf("three times as high: %+v", c)
	}
	sum := 0.0
	for _, x := range c[0].Culprits {
		sum += x.Odds
	}
	if sum < 1-1e-9 || sum > 1+1e-9 {
		t.Errorf("odds sum to %g", sum)
	}
}

// TestNothingToJudge: without readings, or with a witness too few, there is nothing to judge.
func TestNothingToJudge(t *testing.T) {
	q, post := asked(t)
	q.Witnesses = q.Witnesses[1:]
	if c := Contradictions(q, post); c != nil {
		t.Errorf("a witness too few: %+v", c)
	}
	q.Witnesses, q.Readings = nil, nil
	if c := Contradictions(q, post); c != nil {
		t.Errorf("no readings: %+v", c)
	}
}
