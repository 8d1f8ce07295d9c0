package plan

import (
	"math"

	"halfwater/husbandry"
	"halfwater/quantity"
)

// readAgain are the quantities whose last reading lies far from what the book let one expect. It is not believed, or, where it may kill, not
// argued away; either way nothing that is done today should rest on it before it is read again.
func (v *visit) readAgain() []Concern {
	var out []Concern
	for _, d := range v.Belief.Doubtful {
		e := v.Belief.Evidence[d.Of]
		if d.Code != "infer.reading-far" || len(e.Readings) == 0 || e.Readings[0] != d.Line {
			continue
		}
		c := Concern{Code: "plan.read-again", Tier: husbandry.Watch, Of: d.Of, Chance: math.NaN(), Value: (d.Shown.Lo + d.Shown.Hi) / 2, Last: e.Last, LookAgain: v.on}
		if d.Shown.Hi >= d.Of.Span().Hi { // a card that ends there
			c.Value = d.Shown.Lo
		}
		if (d.Of == quantity.OfTAN || d.Of == quantity.OfNO2) && d.Shown.Lo > d.Expected.Hi {
			c.Code = "plan.read-again-now"
		}
		out = append(out, c)
	}
	return out
}
