package plan

import (
	"context"
	"fmt"
	"math"
	"slices"
	"time"

	"halfwater/book"
	"halfwater/husbandry"
	"halfwater/infer"
	"halfwater/quantity"
)

// Outlook is what comes when the routine is kept as it was: bands on the eve of each change, and the odds
// of standing past each line then.
type Outlook struct {
	From  time.Time
	Share quantity.Share // of the held water, each change
	Every float64        // days
	// AsLast is false when no change is in the book: what is poured is then not known.
	AsLast bool
	Scored Scored // how the outlooks shown before have held; where they have not, bands and odds are stretched
	Eves   []Eve
	Lines  []LineAhead
	Ranges []RangeAhead
	// Plateaus are where what gathers between changes comes to rest; see [PlateauAhead].
	Plateaus []PlateauAhead
}

// Eve is a moment of the outlook: the first is now, each further one just before a change.
type Eve struct {
	At    time.Time
	Bands map[quantity.Measurand]quantity.Band[float64] // canonical; absent when not known
	// Half are the quartiles: half the odds lie between them.
	Half map[quantity.Measurand]quantity.Range[float64]
}

// LineAhead is the odds, by eve, of standing at or past the watch line and the act line of one thing.
type LineAhead struct {
	Of         husbandry.Watched
	Line       husbandry.Line
	Watch, Act []float64
	// EverWatch and EverAct are the odds of standing there on some eve. Where the beliefs are histories that run on
	// (infer.Foresee) each draw is one course; where they are not, these are no less than the odds on the worst eve.
	EverWatch, EverAct float64
}

// RangeAhead is the odds, by eve, of lying under and over the keeping range of one measurand by more than a
// test of it can tell.
type RangeAhead struct {
	Of        quantity.Measurand
	Range     quantity.Range[float64]
	Low, High []float64
	// EverLow and EverHigh are the odds of lying there on some eve, as those of a line.
	EverLow, EverHigh float64
}

// foreseen are the quantities of an outlook.
var foreseen = []quantity.Measurand{
	quantity.OfTAN, quantity.OfNO2, quantity.OfNO3, quantity.OfPH, quantity.OfGH, quantity.OfKH, quantity.OfEC,
}

// aheadOf are the lines of an outlook, with what they look at.
var aheadOf = []struct {
	of    husbandry.Watched
	value func(*infer.Draw) float64
}{
	{husbandry.FreeAmmonia, func(d *infer.Draw) float64 { return float64(d.FreeAmmonia()) }},
	{husbandry.NitriteLine, func(d *infer.Draw) float64 { return float64(d.NO2) }},
	{husbandry.NitrateLine, func(d *infer.Draw) float64 { return float64(d.NO3) }},
	{husbandry.KHLine, func(d *infer.Draw) float64 { return float64(d.KH) }},
}

// Ahead is the outlook over some weeks, with every change and top-up as the routine and the last ones in the
// book have them. In.Belief must be one that infer.Believe gave. Errors: those of infer.Foresee.
func Ahead(in Input, weeks int) (Outlook, error) {
	return AheadContext(context.Background(), in, weeks, nil)
}

// AheadContext is [Ahead] for who waits: it ends early with the error of its context, and tells the share of the work
// that is done. Progress may be nil.
func AheadContext(ctx context.Context, in Input, weeks int, progress func(share float64)) (Outlook, error) {
	v := newVisit(in)
	o := Outlook{From: in.Now, Share: v.routine, Every: v.interval, Scored: ScoreShown(in.Lines, in.Facts, in.Now)}
	expected, eves := v.routineAhead(weeks, &o)
	beliefs, err := infer.ForeseeContext(ctx, in.Belief, expected, eves, progress)
	if err != nil {
		return Outlook{}, err
	}
	for _, a := range aheadOf {
		if line, ok := v.lines.Of(a.of); ok {
			o.Lines = append(o.Lines, LineAhead{Of: a.of, Line: line})
		}
	}
	o.Ranges = v.rangesAhead()
	by := o.Scored.Wider()
	ever := make([][]bool, 2*(len(o.Lines)+len(o.Ranges)))
	for i, b := range beliefs {
		e := Eve{At: eves[i], Bands: map[quantity.Measurand]quantity.Band[float64]{}, Half: map[quantity.Measurand]quantity.Range[float64]{}}
		v.draws = asRead(b)
		for _, m := range foreseen {
			if band, ok := b.Band(m); ok && !neverRead(b, m) {
				e.Bands[m] = stretched(band, by, m)
				x := v.spread(m, by)
				slices.Sort(x)
				e.Half[m] = quantity.Range[float64]{Lo: math.Max(quantile(x, 0.25), m.Span().Lo), Hi: quantile(x, 0.75)}
			}
		}
		o.Eves = append(o.Eves, e)
		for k := range o.Lines {
			l := &o.Lines[k]
			watch, act := v.past(l, by)
			l.Watch, l.EverWatch = counted(l.Watch, watch, &ever[2*k])
			l.Act, l.EverAct = counted(l.Act, act, &ever[2*k+1])
		}
		for k := range o.Ranges {
			r, n := &o.Ranges[k], 2*(len(o.Lines)+k)
			low, high := v.outside(r, by)
			r.Low, r.EverLow = counted(r.Low, low, &ever[n])
			r.High, r.EverHigh = counted(r.High, high, &ever[n+1])
		}
	}
	o.Plateaus = o.plateaus()
	return o, nil
}

// counted adds the share of the draws that are there on one eve, and gives that of those that were there on it or
// on one before. Both are NaN when the thing is not known.
func counted(odds []float64, there []bool, ever *[]bool) (more []float64, some float64) {
	if there == nil {
		return append(odds, math.NaN()), math.NaN()
	}
	if len(*ever) != len(there) {
		*ever = make([]bool, len(there))
	}
	now, n := 0, 0
	for i, is := range there {
		if is {
			now++
			(*ever)[i] = true
		}
		if (*ever)[i] {
			n++
		}
	}
	return append(odds, float64(now)/float64(len(there))), float64(n) / float64(len(there))
}

// values are those of the draws, stretched about their median by a factor; nil when one is not known.
func (v *visit) values(value func(*infer.Draw) float64, by float64) []float64 {
	middle := v.median(value)
	if math.IsNaN(middle) {
		return nil
	}
	x := make([]float64, len(v.draws))
	for i := range v.draws {
		x[i] = middle + by*(value(&v.draws[i])-middle)
	}
	return x
}

func (v *visit) spread(m quantity.Measurand, by float64) []float64 {
	return v.values(func(d *infer.Draw) float64 { x, _ := d.Of(m); return x }, by)
}

// rangesAhead are the keeping ranges of what is foreseen.
func (v *visit) rangesAhead() []RangeAhead {
	var out []RangeAhead
	for _, k := range v.ranges.All {
		if k.When == husbandry.Always && !k.Range.Empty() && slices.Contains(foreseen, k.Of) {
			out = append(out, RangeAhead{Of: k.Of, Range: k.Range})
		}
	}
	return out
}

// outside are the draws that lie under and over a keeping range; nil when the thing is not known.
func (v *visit) outside(r *RangeAhead, by float64) (low, high []bool) {
	for _, x := range v.spread(r.Of, by) {
		low = append(low, x < r.Range.Lo-slackOf[r.Of])
		high = append(high, x > r.Range.Hi+slackOf[r.Of])
	}
	return low, high
}

// stretched widens a band about its median; nothing but pH and temperature may pass below zero.
func stretched(b quantity.Band[float64], by float64, m quantity.Measurand) quantity.Band[float64] {
	far := func(x float64) float64 {
		x = b.Median + by*(x-b.Median)
		return math.Max(x, m.Span().Lo)
	}
	return quantity.Band[float64]{Low: far(b.Low), Lo: far(b.Lo), Median: b.Median, Hi: far(b.Hi), High: far(b.High)}
}

// past are the draws that stand at the watch line or worse, and at the act line or worse; nil when the thing is
// not known.
func (v *visit) past(l *LineAhead, by float64) (watch, act []bool) {
	for _, a := range aheadOf {
		if a.of != l.Of {
			continue
		}
		for _, x := range v.values(a.value, by) {
			tier := l.Line.At(x).Tier
			watch, act = append(watch, tier >= husbandry.Watch), append(act, tier == husbandry.ActNow)
		}
	}
	return watch, act
}

// eve is how long before a change its eve is.
const eve = time.Minute

// routineAhead writes down what the routine will bring: the changes like the last one, and before each a
// top-up of what has evaporated.
func (v *visit) routineAhead(weeks int, o *Outlook) (expected []book.Line, eves []time.Time) {
	var last book.Change
	next := v.Now.Add(eve)
	topUp := ""
	if r := v.Facts.Routine; r != nil {
		topUp = r.TopUpWith
	}
	every := time.Duration(v.interval * 24 * float64(time.Hour))
	for _, l := range v.Lines {
		switch b := l.Body.(type) {
		case book.Change:
			last, o.AsLast = b, true
			next = l.At.Add(every)
		case book.TopUp:
			topUp = b.Source
		}
	}
	for !next.After(v.Now) {
		next = next.Add(every)
	}
	litres := 0.0
	for _, p := range last.In {
		litres += float64(p.Litres)
	}
	poured := float64(v.routine) * float64(v.held.Median)
	if !(poured > 0) { // the held water is not known: as much as last time
		poured = litres
	}
	c := book.Change{OutLitres: quantity.Litres(poured), Temp: last.Temp}
	if litres > 0 {
		by := poured / litres
		for _, p := range last.In {
			c.In = append(c.In, book.Poured{Source: p.Source, Litres: quantity.Litres(by * float64(p.Litres))})
		}
		for _, s := range last.Salts {
			c.Salts = append(c.Salts, book.SaltPoured{Formula: s.Formula, Grams: quantity.Grams(by * float64(s.Grams))})
		}
	}
	add := func(at time.Time, body book.Body) {
		id := book.ID(fmt.Sprintf("~expected-%03d", len(expected)))
		expected = append(expected, book.Line{ID: id, At: at, Water: v.Belief.Water, By: book.Keeper, Body: body})
	}
	for _, habit := range v.mealsAhead() {
		add(v.Now.Add(time.Second), habit.Body)
		expected[len(expected)-1].Batch = habit.Batch
	}
	eves = append(eves, v.Now)
	from := v.Now
	for ; next.Before(v.Now.Add(time.Duration(weeks) * 7 * 24 * time.Hour)); next = next.Add(every) {
		if lost := v.rates.lost / v.interval * next.Sub(from).Hours() / 24; lost > 0 {
			add(next.Add(-2*eve), book.TopUp{Source: topUp, Litres: quantity.Litres(lost)})
		}
		eves = append(eves, next.Add(-eve))
		if poured > 0 {
			add(next, c)
		}
		from = next
	}
	return expected, eves
}

// Shown is the outlook as a line of the book, to be scored as it was shown.
func (o Outlook) Shown(version string) book.ShownOutlook {
	s := book.ShownOutlook{Version: version}
	for _, e := range o.Eves {
		for _, m := range foreseen {
			if b, ok := e.Bands[m]; ok {
				s.Bands = append(s.Bands, book.ShownBand{Of: m, On: e.At, Lo: b.Lo, Median: b.Median, Hi: b.Hi})
			}
		}
	}
	return s
}
