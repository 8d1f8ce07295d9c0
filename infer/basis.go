package infer

import (
	"math"
	"slices"
	"strings"

	"halfwater/book"
	"halfwater/enclosure"
	"halfwater/infer/fit"
	"halfwater/kit"
	"halfwater/quantity"
)

// unsettled is a kit of whose numbers nobody knows what they count. It is one or the other for all of its
// readings.
type unsettled struct {
	lot      string
	kit      string
	of       quantity.Measurand
	bases    []quantity.Basis
	readings []int // of the question
	on       [][]fit.Reading
}

// mostWays is how many ways of meaning the readings are tried. Kits beyond that keep the whole span of what
// their readings may mean, those whose bases differ least first.
const mostWays = 8

// settle reads again what was read while nobody knew what its kit's numbers count, where a fact about the
// same kit and lot among all that is known says it, earlier or later.
func settle(lines, known []book.Line) []book.Line {
	stated := map[string]quantity.Basis{}
	same := func(k kit.Kit) string { return k.Name + "|" + string(k.Of) + "|" + k.Lot }
	for i := range known {
		if k, ok := known[i].Body.(kit.Kit); ok && k.Basis != quantity.NotStated && k.Basis != quantity.NoBasis {
			stated[same(k)] = k.Basis
		}
	}
	open := slices.ContainsFunc(lines, func(l book.Line) bool {
		r, ok := l.Body.(book.Reading)
		return ok && r.Basis == quantity.NotStated
	})
	if !open || len(stated) == 0 {
		return lines
	}
	lines = slices.Clone(lines)
	var facts enclosure.Facts
	for i, l := range lines {
		switch b := l.Body.(type) {
		case enclosure.Fact:
			facts = facts.With(b)
		case book.Reading:
			if b.Basis != quantity.NotStated {
				continue
			}
			k, ok := facts.Kit(b.Kit)
			if !ok || k.Of != b.Of {
				continue
			}
			basis, ok := stated[same(k)]
			if !ok {
				continue
			}
			if iv, err := k.On(basis).Read(b.Shown, l.At); err == nil {
				b.Basis, b.Lo, b.Hi = basis, iv.Lo, iv.Hi
				lines[i].Body = b
			}
		}
	}
	return lines
}

// meant is what a reading says on each basis that it may have.
func meant(facts enclosure.Facts, l book.Line, r book.Reading) []kit.Way {
	if r.Basis != quantity.NotStated {
		return nil
	}
	iv, err := kit.Bare(r.Of, r.Shown, r.Unit, r.Basis)
	if k, ok := facts.Kit(r.Kit); ok && k.Of == r.Of {
		iv, err = k.On(r.Basis).Read(r.Shown, l.At)
	}
	if err != nil || len(iv.Ways) < 2 {
		return nil
	}
	return iv.Ways
}

// unsettle notes a reading of a kit whose basis is open: what it is on each.
func (q *question) unsettle(w witness, r fit.Reading) {
	if len(w.ways) == 0 {
		return
	}
	at := slices.IndexFunc(q.open, func(u unsettled) bool { return u.lot == w.lot })
	if at < 0 {
		at = len(q.open)
		q.open = append(q.open, unsettled{lot: w.lot, kit: w.kit, of: w.of, bases: w.of.Bases(), on: make([][]fit.Reading, len(w.of.Bases()))})
	}
	u := &q.open[at]
	u.readings = append(u.readings, len(q.Readings))
	span := w.of.Span()
	for i, b := range u.bases {
		on := r
		if k := slices.IndexFunc(w.ways, func(w kit.Way) bool { return w.Basis == b }); k >= 0 {
			on.Lo, on.Hi = w.ways[k].Lo, w.ways[k].Hi
			if on.Lo <= span.Lo {
				on.Lo = math.Inf(-1)
			}
			if on.Hi >= span.Hi {
				on.Hi = math.Inf(1)
			}
		} else { // on this basis it cannot be
			on.Lo, on.Hi, on.Odd = span.Hi, math.Inf(1), 0
		}
		u.on[i] = append(u.on[i], on)
	}
}

// ways are the problem's readings in every way that they may be meant, all as likely beforehand, and which
// bases each has. None when all is settled.
func (q *question) ways() (ways []fit.Way, bases [][]quantity.Basis) {
	open := slices.Clone(q.open)
	ratio := func(u unsettled) float64 {
		least := 1.0
		for _, b := range u.bases {
			least = math.Min(least, 1/u.of.InUnit(1, u.of.Unit(), b))
		}
		return 1 / least
	}
	slices.SortStableFunc(open, func(a, b unsettled) int {
		switch x, y := ratio(a), ratio(b); {
		case x > y:
			return -1
		case x < y:
			return 1
		}
		return strings.Compare(a.lot, b.lot)
	})
	q.tried = nil
	ways, bases = []fit.Way{{Readings: q.Readings, Odds: 1}}, [][]quantity.Basis{nil}
	for _, u := range open {
		if len(ways)*len(u.bases) > mostWays {
			continue
		}
		q.tried = append(q.tried, u)
		var next []fit.Way
		var have [][]quantity.Basis
		for i, w := range ways {
			for k, b := range u.bases {
				readings := slices.Clone(w.Readings)
				for n, at := range u.readings {
					readings[at] = u.on[k][n]
				}
				next = append(next, fit.Way{Readings: readings, Odds: w.Odds / float64(len(u.bases))})
				have = append(have, append(slices.Clone(bases[i]), b))
			}
		}
		ways, bases = next, have
	}
	if len(ways) == 1 {
		return nil, nil
	}
	return ways, bases
}

// Solve is that of the problem; where nobody knows what a kit's numbers count, every way is solved and has the
// draws that its odds leave it.
func (q *question) Solve(e fit.Effort, seed uint64) (fit.Posterior, error) {
	return q.eachWay(e, func(e fit.Effort, p *fit.Problem) (fit.Posterior, error) { return p.Solve(e, seed) })
}

// SolveFrom is that of the problem, in every way.
func (q *question) SolveFrom(before *fit.Posterior, e fit.Effort, seed uint64) (fit.Posterior, error) {
	return q.eachWay(e, func(e fit.Effort, p *fit.Problem) (fit.Posterior, error) { return p.SolveFrom(before, e, seed) })
}

func (q *question) eachWay(e fit.Effort, solve func(fit.Effort, *fit.Problem) (fit.Posterior, error)) (fit.Posterior, error) {
	ways, bases := q.ways()
	if len(ways) == 0 {
		return solve(e, &q.Problem)
	}
	post, odds, err := q.SolveWays(ways, func(way int, p *fit.Problem) (fit.Posterior, error) {
		its := e
		its.Watch = e.Part(float64(way)/float64(len(ways)), float64(way+1)/float64(len(ways)))
		return solve(its, p)
	})
	if err != nil {
		return post, err
	}
	q.bases = nil
	for i, u := range q.tried {
		for _, b := range u.bases {
			m := Meant{Kit: u.kit, Of: u.of, Basis: b}
			for w := range ways {
				if bases[w][i] == b {
					m.Odds += odds[w]
				}
			}
			q.bases = append(q.bases, m)
		}
	}
	return post, nil
}

// Meant is a basis that a kit's numbers may have, when neither card nor leaflet says.
type Meant struct {
	Kit   string // "" for numbers that were typed without a kit
	Of    quantity.Measurand
	Basis quantity.Basis
	Odds  float64 // 0 to 1; those of one kit sum to 1
}
