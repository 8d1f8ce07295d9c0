package infer

import (
	"cmp"
	"math"
	"slices"
	"time"

	"halfwater/book"
	"halfwater/infer/fit"
	"halfwater/quantity"
)

// mostContradictions is how many are named.
const mostContradictions = 6

// contradict names what does not fit in the readings of a question, and weighs who is to blame: one reading,
// the unit, the lot, the book, or the water. Each is weighed by how likely it makes the readings that it is
// about when all others are taken as they are. What several may explain is one contradiction; when it is named
// the likeliest is taken as found and the rest is looked at again. It is a pure function of its arguments; the
// lines are those that the question was asked of.
func contradict(q *question, post *fit.Posterior, lines []book.Line) []Contradiction {
	if len(q.witnesses) == 0 || len(q.witnesses) != len(q.Readings) {
		return nil
	}
	which := heard(q)
	s, ok := newScales(q, post, which)
	if !ok {
		return nil
	}
	c := courtOf(q, post, lines, which, s)
	for range mostContradictions {
		named, after := c.next()
		if named == nil {
			break
		}
		c.out = append(c.out, *named)
		if after == nil {
			return c.out
		}
		c.scales = after
	}
	c.scales = s
	c.apart()
	return c.out
}

// courtOf has the charges against some readings of a question, and the scales to weigh them.
func courtOf(q *question, post *fit.Posterior, lines []book.Line, which []int, s *scales) *court {
	some := *q
	some.Readings, some.witnesses = s.readings, nil
	for _, i := range which {
		some.witnesses = append(some.witnesses, q.witnesses[i])
	}
	c := &court{
		q: &some, mode: post.Mode, lines: lines, kits: shelfOf(lines), scales: s,
		inside: map[book.ID]bool{}, others: map[int][]charge{},
	}
	for _, l := range lines {
		_, c.inside[l.ID] = l.Body.(book.Reading)
	}
	c.charges = c.allege()
	c.families = familiesOf(c.charges)
	return c
}

// court is the weighing of one book.
type court struct {
	q         *question
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
	if most == nil || named.chance() > 0.5 {
		return nil, nil
	}
	if most != &all[top] {
		if after, ok = c.scales.found(most); !ok {
			after = nil
		}
	}
	return &named, after
}

// hopeless is by how many nats a charge must be worse than the likeliest to be forgotten.
const hopeless = 7

// chance is the odds that nothing is wrong.
func (c *Contradiction) chance() float64 {
	for _, x := range c.Culprits {
		if x.Code == ByChance {
			return x.Odds
		}
	}
	return 0
}

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
	con := Contradiction{Of: kindOf(c.q.witnesses[group[0]])}
	con.blame(culprits)
	for _, i := range group {
		about[i]++
	}
	for i := range c.q.witnesses {
		if about[i] < leastAbout && !slices.ContainsFunc(group, func(j int) bool { return c.disagree(min(i, j), max(i, j)) }) {
			continue
		}
		id := c.q.witnesses[i].line.ID
		con.Lines = append(con.Lines, id)
		if blamed[i] > 0.5 {
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

// blame keeps the culprits that are likely enough to be named, likeliest first, with odds that sum to 1.
func (c *Contradiction) blame(all []Culprit) {
	kept := 0.0
	for _, x := range all {
		if x.Odds >= leastOdds {
			c.Culprits = append(c.Culprits, x)
			kept += x.Odds
		}
	}
	for i := range c.Culprits {
		c.Culprits[i].Odds /= kept
	}
	slices.SortStableFunc(c.Culprits, func(a, b Culprit) int { return cmp.Compare(b.Odds, a.Odds) })
}

// leastOdds is under what a culprit is not named, leastAbout under what a reading is not among those that it is about.
const (
	leastOdds  = 0.02
	leastAbout = 0.05
)

// apart names pairs of readings of the same water that lie far from each other, where nothing was named yet,
// even when the doubt of both bears it: the keeper sees them and asks.
func (c *court) apart() {
	for j := range c.q.witnesses {
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
	a, b := c.q.witnesses[i].line.ID, c.q.witnesses[j].line.ID
	return slices.ContainsFunc(c.out, func(x Contradiction) bool {
		return slices.Contains(x.Lines, a) || slices.Contains(x.Lines, b)
	})
}

// disagree reports whether two readings of one quantity, with no water poured between them, lie so far apart
// that a keeper asks why.
func (c *court) disagree(i, j int) bool {
	a, b := &c.q.witnesses[i], &c.q.witnesses[j]
	if a.of != b.of || !c.inside[a.line.ID] || !c.inside[b.line.ID] || b.line.At.Sub(a.line.At) > time.Duration(value("blame.same_hours")*float64(time.Hour)) {
		return false
	}
	for _, l := range c.lines {
		if l.At.Before(a.line.At) || l.At.After(b.line.At) {
			continue
		}
		switch l.Body.(type) {
		case book.Change, book.TopUp, book.Dose:
			return false
		}
	}
	x, _ := a.middle()
	y, _ := b.middle()
	if a.of == quantity.OfPH {
		return math.Abs(x-y) > value("blame.apart_ph")
	}
	lo, hi := math.Min(x, y), math.Max(x, y)
	return lo > 0 && hi/lo > value("blame.apart") && hi-lo > leastApart[a.of]
}

// leastApart is how far readings lie apart at least, canonical: under it no kit tells.
var leastApart = map[quantity.Measurand]float64{
	quantity.OfTAN: 0.4, quantity.OfNO2: 0.2, quantity.OfNO3: 2, quantity.OfKH: 1.5, quantity.OfGH: 1.5, quantity.OfEC: 50, quantity.OfTDS: 30,
	quantity.OfPO4: 0.2, quantity.OfOxygen: 2, quantity.OfChloride: 20,
}
