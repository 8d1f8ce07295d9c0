package infer

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"testing"
	"time"

	"halfwater/book"
	"halfwater/infer/blame"
	"halfwater/kit"
	"halfwater/quantity"
)

// sound asks of a belief what any must be: bands of numbers in order, odds that are odds, and every reading of
// what is carried accounted for, as evidence, as doubtful, or in a contradiction.
func sound(t testing.TB, name string, b Belief, lines []book.Line) {
	t.Helper()
	if len(b.Draws) == 0 {
		t.Errorf("%s: no draws", name)
	}
	for _, m := range append(slices.Clone(measured), quantity.OfTAN, quantity.OfNO2) {
		_, rests := b.Evidence[m]
		v, ok := b.Band(m)
		if ok != rests {
			t.Errorf("%s: %s has a band: %v, evidence: %v", name, m.Label(), ok, rests)
		}
		if !ok {
			continue
		}
		for _, x := range []float64{v.Low, v.Lo, v.Median, v.Hi, v.High} {
			if math.IsNaN(x) || math.IsInf(x, 0) {
				t.Errorf("%s: %s: band %+v", name, m.Label(), v)
			}
		}
		if !(v.Low <= v.Lo && v.Lo <= v.Median && v.Median <= v.Hi && v.Hi <= v.High) || v.Low < 0 {
			t.Errorf("%s: %s: band %+v", name, m.Label(), v)
		}
	}
	for _, c := range b.Contradictions {
		sum := 0.0
		for i, x := range c.Culprits {
			if !(x.Odds > 0 && x.Odds <= 1) || i > 0 && x.Odds > c.Culprits[i-1].Odds {
				t.Errorf("%s: culprits %+v", name, c.Culprits)
			}
			sum += x.Odds
		}
		if math.Abs(sum-1) > 1e-9 || len(c.Lines) == 0 {
			t.Errorf("%s: odds sum to %g, lines %v", name, sum, c.Lines)
		}
		for _, id := range c.Suspect {
			if !slices.Contains(c.Lines, id) {
				t.Errorf("%s: %s is suspect and not among the lines", name, id)
			}
		}
	}
	for _, l := range lines {
		r, ok := l.Body.(book.Reading)
		if !ok || slices.ContainsFunc(b.Oddities, func(o Oddity) bool { return slices.Contains(o.Lines, l.ID) }) {
			continue
		}
		if l.At.After(b.At) {
			t.Errorf("%s: reading %s of %s lies ahead, without a word", name, l.ID, r.Of.Label())
		}
		m := r.Of
		e, ok := b.Evidence[m]
		if !ok || len(e.Readings) == manyReadings { // the latest ones only are named
			continue
		}
		named := slices.Contains(e.Readings, l.ID) || slices.ContainsFunc(b.Doubtful, func(d Doubtful) bool { return d.Line == l.ID }) ||
			slices.ContainsFunc(b.Contradictions, func(c blame.Contradiction) bool { return slices.Contains(c.Lines, l.ID) })
		if !named {
			t.Errorf("%s: reading %s of %s was dropped without a word", name, l.ID, m.Label())
		}
	}
}

// learnable asks that what is learnt be numbers, or that there be nothing to learn from.
func learnable(t *testing.T, w Window) {
	t.Helper()
	l, err := Learn(w)
	var nothing NothingRead
	if err != nil && !errors.As(err, &nothing) {
		t.Errorf("learnt: %v", err)
	}
	for _, v := range l.Values {
		if math.IsNaN(v.Own.Median) || math.IsNaN(v.Told) || math.IsNaN(v.Moved) {
			t.Errorf("learnt: %+v", v)
		}
	}
}

// TestBadInput goes through what keepers' books hold that they should not, and asks for a sound belief and for what is
// named.
func TestBadInput(t *testing.T) {
	bare := func(of quantity.Measurand, lo, hi float64) book.Reading {
		return book.Reading{Of: of, Shown: fmt.Sprint(lo), Unit: of.Unit(), Lo: lo, Hi: hi}
	}
	facts := func(n *notes) {
		n.add(day0, plain)
		n.add(day0, hardTap)
		for _, k := range []kit.Kit{no3Card, khDrops, ghDrops, phPen, ecPen, tanCard} {
			n.add(day0, k)
		}
		n.add(day0, book.Feed{What: "dry", Grams: 0.3, ProteinShare: 0.45, InWater: true, PerDay: true})
	}
	weekly := func(t *testing.T, n *notes, from time.Time, weeks int) {
		for wk := range weeks {
			at := from.AddDate(0, 0, 7*wk+1)
			n.read(t, at, no3Card, "25")
			n.read(t, at, khDrops, "6")
			n.add(at.Add(time.Hour), book.Change{OutLitres: 15, In: []book.Poured{{Source: "tap", Litres: 15}}})
		}
	}
	named := func(of quantity.Measurand, code string, ids ...book.ID) func(*testing.T, Belief) {
		return func(t *testing.T, b Belief) {
			i := slices.IndexFunc(b.Contradictions, func(c blame.Contradiction) bool { return c.Of == of && c.Odds(code) > 0 })
			if i < 0 {
				t.Fatalf("not named: %+v", b.Contradictions)
			}
			for _, id := range ids {
				if !slices.Contains(b.Contradictions[i].Lines, id) {
					t.Errorf("%s is not among the lines: %+v", id, b.Contradictions[i])
				}
			}
		}
	}
	far := func(id book.ID) func(*testing.T, Belief) {
		return func(t *testing.T, b Belief) {
			if !slices.ContainsFunc(b.Doubtful, func(d Doubtful) bool { return d.Line == id }) {
				t.Errorf("%s is not named: %+v", id, b.Doubtful)
			}
		}
	}
	odd := func(code string, ids ...book.ID) func(*testing.T, Belief) {
		return func(t *testing.T, b Belief) {
			i := slices.IndexFunc(b.Oddities, func(o Oddity) bool { return o.Code == code })
			if i < 0 || !slices.Equal(b.Oddities[i].Lines, ids) {
				t.Errorf("%s %v is not named: %+v", code, ids, b.Oddities)
			}
			if len(b.Oddities) != 1 {
				t.Errorf("more is odd than there is: %+v", b.Oddities)
			}
		}
	}
	day := func(d float64) time.Time { return day0.Add(time.Duration(d * 24 * float64(time.Hour))) }
	for _, c := range []struct {
		name string
		at   time.Time
		book func(*testing.T, *notes) func(*testing.T, Belief)
	}{
		{"nothing at all", day(1), func(*testing.T, *notes) func(*testing.T, Belief) { return nil }},
		{"no reading: the balance alone", day(30), func(t *testing.T, n *notes) func(*testing.T, Belief) {
			facts(n)
			return func(t *testing.T, b Belief) {
				if v := band(t, b, quantity.OfKH); v.Hi-v.Lo < 2 {
					t.Errorf("KH %+v and nobody read it", v)
				}
			}
		}},
		{"three readings", day(3), func(t *testing.T, n *notes) func(*testing.T, Belief) {
			facts(n)
			n.read(t, day(1), no3Card, "25")
			n.read(t, day(1), khDrops, "6")
			n.read(t, day(1), phPen, "7.40")
			return func(t *testing.T, b Belief) {
				if v := band(t, b, quantity.OfNO3); v.Hi/v.Lo < 1.5 {
					t.Errorf("nitrate %+v from one card", v)
				}
				if v := band(t, b, quantity.OfGH); v.Hi-v.Lo < 2 {
					t.Errorf("GH %+v and nobody read it", v)
				}
			}
		}},
		{"the level rises without water in", day(20), func(t *testing.T, n *notes) func(*testing.T, Belief) {
			facts(n)
			staff := kit.Kit{Name: "staff", Of: quantity.OfLevel, Form: kit.Meter, Unit: "mm", Accuracy: 1, Digit: 1}
			n.add(day0, staff)
			weekly(t, n, day0, 2)
			a := n.read(t, day(9), staff, "180")
			b := n.read(t, day(12), staff, "198")
			n.read(t, day(14), staff, "196")
			return named(quantity.OfLevel, blame.ByLog, a, b)
		}},
		{"two readings of one minute and kit, 5 and 50", day(20), func(t *testing.T, n *notes) func(*testing.T, Belief) {
			facts(n)
			weekly(t, n, day0, 2)
			a := n.read(t, day(15), no3Card, "5")
			b := n.read(t, day(15), no3Card, "50")
			return named(quantity.OfNO3, blame.ByReading, a, b)
		}},
		{"half a year without a line", day(230), func(t *testing.T, n *notes) func(*testing.T, Belief) {
			facts(n)
			weekly(t, n, day0, 3)
			last := n.lines[len(n.lines)-1].ID
			first := n.read(t, day(215), no3Card, "50")
			n.read(t, day(215), khDrops, "3")
			return odd(OddGap, last, first)
		}},
		{"nothing read for half a year, up to now", day(200), func(t *testing.T, n *notes) func(*testing.T, Belief) {
			facts(n)
			weekly(t, n, day0, 3)
			return odd(OddGap, n.lines[len(n.lines)-1].ID)
		}},
		{"a clock that went back", day(30), func(t *testing.T, n *notes) func(*testing.T, Belief) {
			facts(n)
			weekly(t, n, day0, 3)
			var back []book.ID
			for i := range n.lines { // written down in the order of the book, an hour apart, from a clock that went back a week
				n.lines[i].Recorded = day(29).Add(time.Duration(i) * time.Minute)
				if i > 12 {
					n.lines[i].Recorded = n.lines[i].Recorded.AddDate(0, 0, -7)
					back = append(back, n.lines[i].ID)
				}
			}
			return odd(OddBack, back...)
		}},
		{"written down before it was", day(30), func(t *testing.T, n *notes) func(*testing.T, Belief) {
			facts(n)
			weekly(t, n, day0, 3)
			id := n.read(t, day(25), khDrops, "6")
			n.lines[len(n.lines)-1].Recorded = day(22)
			return odd(OddEarly, id)
		}},
		{"of a day to come", day(30), func(t *testing.T, n *notes) func(*testing.T, Belief) {
			facts(n)
			weekly(t, n, day0, 3)
			return odd(OddAhead, n.read(t, day(90), khDrops, "9"))
		}},
		{"of a day long before the box", day(20), func(t *testing.T, n *notes) func(*testing.T, Belief) {
			id := n.read(t, day(-4000), khDrops, "12")
			facts(n)
			weekly(t, n, day0, 2)
			return odd(OddLong, id)
		}},
		{"a reading before the enclosure was", day(20), func(t *testing.T, n *notes) func(*testing.T, Belief) {
			first := n.read(t, day(-40), khDrops, "12")
			second := n.add(day(-39), bare(quantity.OfNO3, 5, 10))
			facts(n)
			weekly(t, n, day0, 2)
			return odd(OddBefore, first, second)
		}},
		{"a late line in the middle", day(40), func(t *testing.T, n *notes) func(*testing.T, Belief) {
			facts(n)
			weekly(t, n, day0, 5)
			n.read(t, day(18), ghDrops, "9")
			n.lines[len(n.lines)-1].Recorded = day(39)
			return nil
		}},
		{"an interval that is none", day(10), func(t *testing.T, n *notes) func(*testing.T, Belief) {
			facts(n)
			weekly(t, n, day0, 1)
			id := n.add(day(5), bare(quantity.OfKH, 7, 3))
			n.add(day(5), bare(quantity.OfGH, math.NaN(), 3))
			return far(id)
		}},
		{"as much as can be shown", day(10), func(t *testing.T, n *notes) func(*testing.T, Belief) {
			facts(n)
			weekly(t, n, day0, 1)
			n.add(day(5), bare(quantity.OfKH, 99, 100))
			n.add(day(5), bare(quantity.OfNO3, 490, 500))
			n.add(day(5), bare(quantity.OfEC, 59000, 60000))
			n.add(day(5), bare(quantity.OfPH, 2, 2.1))
			n.add(day(5), bare(quantity.OfTAN, 99, 100))
			return nil
		}},
		{"changes larger than the water", day(20), func(t *testing.T, n *notes) func(*testing.T, Belief) {
			facts(n)
			weekly(t, n, day0, 2)
			n.add(day(16), book.Change{OutLitres: 5000, In: []book.Poured{{Source: "tap", Litres: 5000}}})
			n.add(day(17), book.Change{OutLitres: 10})
			n.add(day(18), book.TopUp{Source: "no such water", Litres: 700})
			n.read(t, day(19), khDrops, "9")
			return nil
		}},
		{"a kit that is no fact", day(10), func(t *testing.T, n *notes) func(*testing.T, Belief) {
			facts(n)
			n.add(day(5), book.Reading{Of: quantity.OfKH, Kit: "lent by a friend", Shown: "5", Unit: "dKH", Lo: 4, Hi: 5})
			n.add(day(6), book.Reading{Of: quantity.OfKH, Kit: "nitrate card", Shown: "5", Unit: "dKH", Lo: 4, Hi: 5})
			return nil
		}},
	} {
		t.Run(c.name, func(t *testing.T) {
			n := notes{}
			want := c.book(t, &n)
			w := Window{Lines: n.lines, At: c.at, Recorded: c.at, Now: c.at, Seed: 3}
			for _, l := range n.lines { // the book knows what stands in it, whatever the clock says
				if l.Recorded.After(w.Recorded) {
					w.Recorded = l.Recorded
				}
			}
			b, err := Believe(w)
			if err != nil {
				t.Fatal(err)
			}
			sound(t, "believed", b, n.lines)
			if want != nil {
				want(t, b)
			}
			glance, err := Glance(w)
			if err != nil {
				t.Fatal(err)
			}
			sound(t, "at a glance", glance, n.lines)
			w.Lines = slices.Clone(n.lines)
			slices.Reverse(w.Lines)
			if other, _ := Glance(w); !slices.Equal(bits(glance), bits(other)) {
				t.Error("the order in which lines are handed over matters")
			}
			if !testing.Short() {
				learnable(t, w)
			}
		})
	}
}
