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
		add(pace{"evaporation", "Evaporation", "L a day", "now.evaporation", *e, evaporation, .01, 2})
	}
	if e := n.LeakLPerDay; e != nil {
		add(pace{"leak", "Leak", "L a day", n.leakSays(), *e, leak, .01, 2})
	}
	if r := n.FilterReserve; r != nil {
		add(pace{"reserve", "Filter reserve", "times the load", "now.reserve", *r, filterReserve, .1, 10})
	}
	if w := n.KHInHandWeeks; w != nil {
		add(pace{"inhand", "KH in hand", "weeks", "now.kh-in-hand", *w, khInHand, .5, 24})
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
type paceValue struct{ about, could string }

// value words the band. An end that lies nowhere is left open: "could be 14 or more".
func (p pace) value() paceValue {
	b := p.band
	v := look.Value{Middle: b.Median, Lo: b.Lo, Hi: b.Hi, Finest: p.finest}
	switch {
	case math.IsInf(b.Median, 1):
		lo := look.Value{Middle: b.Lo, Hi: 2 * b.Lo, Finest: p.finest}
		return paceValue{say.Sentence("now.no-end", nil), say.Sentence("now.or-more", digits(lo.About())+" "+p.unit)}
	case math.IsInf(b.Hi, 1):
		v.Hi = 2*b.Median - b.Lo
		lo := look.Value{Middle: b.Lo, Lo: v.Lo, Hi: v.Hi, Finest: p.finest}
		return paceValue{v.About(), say.Sentence("now.or-more", digits(lo.About()))}
	}
	return paceValue{v.About(), v.Could()}
}

// digits is a number without the word before it.
func digits(about string) string {
	_, n := inWords(about)
	return n
}

// PaceRows are evaporation, leak, the filter's reserve and the KH in hand, each as a row of its own.
func PaceRows(n WaterNow, b infer.Belief) []WaterRow {
	var out []WaterRow
	for _, p := range n.paces() {
		v := p.value()
		r := WaterRow{Key: p.key, Name: p.name, Unit: p.unit, Could: v.could, Why: say.Sentence(p.why, nil), Instead: say.Sentence("now.worked-out", nil)}
		r.Word, r.Number = inWords(v.about)
		if math.IsInf(p.band.Median, 1) {
			r.Word, r.Number, r.Unit = "", v.about, ""
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
