package plan

import (
	"halfwater/book"
	"halfwater/quantity"
	"halfwater/water"
)

// lastPours is what the last few changes of the book poured on average: the level of a measurand, by
// litres, and the litres of one change. A change with a water that is not known now is left out; false
// when none is left.
func (v *visit) lastPours(of quantity.Measurand) (level float64, litres quantity.Litres, ok bool) {
	var sum float64
	var all quantity.Litres
	n := 0
	for i := len(v.Lines) - 1; i >= 0 && n < lastChanges; i-- {
		c, is := v.Lines[i].Body.(book.Change)
		if !is || !v.mine(v.Lines[i]) || v.on.Sub(v.Lines[i].At) > lookBack {
			continue
		}
		if x, l, known := v.pouredBy(c, of); known {
			sum += x
			all += l
			n++
		}
	}
	if n == 0 {
		return 0, 0, false
	}
	return sum / float64(all), all / quantity.Litres(n), true
}

// pouredBy is what one change brought of a measurand, level times litres, and its litres.
func (v *visit) pouredBy(c book.Change, of quantity.Measurand) (sum float64, litres quantity.Litres, ok bool) {
	for _, in := range c.In {
		found := false
		for _, s := range v.sources {
			if s.name == in.Source {
				sum += float64(in.Litres) * levelOf(s.mid, of)
				found = true
			}
		}
		if !found {
			return 0, 0, false
		}
		litres += in.Litres
	}
	for _, p := range c.Salts {
		for _, s := range usable {
			if sameSalt(p.Formula, s.formula) {
				sum += float64(p.Grams) * s.brings(of)
			}
		}
	}
	return sum, litres, litres > 0
}

// pure reports whether a water brings next to nothing, so that topping up with RO is what is done.
func (s source) pure() bool {
	k := s.fact.Analysis.Kind
	return k == water.RO || k == water.Rain || s.fact.MadeBy != "" || s.mid.EC < pureUnder
}
