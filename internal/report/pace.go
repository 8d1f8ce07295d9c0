package report

import (
	"math"
	"slices"
	"strings"

	"halfwater/infer"
	"halfwater/internal/draw"
	"halfwater/internal/look"
	"halfwater/internal/say"
	"halfwater/quantity"
)

// What is estimated beside the water itself, of a draw.
func evaporation(d infer.Draw) float64   { return float64(d.Evaporation) }
func leak(d infer.Draw) float64          { return float64(d.Leak) }
func filterReserve(d infer.Draw) float64 { return d.Reserve }
func khInHand(d infer.Draw) float64      { return d.KHInHand }

// leastTold is how much less must be doubted of a leak's share in the top-ups than before any reading for it to
// count as told from evaporation; judgement, no source.
const leastTold = 0.5

// leastInHand is the KH, dKH, under which none counts as in hand; judgement, no source: nitrification feels the want of it there.
const leastInHand = 1

// leastLeak is the share of what is topped up from which a leak, nine times in ten at least so large, is to be looked
// for; judgement, no source.
const leastLeak = 0.1

// pace is one of these as it is shown. None has a line or a keeping range, so that none has a tier.
type pace struct {
	key, name, unit string
	why             string // code
	band            quantity.Band[float64]
	of              func(infer.Draw) float64
	finest          float64
	scale           float64 // from nothing to so much
	most            float64 // past which there is no end in sight; 0 none
}

// paces are those of a water that are known. Scales and digits are judgement, no source.
func (n WaterNow) paces() []pace {
	var out []pace
	add := func(p pace) {
		if !math.IsInf(p.band.Lo, 1) {
			out = append(out, p)
		}
	}
	if e := n.EvaporationLPerDay; e != nil {
		add(pace{"evaporation", "Evaporation", "L a day", "now.evaporation", *e, evaporation, .01, 2, 0})
	}
	if e := n.LeakLPerDay; e != nil {
		add(pace{"leak", "Leak", "L a day", n.leakSays(), *e, leak, .01, 2, 0})
	}
	if r := n.FilterReserve; r != nil {
		add(pace{"reserve", "Filter reserve", "times the load", "now.reserve", *r, filterReserve, .1, 10, 0})
	}
	if w := n.KHInHandWeeks; w != nil {
		add(pace{"inhand", "KH in hand", "weeks", "now.kh-in-hand", *w, khInHand, .5, 24, 104})
	}
	return out
}

// leakSays is the code of what is said of a leak: not told apart, told and little, or found.
func (n WaterNow) leakSays() string {
	switch {
	case !n.LeakToldApart:
		return "now.leak-untold"
	case n.LeakLPerDay.Lo > leastLeak*(n.LeakLPerDay.Median+n.EvaporationLPerDay.Median):
		return "now.leak-found"
	}
	return "now.leak"
}

// label is the name within a line.
func (p pace) label() string {
	if strings.HasPrefix(p.name, "KH") {
		return p.name
	}
	return strings.ToLower(p.name)
}

// paceValue is a value in words.
type paceValue struct {
	about, could string
	open         bool // no number: it has no unit
}

// value words the band. An end that lies nowhere is left open: "could be 14 or more". A skew band has ends of another order than its
// width, so that each number has the digits of its own size.
func (p pace) value() paceValue {
	b := p.band
	if p.most > 0 {
		for _, x := range []*float64{&b.Median, &b.Hi} {
			if *x > p.most {
				*x = math.Inf(1)
			}
		}
		b.Lo = min(b.Lo, p.most)
	}
	switch {
	case math.IsInf(b.Median, 1):
		return paceValue{say.Sentence("now.no-end", nil), say.Sentence("now.or-more", p.digits(b.Lo)+" "+p.unit), true}
	case math.IsInf(b.Hi, 1):
		return paceValue{"about " + p.digits(b.Median), say.Sentence("now.or-more", p.digits(b.Lo)), false}
	case b.Hi > skew*b.Lo && b.Lo > 0 && b.Median >= p.finest:
		return paceValue{"about " + p.digits(b.Median), "could be " + p.digits(b.Lo) + " to " + p.digits(b.Hi), false}
	}
	v := look.Value{Middle: b.Median, Lo: b.Lo, Hi: b.Hi, Finest: p.finest}
	return paceValue{v.About(), v.Could(), false}
}

// skew is from how many times its lower end on a band is told end by end; judgement, no source.
const skew = 3

// digits prints a number in steps of 1 or 5 times a power of ten, a fifth of its size or less, but none finer than is worth printing.
func (p pace) digits(x float64) string {
	step := p.finest
	for s := 1e-3; s <= 1e3; s *= 10 {
		for _, t := range []float64{s, 5 * s} {
			if 5*t <= x {
				step = max(step, t)
			}
		}
	}
	n := look.Number(x, step)
	if strings.Contains(n, ".") {
		n = strings.TrimSuffix(strings.TrimRight(n, "0"), ".")
	}
	return n
}

// PaceRows are evaporation, leak, the filter's reserve and the KH in hand, each as a row of its own.
func PaceRows(n WaterNow, b infer.Belief) []WaterRow {
	var out []WaterRow
	for _, p := range n.paces() {
		v := p.value()
		r := WaterRow{Key: p.key, Name: p.name, Unit: p.unit, Could: v.could, Why: say.Sentence(p.why, nil), Instead: say.Sentence("now.worked-out", nil)}
		r.Word, r.Number = inWords(v.about)
		if v.open {
			r.Unit = ""
		}
		r.Band = draw.Band{Title: title(r), Lo: 0, Hi: p.scale, Belief: within(believed(b, p.of), p.scale)}
		out = append(out, r)
	}
	return out
}

// within holds the open ends of a belief at the end of its scale.
func within(b *draw.Belief, hi float64) *draw.Belief {
	if b == nil {
		return nil
	}
	q := []*float64{&b.P10, &b.P25, &b.P75, &b.P90}
	if slices.ContainsFunc(q, func(x *float64) bool { return math.IsInf(*x, 1) }) {
		for _, x := range q {
			*x = min(*x, hi)
		}
	}
	return b
}
