package plan

import (
	"halfwater/book"
	"halfwater/quantity"
)

// lastPour is what the latest change of the book poured: its level of a measurand and its litres.
// False when there is none, or one of its waters is not known now.
func (v *visit) lastPour(of quantity.Measurand) (level float64, litres quantity.Litres, ok bool) {
	for i := len(v.Lines) - 1; i >= 0; i-- {
		c, is := v.Lines[i].Body.(book.Change)
		if !is || !v.mine(v.Lines[i]) {
			continue
		}
		for _, in := range c.In {
			found := false
			for _, s := range v.sources {
				if s.name == in.Source {
					level += float64(in.Litres) * levelOf(s.mid, of)
					found = true
				}
			}
			if !found {
				return 0, 0, false
			}
			litres += in.Litres
		}
		if litres <= 0 {
			return 0, 0, false
		}
		for _, p := range c.Salts {
			for _, s := range usable {
				if sameSalt(p.Formula, s.formula) {
					level += float64(p.Grams) * s.brings(of)
				}
			}
		}
		return level / float64(litres), litres, true
	}
	return 0, 0, false
}
