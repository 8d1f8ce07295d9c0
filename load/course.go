package load

import (
	"slices"
	"time"

	"halfwater/book"
	"halfwater/enclosure"
)

// Stretch is one input from one moment to another.
type Stretch struct {
	From, To time.Time
	What     string  // the keeper's word: "dry", "carcass", "leaf", or "stock"
	Line     book.ID // "" for the stock
	PerDay   Nutrients
}

// Course is what was put in over a time. Stretches overlap.
type Course []Stretch

// CourseOf reads the inputs of a water body from its lines, which must stand and be in the order of
// the book, up to a moment. A daily habit holds until the next habit of the same food for the same
// batch, or until a line of that food with no grams ends it; what was given once is spread over the
// time in which it comes free. While no food is written down, and none was in the fortnight before (feed.holds), the stock's
// [Resting] load stands in. What plants take up is not counted.
func CourseOf(lines []book.Line, waterBody string, until time.Time) Course {
	var out Course
	habits := map[[2]string]int{} // food and batch -> its open stretch
	var facts enclosure.Facts
	var stock []Stretch
	once := func(l book.Line, what string, n Nutrients, spread float64) {
		if n.N.Median > 0 || n.C.Median > 0 {
			out = append(out, Stretch{l.At, l.At.Add(days(spread)), what, l.ID, n.Times(1 / spread)})
		}
	}
	for _, l := range lines {
		if l.At.After(until) || l.Water != waterBody && l.Water != "" {
			continue
		}
		switch b := l.Body.(type) {
		case enclosure.Fact:
			facts = facts.With(b)
			if b.Kind() != (enclosure.Batch{}).Kind() && b.Kind() != (enclosure.Retired{}).Kind() {
				continue
			}
			if n := len(stock); n > 0 {
				stock[n-1].To = l.At
			}
			stock = append(stock, Stretch{l.At, until, "stock", "", restingOf(facts.Stock)})
		case book.Feed:
			n := Fed(b, useOf(facts.Stock, l.Batch))
			if !b.PerDay {
				once(l, b.What, n, table.Value("feed.spread"))
				continue
			}
			key := [2]string{b.What, l.Batch}
			if i, open := habits[key]; open {
				out[i].To = l.At
			}
			delete(habits, key)
			if n.N.Median > 0 {
				out = append(out, Stretch{l.At, until, b.What, l.ID, n})
				habits[key] = len(out) - 1
			}
		case book.Droppings:
			once(l, "droppings", Droppings(b.Grams, b.Where != "land"), 1/table.Value("mulm.labile_rate"))
		case book.Added:
			switch b.What {
			case "leaf":
				once(l, b.What, Leaf(b.Grams), 1/table.Value("mulm.slow_rate"))
			case "wood":
				once(l, b.What, Wood(b.Grams), 8/table.Value("mulm.slow_rate"))
			}
		case book.TakenOut:
			if b.What == "carcass" { // it had lain there, for a time that is not known
				n := Carcass(b.Grams).Times(0.5)
				n.N, n.TAN = n.N.By(Within(1.0, 2)), n.TAN.By(Within(1.0, 2))
				out = append(out, Stretch{l.At.Add(-days(3)), l.At.Add(days(2)), "carcass", l.ID, n.Times(1.0 / 5)})
			}
		}
	}
	for _, s := range stock {
		for _, gap := range unwritten(lines, waterBody, s.From, s.To) {
			s.From, s.To = gap.from, gap.to
			out = append(out, s)
		}
	}
	return slices.DeleteFunc(out, func(s Stretch) bool { return !s.From.Before(s.To) || s.PerDay.N.Median <= 0 && s.PerDay.C.Median <= 0 })
}

func restingOf(stock []enclosure.Batch) Nutrients {
	var sum Nutrients
	for _, b := range stock {
		if n, known := Resting(b); known {
			sum = sum.Plus(n)
		}
	}
	return sum
}

// At is what comes in per day at a moment.
func (c Course) At(t time.Time) Nutrients {
	var sum Nutrients
	for _, s := range c {
		if !t.Before(s.From) && t.Before(s.To) {
			sum = sum.Plus(s.PerDay)
		}
	}
	return sum
}

// Between is the median nitrogen that came in from a to b.
func (c Course) Between(a, b time.Time) MgN {
	var sum MgN
	for _, s := range c {
		from, to := s.From, s.To
		if from.Before(a) {
			from = a
		}
		if to.After(b) {
			to = b
		}
		if from.Before(to) {
			sum += s.PerDay.N.Median * MgN(to.Sub(from).Hours()/24)
		}
	}
	return sum
}
