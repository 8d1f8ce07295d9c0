package blame

import (
	"maps"
	"math"
	"slices"
	"time"

	"halfwater/book"
	"halfwater/infer/fit"
	"halfwater/quantity"
)

// courtOf has the charges against some readings of a question, and the scales to weigh them.
func courtOf(q *Question, post *fit.Posterior, which []int, s *scales) *court {
	some := *q
	some.Readings, some.Witnesses = s.readings, nil
	for _, i := range which {
		some.Witnesses = append(some.Witnesses, q.Witnesses[i])
	}
	c := &court{
		q: &some, mode: post.Mode, lines: q.Lines, kits: shelfOf(q.Lines), scales: s,
		inside: map[book.ID]bool{}, others: map[int][]charge{},
	}
	for _, l := range q.Lines {
		_, c.inside[l.ID] = l.Body.(book.Reading)
	}
	c.charges = c.allege()
	c.families = familiesOf(c.charges)
	return c
}

// court is the weighing of one book.
type court struct {
	q         *Question
	mode      []float64
	lines     []book.Line
	kits      shelf
	scales    *scales
	charges   []charge
	families  []family // of their readings
	retelling *fit.Retelling
	others    map[int][]charge // by reading: what may have been otherwise before it
	inside    map[book.ID]bool // readings of the enclosure's own water
	out       []Contradiction
}

// next names the weightiest contradiction that is left, and gives the scales with the likeliest charge of it taken as
// found, nil when the numbers do not bear that; none when all fits well enough: it is then likelier that nothing is
// wrong.
func (c *court) next() (*Contradiction, *scales) {
	weights := c.weigh()
	top := heaviest(weights)
	if top < 0 || weights[top] < math.Log(0.1) {
		return nil, nil
	}
	all := slices.Clone(c.charges)
	more := c.otherwise(&all[top])
	group := all[top].lines
	all = append(all, more...)
	for i := range more {
		weights = append(weights, c.weight(c.with(group, &more[i]), &more[i]))
	}
	top = heaviest(weights)

	// What the likeliest explains away is of the same contradiction.
	after, ok := c.scales.found(&all[top])
	if !ok {
		return nil, nil
	}
	var rivals []*charge
	for i := range all {
		told := weights[i] - math.Log(all[i].prior)
		its := all[i].lines
		if len(its) == 0 {
			its = group
		}
		if i == top || weights[i] > weights[top]-hopeless && told > 0 && after.told(its, &all[i]) < told/2 {
			rivals = append(rivals, &all[i])
		}
	}
	named, most := c.name(group, rivals)
	if most == nil || named.Odds(ByChance) > 0.5 {
		return nil, nil
	}
	if most != &all[top] {
		if after, ok = c.scales.found(most); !ok {
			after = nil
		}
	}
	c.close(*most)
	return &named, after
}

// close brings what was found no more: the same line, or the same culprit for the same readings, whichever was the first that was off.
func (c *court) close(found charge) {
	same := func(i int) bool { return slices.Contains(found.lines, i) }
	for _, list := range append([][]charge{c.charges}, slices.Collect(maps.Values(c.others))...) {
		for i := range list {
			x := &list[i]
			if x.code == found.code && x.name == found.name && x.kit == found.kit && (x.code == ByReading || slices.ContainsFunc(x.lines, same)) {
				x.prior = 0
			}
		}
	}
}

// hopeless is by how many nats a charge must be worse than the likeliest to be forgotten.
const hopeless = 7

// with is a group with the lines of a charge in it.
func (c *court) with(group []int, ch *charge) []int {
	out := slices.Clone(group)
	for _, i := range ch.lines {
		if !slices.Contains(out, i) {
			out = append(out, i)
		}
	}
	slices.Sort(out)
	return out
}

// weight is that of one charge, judged by a group of readings.
func (c *court) weight(group []int, ch *charge) float64 {
	return weightOf(ch, c.scales.told(group, ch))
}

func weightOf(ch *charge, told float64) float64 {
	if w := math.Log(ch.prior) + told; !math.IsNaN(w) {
		return w
	}
	return math.Inf(-1)
}

func heaviest(weights []float64) int {
	top := -1
	for i, w := range weights {
		if top < 0 || w > weights[top] {
			top = i
		}
	}
	if top >= 0 && math.IsInf(weights[top], -1) {
		return -1
	}
	return top
}

// name weighs rivals against each other by all the readings that any of them is about, and gives the
// likeliest.
func (c *court) name(group []int, rivals []*charge) (Contradiction, *charge) {
	judged := group
	for _, r := range rivals {
		judged = c.with(judged, r)
	}
	weights := make([]float64, len(rivals))
	for i, r := range rivals {
		weights[i] = c.weight(judged, r)
	}
	top := heaviest(weights)
	if top < 0 {
		return Contradiction{}, nil
	}
	chance, odds := shares(weights)
	about, blamed := map[int]float64{}, map[int]float64{} // by reading: the odds that it is the matter, that it is not what the water was
	culprits := []Culprit{{Code: ByChance, Odds: chance}}
	for i, r := range rivals {
		same := func(x Culprit) bool { return x.Code == r.code && x.Name == r.name && x.Kit == r.kit }
		at := slices.IndexFunc(culprits, same)
		if at < 0 {
			at = len(culprits)
			culprits = append(culprits, Culprit{Code: r.code, Name: r.name, Kit: r.kit})
		}
		culprits[at].Odds += odds[i]
		for _, j := range r.lines {
			about[j] += odds[i]
			if r.code != ByWater && r.code != ByLog {
				blamed[j] += odds[i]
			}
		}
	}
	con := Contradiction{Of: c.q.Witnesses[group[0]].Reads}
	con.blame(culprits)
	for _, i := range group {
		about[i]++
	}
	for i := range c.q.Witnesses {
		if about[i] < leastAbout && !slices.ContainsFunc(group, func(j int) bool { return c.disagree(min(i, j), max(i, j)) }) {
			continue
		}
		id := c.q.Witnesses[i].Line.ID
		if !slices.Contains(con.Lines, id) { // a line may tell of two readings
			con.Lines = append(con.Lines, id)
		}
		if blamed[i] > 0.5 && !slices.Contains(con.Suspect, id) {
			con.Suspect = append(con.Suspect, id)
		}
	}
	con.Checks = c.checks(con)
	return con, rivals[top]
}

// shares turns logarithms of odds against that nothing is wrong into shares that sum to 1 with that of chance.
func shares(weights []float64) (chance float64, out []float64) {
	highest := math.Max(slices.Max(weights), 0)
	chance = math.Exp(-highest)
	sum := chance
	for _, w := range weights {
		out = append(out, math.Exp(w-highest))
		sum += out[len(out)-1]
	}
	for i := range out {
		out[i] /= sum
	}
	return chance / sum, out
}

// apart names pairs of readings of the same water that lie far from each other, where nothing was named yet,
// even when the doubt of both bears it: the keeper sees them and asks.
func (c *court) apart() {
	for j := range c.q.Witnesses {
		for i := range j {
			if !c.disagree(i, j) || c.namedBoth(i, j) {
				continue
			}
			var rivals []*charge
			for k := range c.charges {
				if ch := &c.charges[k]; slices.Contains(ch.lines, i) != slices.Contains(ch.lines, j) {
					rivals = append(rivals, ch)
				}
			}
			if len(rivals) == 0 || len(c.out) >= 2*mostContradictions {
				return
			}
			if named, most := c.name([]int{i, j}, rivals); most != nil {
				c.out = append(c.out, named)
			}
		}
	}
}

func (c *court) namedBoth(i, j int) bool {
	a, b := c.q.Witnesses[i].Line.ID, c.q.Witnesses[j].Line.ID
	return slices.ContainsFunc(c.out, func(x Contradiction) bool {
		return slices.Contains(x.Lines, a) || slices.Contains(x.Lines, b)
	})
}

// disagree reports whether two readings of one quantity, with no water poured between them, lie so far apart
// that a keeper asks why.
func (c *court) disagree(i, j int) bool {
	a, b := &c.q.Witnesses[i], &c.q.Witnesses[j]
	if a.Of != b.Of || !c.inside[a.Line.ID] || !c.inside[b.Line.ID] || b.Line.At.Sub(a.Line.At) > time.Duration(value("same_hours")*float64(time.Hour)) {
		return false
	}
	for _, l := range c.lines {
		if l.At.Before(a.Line.At) || l.At.After(b.Line.At) {
			continue
		}
		switch l.Body.(type) {
		case book.Change, book.TopUp, book.Dose:
			return false
		}
	}
	x, y := a.Middle, b.Middle
	if a.Of == quantity.OfPH {
		return math.Abs(x-y) > value("apart_ph")
	}
	lo, hi := math.Min(x, y), math.Max(x, y)
	return lo > 0 && hi/lo > value("apart") && hi-lo > leastApart[a.Of]
}

// leastApart is how far readings lie apart at least, canonical: under it no kit tells.
var leastApart = map[quantity.Measurand]float64{
	quantity.OfTAN: 0.4, quantity.OfNO2: 0.2, quantity.OfNO3: 2, quantity.OfKH: 1.5, quantity.OfGH: 1.5, quantity.OfEC: 50, quantity.OfTDS: 30,
	quantity.OfPO4: 0.2, quantity.OfOxygen: 2, quantity.OfChloride: 20,
}
