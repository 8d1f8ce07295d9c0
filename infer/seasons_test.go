package infer

import (
	"math"
	"testing"

	"halfwater/book"
	"halfwater/dynamics"
	"halfwater/quantity"
)

// TestCarriedOver: of a book of 60 weeks the last 34 are fitted, with what the half year before has found.
func TestCarriedOver(t *testing.T) {
	e := newTruth(11, "plain")
	e.keep(60)
	at := day0.AddDate(0, 0, 7*60+3)
	win := Window{Lines: e.lines, At: at, Recorded: at, Seed: 1}
	b, err := Believe(win)
	if err != nil {
		t.Fatal(err)
	}
	if b.account == nil {
		t.Fatal("no histories")
	}
	q, p := b.account.question, b.account.walk.before
	if p == nil || q.Carried == nil {
		t.Fatal("nothing was carried over")
	}
	if want := day0.Add(2 * season); !q.Course.From.Equal(want) || !p.at.Equal(want) {
		t.Errorf("histories begin at %s, what was carried over ends at %s, not after two seasons at %s", q.Course.From, p.at, want)
	}

	// An own constant is never better known than what half a year leaves, nor worse than the books know it.
	least := math.Sqrt(1 - math.Pow(value("carry.keeps"), 26))
	for u := range q.Carried.Root {
		sd := 0.0
		for v := range u + 1 {
			sd = math.Hypot(sd, q.Carried.Root[u][v])
		}
		if sd < least-1e-9 || sd > 1.25 { // a hundred draws know a deviation to 7 %; Root is of sums of them
			t.Errorf("%v: carried over with %.2f of the book's doubt, not %.2f to 1", dynamics.Unknown(u), sd, least)
		}
		// What half a year of cards and drops tells best: nitrate the load, KH the stone.
		if u := dynamics.Unknown(u); (u == dynamics.Load || u == dynamics.Stone) && sd > 0.9 {
			t.Errorf("%v: known no better than %.2f of the book's doubt after half a year", u, sd)
		}
	}

	// What begins anew knows nothing of the half year before.
	for _, u := range anew {
		for v := range q.Carried.Root {
			want := 0.0
			if v == int(u) {
				want = 1
			}
			if row, column := q.Carried.Root[u][v], q.Carried.Root[v][u]; row != want || v != int(u) && column != 0 || q.Carried.Mean[u] != 0 {
				t.Errorf("%v begins anew and yet hangs on %v", u, dynamics.Unknown(v))
			}
		}
	}

	// The beginning is where the histories before ended, and neutral.
	params := dynamics.Book()
	params[dynamics.HeldWater] = p.held / q.Course.Held
	s := q.Start(&params, make([]float64, len(q.Starts)))
	if c := s.Charge() / s.Volume; math.Abs(c) > 1e-9 {
		t.Errorf("charge of %g meq/L at the beginning", c)
	}
	for _, m := range []struct {
		name string
		of   func(s *dynamics.State) float64
	}{
		{"GH", func(s *dynamics.State) float64 { return float64(s.GH()) }},
		{"KH", func(s *dynamics.State) float64 { return float64(s.KH()) }},
		{"nitrate", func(s *dynamics.State) float64 { return float64(s.Nitrate()) }},
		{"slow mulm", func(s *dynamics.State) float64 { return s.Slow }},
		{"nitrite oxidisers", func(s *dynamics.State) float64 { return s.Filter().Nitrite }},
	} {
		lo, hi := math.Inf(1), math.Inf(-1)
		for i := range p.draws {
			x := m.of(&p.draws[i].End)
			lo, hi = min(lo, x), max(hi, x)
		}
		if x := m.of(&s); x < lo || x > hi {
			t.Errorf("%s %.3g at the beginning; the histories before ended with %.3g to %.3g", m.name, x, lo, hi)
		}
	}

	// A line more does not look at the past again; one that lies there does.
	more := e.lines[len(e.lines)-1]
	more.ID, more.At = "one more", at
	more.Recorded = at
	more.Body = book.Reading{Of: quantity.OfKH, Unit: "dKH", Shown: "4", Lo: 3, Hi: 4}
	again := win
	again.Lines, again.Before = append(e.lines[:len(e.lines):len(e.lines)], more), &b
	c, err := Believe(again)
	if err != nil {
		t.Fatal(err)
	}
	if c.account == nil || c.account.walk.before != p {
		t.Error("the half year before was looked at again")
	}
	more.At = day0.AddDate(0, 0, 100)
	again.Lines = append(e.lines[:len(e.lines):len(e.lines)], more)
	c, err = Believe(again)
	if err != nil {
		t.Fatal(err)
	}
	if c.account != nil && c.account.walk.before == p {
		t.Error("a late line in the past was not heard of")
	}
}
