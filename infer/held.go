package infer

import (
	"math"
	"time"

	"halfwater/book"
	"halfwater/enclosure"
	"halfwater/kit"
	"halfwater/quantity"
)

// box is how much water there is, from a day on: the held water at the full mark and the level table.
type box struct {
	from   time.Time
	known  bool
	litres float64 // median
	sd     float64 // of the logarithm
	held   enclosure.HeldEstimate
	// measured is the standard deviation of the logarithm by measures and level tests alone, 0 when there are none: histories
	// weigh the dilutions themselves.
	measured float64
	table    *enclosure.LevelTable // nil when the box was never measured
	full     quantity.Millimetres
}

// quantile is the held water at a rank between 0 and 1.
func (b box) quantile(rank float64) float64 {
	if q := float64(b.held.Quantile(rank)); !math.IsNaN(q) {
		return q
	}
	return b.litres * math.Exp(b.sd*quantile(rank))
}

// missing is how many litres short of the full mark a level is.
func (b box) missing(level quantity.Millimetres) (float64, bool) {
	if b.table == nil || level <= 0 {
		return 0, false
	}
	return float64(b.table.Litres(b.full) - b.table.Litres(level)), true
}

// boxes are the boxes of the book, one for each time that its measures were given, in order. There is
// always one.
func boxes(lines []book.Line, at time.Time) []box {
	var out []box
	var given []book.Line
	for _, l := range lines {
		if b, ok := l.Body.(enclosure.Basin); ok && b.Length > 0 && b.Width > 0 && b.FullMark > 0 {
			given = append(given, l)
		}
	}
	if len(given) == 0 {
		return []box{boxOf(nil, time.Time{}, lines, at)}
	}
	for i, l := range given {
		until := at
		if i+1 < len(given) {
			until = given[i+1].At
		}
		basin := l.Body.(enclosure.Basin)
		out = append(out, boxOf(&basin, l.At, lines, until))
	}
	return out
}

// boxOf joins the measures of a box with the level tests and dilutions of its time.
func boxOf(basin *enclosure.Basin, from time.Time, lines []book.Line, until time.Time) box {
	var its []book.Line // of its time
	var tests []enclosure.LevelTest
	for _, l := range lines {
		if _, fact := l.Body.(enclosure.Fact); !fact && (l.At.Before(from) || l.At.After(until)) {
			continue
		}
		its = append(its, l)
		if t, ok := l.Body.(book.LevelTest); ok {
			tests = append(tests, enclosure.LevelTest{Litres: t.Litres, From: t.From, To: t.To})
		}
	}
	b := box{from: from}
	if basin != nil {
		b.full = basin.FullMark
		if t, err := enclosure.NewLevelTable(*basin, tests); err == nil {
			b.table = &t
		} else if t, err := enclosure.NewLevelTable(*basin, nil); err == nil {
			b.table, tests = &t, nil // a level test that cannot be: the box without it
		}
	}
	b.measured = byMeasures(basin, tests)
	mixed := dilutions(its)
	est, err := enclosure.HeldWater(enclosure.Geometry{Basin: basin, Tests: tests}, mixed)
	if err != nil && len(mixed) > 0 {
		est, err = enclosure.HeldWater(enclosure.Geometry{Basin: basin, Tests: tests}, nil)
	}
	if err == nil && est.Held.Median > 0 && est.LnSD > 0 {
		b.known, b.held, b.litres, b.sd = true, est, float64(est.Held.Median), est.LnSD
		return b
	}
	b.litres, b.sd, b.known = byHabit(its)
	return b
}

// byMeasures is the doubt of a box without its dilutions.
func byMeasures(basin *enclosure.Basin, tests []enclosure.LevelTest) float64 {
	est, err := enclosure.HeldWater(enclosure.Geometry{Basin: basin, Tests: tests}, nil)
	if err != nil {
		return 0
	}
	return est.LnSD
}

// byHabit is the held water that the routine's share and the litres changed amount to; without them it
// is not known, and a box of any size stands in.
func byHabit(lines []book.Line) (litres, sd float64, known bool) {
	share, sum, n := 0.0, 0.0, 0
	for _, l := range lines {
		switch b := l.Body.(type) {
		case enclosure.Routine:
			share = float64(b.ChangeShare)
		case book.Change:
			if b.OutLitres > 0 {
				sum += float64(b.OutLitres)
				n++
			}
		}
	}
	if share > 0 && n > 0 {
		return sum / float64(n) / share, value("held.habit"), true
	}
	return value("held.any"), value("held.any_sd"), false
}

// near is how close before and after a change a reading counts as of that change.
const near = 26 * time.Hour

// leastPoured is a change that can be told from none.
const leastPoured quantity.Litres = 0.5

// dilutions are the changes of known litres with a reading by one kit before and after and nothing in
// between, and with what was poured known.
func dilutions(lines []book.Line) []enclosure.Dilution {
	var out []enclosure.Dilution
	var facts enclosure.Facts
	brews := map[string]brew{}
	last := map[string]reading{} // latest by kit since water was last moved
	var waiting []poured
	for _, l := range lines {
		switch b := l.Body.(type) {
		case enclosure.Fact:
			facts = facts.With(b)
			if s, ok := b.(enclosure.SourceWater); ok {
				brews[s.Name] = brewOf(s)
			}
		case book.Reading:
			if b.Of != quantity.OfEC && b.Of != quantity.OfKH && b.Of != quantity.OfNO3 || b.Kit == "" {
				continue
			}
			r, ok := readAgain(facts, b, l.At)
			if !ok {
				continue
			}
			for _, p := range waiting {
				before, ok := p.before[b.Kit]
				if !ok || l.At.Sub(p.at) > near || p.at.Sub(before.at) > near || before.of != b.Of {
					continue
				}
				x, sd, known := p.of(b.Of, brews)
				if !known || before.iv.OpenAbove || r.iv.OpenAbove || before.iv.OpenBelow || r.iv.OpenBelow {
					continue
				}
				d := enclosure.Diluted(p.out, p.in, before.iv, r.iv, before.iv, true)
				d.Poured = enclosure.Value{X: x, SD: sd}
				if d.Before.SD > 0 && d.After.SD > 0 && sd > 0 {
					out = append(out, d)
				}
			}
			last[b.Kit] = r
		case book.Change:
			waiting = waiting[:0]
			if p := pouredBy(b, l.At, last); p.in >= leastPoured && p.out >= leastPoured {
				waiting = append(waiting, p)
			}
			last = map[string]reading{}
		case book.TopUp, book.Dose:
			waiting = waiting[:0]
			last = map[string]reading{}
		}
	}
	return out
}

type reading struct {
	at time.Time
	of quantity.Measurand
	iv kit.Interval
}

// readAgain reads a reading with its kit, for how well that kit repeats.
func readAgain(facts enclosure.Facts, r book.Reading, at time.Time) (reading, bool) {
	k, ok := facts.Kit(r.Kit)
	if !ok || k.Of != r.Of {
		return reading{}, false
	}
	iv, err := k.Read(r.Shown, at)
	return reading{at, r.Of, iv}, err == nil
}

// poured is a change that waits for a reading after it.
type poured struct {
	at      time.Time
	out, in quantity.Litres
	parts   []book.Poured
	salts   []book.SaltPoured
	mixEC   quantity.Conductivity
	before  map[string]reading
}

func pouredBy(c book.Change, at time.Time, before map[string]reading) poured {
	p := poured{at: at, out: c.OutLitres, parts: c.In, salts: c.Salts, mixEC: c.MixEC, before: before}
	for _, part := range c.In {
		p.in += part.Litres
	}
	return p
}

// of is what was poured, as read in the mix or by the analyses of its sources.
func (p poured) of(m quantity.Measurand, brews map[string]brew) (x, sd float64, known bool) {
	if m == quantity.OfEC && p.mixEC > 0 {
		return float64(p.mixEC), 0.02 * float64(p.mixEC), true
	}
	slot, _ := slotOf(m)
	for _, part := range p.parts {
		b, ok := brews[part.Source]
		if !ok || !b.has[slot] {
			return 0, 0, false
		}
		f := float64(part.Litres / p.in)
		x += f * b.mean[slot]
		sd = math.Hypot(sd, f*math.Hypot(b.own[slot], b.share*b.mean[slot]))
	}
	x += saltsIn(p.salts, slot) / float64(p.in)
	if slot == ions {
		x, sd = conducted(x), sd*conducted(x+1e-9)/(x+1e-9)
	}
	return x, sd, true
}

// Held is the held water at the full mark as every page and sheet uses it, from the measures of the
// box in force, its level tests and the dilutions of the book, with its level table (nil when the box
// was never measured). False when the litres rest on habit alone.
func Held(w Window) (enclosure.HeldEstimate, *enclosure.LevelTable, bool) {
	if w.Recorded.IsZero() {
		w.Recorded = w.At
	}
	all := boxes(upTo(ofWater(book.Standing(w.Lines, w.Recorded), w.Water), w.At), w.At)
	last := all[len(all)-1]
	return last.held, last.table, last.known && last.held.LnSD > 0
}
