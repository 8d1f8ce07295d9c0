package plan

import (
	"hash/fnv"
	"math"
	"slices"
	"time"

	"halfwater/book"
	"halfwater/enclosure"
	"halfwater/kit"
	"halfwater/quantity"
)

// Scored is how outlooks that were shown have held, by the readings that came after them.
type Scored struct {
	N    int // readings counted, the last of them first; at most 20
	Held int // of them inside the 80 % band, the kit's own error counted in
	Of   []ScoredOf
}

// ScoredOf is what one measurand has of the score: how often its band held, and how sharp it was.
type ScoredOf struct {
	Of      quantity.Measurand
	N, Held int
	Width   float64 // mean width of the 80 % bands that were shown, canonical
}

// count adds one reading to the score.
func (s *Scored) count(of quantity.Measurand, width float64, held bool) {
	i := slices.IndexFunc(s.Of, func(o ScoredOf) bool { return o.Of == of })
	if i < 0 {
		i = len(s.Of)
		s.Of = append(s.Of, ScoredOf{Of: of})
	}
	o := &s.Of[i]
	o.N++
	o.Width += (width - o.Width) / float64(o.N)
	s.N++
	if held {
		o.Held++
		s.Held++
	}
}

// The rule of widening, judgement: of the last 20 readings fewer than 12 inside bands that should hold 16.
const (
	scoredMost  = 20
	scoredLeast = 12
	widenBy     = 2
	onTheDay    = 36 * time.Hour // how far from its day a band still speaks of a reading
)

// Wider is by how much the bands of the next outlook are stretched about their medians: 1, or more when the
// last ones have not held.
func (s Scored) Wider() float64 {
	if s.N >= scoredMost && s.Held < scoredLeast {
		return widenBy
	}
	return 1
}

// ScoreShown scores each outlook line as it was shown: each reading against the band that the latest outlook
// before it had for its day. Lines must stand and be in the order of the book.
func ScoreShown(lines []book.Line, f enclosure.Facts, now time.Time) Scored {
	aside := book.SetAsides(lines, now)
	var s Scored
	for i := len(lines) - 1; i >= 0 && s.N < scoredMost; i-- {
		r, ok := lines[i].Body.(book.Reading)
		if _, doubted := aside[lines[i].ID]; !ok || doubted || r.Place != "" && r.Place != "tank" {
			continue
		}
		band, ok := shownFor(lines[:i], r.Of, lines[i].At)
		if !ok {
			continue
		}
		p := rankOf(band, r, f, lines[i])
		s.count(r.Of, band.Hi-band.Lo, p >= 0.1 && p <= 0.9)
	}
	return s
}

// shownFor is the band for a moment of the latest outlook among the lines.
func shownFor(lines []book.Line, of quantity.Measurand, at time.Time) (best book.ShownBand, ok bool) {
	for i := len(lines) - 1; i >= 0 && !ok; i-- {
		o, is := lines[i].Body.(book.ShownOutlook)
		if !is {
			continue
		}
		for _, b := range o.Bands {
			if d := b.On.Sub(at).Abs(); b.Of == of && b.On.After(lines[i].At) && d <= onTheDay && (!ok || d < best.On.Sub(at).Abs()) {
				best, ok = b, true
			}
		}
	}
	return best, ok
}

// rankOf is the chance, by the band and the kit's own error, of a reading lower than this one; among readings
// of the same class the rank is spread evenly, by the line's name (a randomised probability transform:
// Czado, Gneiting and Held 2009), so that coarse cards are not taken for exact ones.
func rankOf(b book.ShownBand, r book.Reading, f enclosure.Facts, l book.Line) float64 {
	m := kit.ErrorWithout(r.Of)
	lo, hi := r.Lo, r.Hi
	if k, ok := f.Kit(r.Kit); ok && k.Of == r.Of {
		m = k.Error(l.At)
		if k.Form == kit.Meter {
			lo = (r.Lo + r.Hi) / 2
			hi = lo
		}
	}
	under := kit.Interval{Of: r.Of, Range: quantity.Range[float64]{Lo: r.Of.Span().Lo, Hi: lo}, OpenBelow: true}
	upTo := under
	upTo.Hi = hi
	m.Odd = 0
	const steps = 80
	below, within := 0.0, 0.0
	for i := range steps {
		z := math.Sqrt2 * math.Erfinv(2*(float64(i)+0.5)/steps-1)
		x := b.Median + z*(b.Hi-b.Median)/z90
		if z < 0 {
			x = b.Median + z*(b.Median-b.Lo)/z90
		}
		if m.Log {
			x = math.Max(x, 0)
		}
		low := 0.0
		if lo > r.Of.Span().Lo {
			low = m.Chance(under, x) / steps
		}
		below += low
		within += m.Chance(upTo, x)/steps - low
	}
	if hi >= r.Of.Span().Hi {
		within = 1 - below
	}
	h := fnv.New32a()
	h.Write([]byte(l.ID))
	return below + within*(float64(h.Sum32()%1000)+0.5)/1000
}

// z90 is the 90 % quantile of the standard normal.
const z90 = 1.2815515655446004
