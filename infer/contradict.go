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

// mostContradictions is how many are named, mostJudged how many readings are judged one by one in one of them.
const (
	mostContradictions = 6
	mostJudged         = 60
)

// contradict names what does not fit in the readings of a question, and weighs who is to blame: one reading,
// the unit, the lot, the book, or the water. Each is weighed by how likely it makes the readings that it is
// about when all others are taken as they are. What several may explain is one contradiction; when it is named
// the likeliest is taken as found and the rest is looked at again. It is a pure function of its arguments; the
// lines are those that the question was asked of.
func contradict(q *question, post *fit.Posterior, lines []book.Line) []Contradiction {
	if len(q.witnesses) == 0 || len(q.witnesses) != len(q.Readings) {
		return nil
	}
	s, ok := newScales(q, post)
	if !ok {
		return nil
	}
	c := court{q: q, mode: post.Mode, lines: lines, kits: shelfOf(lines), scales: s, inside: map[book.ID]bool{}}
	for _, l := range lines {
		_, c.inside[l.ID] = l.Body.(book.Reading)
	}
	c.charges = charges(q, c.kits, s.seen)
	for range mostContradictions {
		named, found := c.next()
		if found == nil {
			break
		}
		c.out = append(c.out, named)
		if c.scales, ok = c.scales.found(found); !ok {
			return c.out
		}
	}
	c.scales = s
	c.apart()
	return c.out
}

// court is the weighing of one book.
type court struct {
	q       *question
	mode    []float64
	lines   []book.Line
	kits    shelf
	scales  *scales
	charges []charge
	inside  map[book.ID]bool // readings of the enclosure's own water
	out     []Contradiction
}

// next names the weightiest contradiction that is left, and gives the likeliest charge of it; nil when all
// fits well enough: it is then likelier that nothing is wrong.
func (c *court) next() (Contradiction, *charge) {
	weights := c.weigh(c.charges)
	top := heaviest(weights)
	if top < 0 || weights[top] < math.Log(0.1) {
		return Contradiction{}, nil
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
		return Contradiction{}, nil
	}
	rest := court{q: c.q, scales: after}
	var rivals []*charge
	for i := range all {
		told := weights[i] - math.Log(all[i].prior)
		if i != top && (weights[i] < weights[top]-7 || told <= 0) {
			continue
		}
		if i != top && (rest.weight(rest.with(groupOf(&all[i], group), &all[i]), &all[i])-math.Log(all[i].prior)) > told/2 {
			continue
		}
		rivals = append(rivals, &all[i])
	}
	named, most := c.name(group, rivals)
	if named.Culprits == nil || c.innocent(named) > 0.5 {
		return Contradiction{}, nil
	}
	return named, most
}

// groupOf are the readings by which a charge is judged alone.
func groupOf(c *charge, otherwise []int) []int {
	if len(c.lines) > 0 {
		return c.lines
	}
	return otherwise
}

// innocent is the odds that nothing is wrong.
func (c *court) innocent(named Contradiction) float64 {
	for _, x := range named.Culprits {
		if x.Code == ByChance {
			return x.Odds
		}
	}
	return 0
}

// with is a group with the lines of a charge in it, without those beyond the most.
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

// weigh gives the logarithm of the odds of each charge, by itself, against that nothing is wrong.
func (c *court) weigh(all []charge) []float64 {
	out := make([]float64, len(all))
	for i := range all {
		out[i] = c.weight(all[i].lines, &all[i])
	}
	return out
}

func (c *court) weight(group []int, ch *charge) float64 {
	w := math.Log(ch.prior) + c.scales.judge(group, ch) - c.scales.judge(group, nil)
	if math.IsNaN(w) {
		return math.Inf(-1)
	}
	return w
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
	judged := slices.Clone(group)
	for _, r := range rivals {
		if len(r.lines) <= mostJudged {
			judged = c.with(judged, r)
		}
	}
	weights := make([]float64, len(rivals))
	for i, r := range rivals {
		weights[i] = c.weight(c.with(judged, r), r)
	}
	top := heaviest(weights)
	if top < 0 {
		return Contradiction{}, nil
	}
	highest := math.Max(weights[top], 0)
	chance := math.Exp(-highest)
	sum := chance
	for i := range weights {
		weights[i] = math.Exp(weights[i] - highest)
		sum += weights[i]
	}

	of := kindOf(c.q.witnesses[group[0]])
	blamed := map[int]float64{} // readings, by the odds that they do not say what the water is
	about := map[int]float64{}
	type key struct{ code, name, kit string }
	odds := map[key]float64{}
	var keys []key
	add := func(k key, by float64) {
		if _, have := odds[k]; !have {
			keys = append(keys, k)
		}
		odds[k] += by
	}
	add(key{code: ByChance}, chance/sum)
	for i, r := range rivals {
		share := weights[i] / sum
		add(key{r.code, r.name, r.kit}, share)
		for _, j := range r.lines {
			about[j] += share
			if r.code != ByWater && r.code != ByLog {
				blamed[j] += share
			}
		}
	}
	con := Contradiction{}
	culprits := make([]Culprit, len(keys))
	for i, k := range keys {
		culprits[i] = Culprit{Code: k.code, Name: k.name, Kit: k.kit, Odds: odds[k]}
	}
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
	con.Of = of
	con.Checks = checks(c, con, group)
	return con, rivals[top]
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
				if ch := &c.charges[k]; slices.Contains(ch.lines, i) != slices.Contains(ch.lines, j) && len(ch.lines) <= mostJudged {
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
