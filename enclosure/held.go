package enclosure

import (
	"fmt"
	"math"
	"sort"

	"halfwater/kit"
	"halfwater/quantity"
)

// Geometry is what is known of the box: its measures, when it was measured, and its level tests.
type Geometry struct {
	Basin *Basin // nil when never given
	Tests []LevelTest
}

// Value is a reading as a number, canonical, with the standard deviation that counts here.
type Value struct{ X, SD float64 }

// Dilution is one change of known litres with a reading before, one after it had mixed (within the
// hour), and one of the poured water. Out was taken first, then In was poured; Out is 0 when water
// was only added.
type Dilution struct {
	Of                    quantity.Measurand // EC, KH or nitrate
	Out, In               quantity.Litres
	Before, After, Poured Value
}

// Diluted makes a dilution of three readings. When all three were taken with the same kit or pen its
// gain cancels (only ratios of differences count), and each is as good as the kit repeats;
// otherwise each carries the whole width of its interval.
func Diluted(out, in quantity.Litres, before, after, poured kit.Interval, samePen bool) Dilution {
	value := func(iv kit.Interval) Value {
		if samePen {
			return Value{iv.Middle, iv.Repeat}
		}
		return Value{iv.Middle, max(iv.Repeat, iv.Likely.Width()/math.Sqrt(12))}
	}
	return Dilution{before.Of, out, in, value(before), value(after), value(poured)}
}

// Exact is the held water that one dilution without error means: V = L (C0 - Cin)/(C0 - C1) when as
// much is poured as was taken. It is NaN when nothing changed.
func (d Dilution) Exact() quantity.HeldLitres {
	// (V - out) C0 + in Cin = (V - out + in) C1
	c0, c1, cin := d.Before.X, d.After.X, d.Poured.X
	out, in := float64(d.Out), float64(d.In)
	if c0 == c1 {
		return quantity.HeldLitres(math.NaN())
	}
	return quantity.HeldLitres((out*c0 - in*cin + (in-out)*c1) / (c0 - c1))
}

func (d Dilution) check() error {
	bad := func(field, is, do string) error {
		return Fault{Of: "dilution", Key: string(d.Of), Field: field, Code: "enclosure.dilution", Is: is, Do: do}
	}
	if d.Of != quantity.OfEC && d.Of != quantity.OfKH && d.Of != quantity.OfNO3 {
		return bad("of", "is "+d.Of.Label(), "use EC, KH or nitrate: what a change only dilutes")
	}
	if !(d.In > 0) || !(d.Out >= 0) || math.IsInf(float64(d.In+d.Out), 0) {
		return bad("litres", fmt.Sprintf("are %g out, %g in", d.Out, d.In), "give the litres taken out and poured in")
	}
	for _, v := range []Value{d.Before, d.After, d.Poured} {
		if !(v.X >= 0) || !(v.SD > 0) || math.IsInf(v.X+v.SD, 0) {
			return bad("readings", fmt.Sprintf("have %g +- %g", v.X, v.SD), "give each reading with its standard deviation")
		}
	}
	return nil
}

// logLikelihood is how well a held water v (what mixes, before the change) explains the reading
// after. The doubt of the other two readings and of the litres is carried to it to first order. A few
// changes in a hundred have a slip in them, so a far one counts no further.
func (d Dilution) logLikelihood(v float64) float64 {
	out, in := float64(d.Out), float64(d.In)
	if v <= out {
		return math.Inf(-1)
	}
	after := func(out, in float64) float64 {
		rest := v - out
		return (rest*d.Before.X + in*d.Poured.X) / (rest + in)
	}
	share := in / (v - out + in)
	byLitres := 0.0
	if more := 1.001; v > out*more {
		byLitres = (after(out*more, in*more) - after(out, in)) / (more - 1)
	}
	variance := square(d.After.SD) + square((1-share)*d.Before.SD) + square(share*d.Poured.SD) + square(byLitres*changeSD)
	z := square(d.After.X-after(out, in)) / variance
	usual := (1 - oddShare) * math.Exp(-z/2)
	odd := oddShare / oddWide * math.Exp(-z/2/(oddWide*oddWide))
	return math.Log(usual+odd+1e-12) - 0.5*math.Log(variance)
}

var (
	changeSD = table.Value("change sd")
	oddShare = table.Value("odd dilution")
	oddWide  = table.Value("odd wide")
)

// HeldUnknown says that nothing tells how much water is in the box.
type HeldUnknown struct{}

func (HeldUnknown) Error() string {
	return "the held water is not known: give the inner length, width and full mark of the box, or a change of known litres with EC before, after and of the poured water; the label of the box will not do"
}

// HeldSource is one source of the estimate and what is known once it has joined those before it.
type HeldSource struct {
	Code string             // enclosure.held-prior, -measures, -level-tests, -dilution
	Of   quantity.Measurand // of dilutions
	N    int                // measurements
	LnSD float64            // of the held water, after it joined
	Held quantity.Band[quantity.HeldLitres]
}

// HeldEstimate is the water really held at the full mark, outside filter included, with its doubt.
type HeldEstimate struct {
	Held    quantity.Band[quantity.HeldLitres]
	LnSD    float64              // 0.06: known to about 6 %
	Gross   quantity.GrossLitres // footprint x full mark; 0 when the box was never measured
	Sources []HeldSource         // in the order in which they joined
	OddTest []LevelTest          // level tests left out as slips

	ln, sum []float64 // ln litres and the chance of less
	less    float64   // litres less at another level
}

// HeldWater joins all that bears on the held water in one likelihood: what boxes of the kind hold of
// their gross volume, the measures of the box with its level tests, and all changes of known litres.
//
// The unknowns are the open water, the unseen water (pores of bed and wood, hoses, a false bottom),
// and how much of the unseen mixes within the hour, one share for all changes: a dilution sees the
// open water, the outside filter and that share. Each change has its own error of the litres (8 %).
// The posterior is summed on a grid.
//
// It refuses a basin, level test or dilution with faults ([Fault]) and gives [HeldUnknown] when
// there is neither a basin nor a dilution. Priors of the kind, 5 to 95 %: 0.75 to 0.9 of gross
// without land, 0.3 to 0.85 with land; common practice and judgement, see constants.txt.
func HeldWater(g Geometry, dilutions []Dilution) (HeldEstimate, error) {
	for _, d := range dilutions {
		if err := d.check(); err != nil {
			return HeldEstimate{}, err
		}
	}
	if g.Basin == nil {
		if len(dilutions) == 0 {
			return HeldEstimate{}, HeldUnknown{}
		}
		box := heldBox{open: table.Value("unknown box"), openSD: table.Value("unknown box sd")}
		var h HeldEstimate
		h.joinDilutions(box, dilutions)
		return h, nil
	}
	drawn, err := NewLevelTable(*g.Basin, nil)
	if err != nil {
		return HeldEstimate{}, err
	}
	h := HeldEstimate{Gross: g.Basin.Gross(g.Basin.FullMark)}
	box := boxOf(drawn)
	prior := HeldSource{Code: "enclosure.held-prior", N: 1, LnSD: box.kindSD}
	prior.Held = lnBand[quantity.HeldLitres](box.gross*math.Exp(box.kind)+box.filter, box.kindSD)
	h.Sources = append(h.Sources, prior)
	h.take(box.posterior(nil))
	h.note("enclosure.held-measures", "", 1)
	if len(g.Tests) > 0 {
		tested, err := NewLevelTable(*g.Basin, g.Tests)
		if err != nil {
			return HeldEstimate{}, err
		}
		box, h.OddTest = boxOf(tested), tested.Odd
		h.take(box.posterior(nil))
		h.note("enclosure.held-level-tests", "", tested.Tests)
	}
	h.joinDilutions(box, dilutions)
	return h, nil
}

// joinDilutions joins the changes by what was read, in the order EC, KH, nitrate.
func (h *HeldEstimate) joinDilutions(box heldBox, dilutions []Dilution) {
	var joined []Dilution
	for _, of := range []quantity.Measurand{quantity.OfEC, quantity.OfKH, quantity.OfNO3} {
		n := len(joined)
		for _, d := range dilutions {
			if d.Of == of {
				joined = append(joined, d)
			}
		}
		if len(joined) > n {
			h.take(box.posterior(joined))
			h.note("enclosure.held-dilution", of, len(joined)-n)
		}
	}
}

func (h *HeldEstimate) take(p posterior) {
	h.ln, h.sum = p.ln, p.sum
	_, h.LnSD = p.moments()
	h.Held = h.band()
}

func (h *HeldEstimate) note(code string, of quantity.Measurand, n int) {
	h.Sources = append(h.Sources, HeldSource{code, of, n, h.LnSD, h.Held})
}

func (h HeldEstimate) band() quantity.Band[quantity.HeldLitres] {
	return quantity.Band[quantity.HeldLitres]{
		Low: h.Quantile(0.05), Lo: h.Quantile(0.1), Median: h.Quantile(0.5), Hi: h.Quantile(0.9), High: h.Quantile(0.95),
	}
}

// Quantile is the held water that is exceeded with chance 1-p, p from 0 to 1: with p evenly spread or
// random over (0, 1) it gives draws. It is NaN for an estimate that was never made.
func (h HeldEstimate) Quantile(p float64) quantity.HeldLitres {
	if len(h.sum) == 0 || math.IsNaN(p) {
		return quantity.HeldLitres(math.NaN())
	}
	last := len(h.sum) - 1
	i := sort.SearchFloat64s(h.sum, p)
	ln := h.ln[min(i, last)]
	if i > 0 && i <= last && h.sum[i] > h.sum[i-1] {
		ln = h.ln[i-1] + (p-h.sum[i-1])/(h.sum[i]-h.sum[i-1])*(h.ln[i]-h.ln[i-1])
	}
	v := math.Exp(ln)
	return quantity.HeldLitres(max(v-h.less, 0.05*v))
}

// At is the estimate with the water at another level than the full mark, by the level table.
func (h HeldEstimate) At(t LevelTable, level quantity.Millimetres) HeldEstimate {
	h.less = float64(t.Litres(t.basin.FullMark) - t.Litres(level))
	h.Held = h.band()
	return h
}

// heldBox is what the measures of a box say before any change was made, natural logarithms.
type heldBox struct {
	gross, filter float64
	open, openSD  float64 // open water, litres, and its sd of ln
	unseen, sd    float64 // unseen water likewise; 0 when the box was never measured
	kind, kindSD  float64 // ln of held over gross for boxes of the kind, and its sd; 0 sd for none
}

func boxOf(t LevelTable) heldBox {
	b, full := t.basin, float64(t.basin.FullMark)
	box := heldBox{gross: float64(b.Gross(b.FullMark)), filter: float64(b.FilterLitres)}
	low, high, unseenSD := "prior low", "prior high", "unseen sd"
	if b.land() {
		low, high = "prior low land", "prior high land"
	}
	if b.FalseBottom {
		unseenSD = "unseen sd false"
	}
	lo, hi := math.Log(table.Value(low)), math.Log(table.Value(high))
	box.kind, box.kindSD = (lo+hi)/2, (hi-lo)/2/z95

	open := b.openLeft() * b.openBox(full)
	tested := t.at(full) / b.drawn(full)
	box.open = open * tested
	variance := square(t.volumeSD(full)) + square(table.Value("displaced sd")*min(b.displaced(), open)/open)
	if len(b.Profile) == 0 && b.BedFront == 0 && b.BedBack == 0 {
		variance += square(table.Value("unmeasured"))
	} else if len(b.Profile) == 0 {
		variance += square(table.Value("bed sd") * float64(b.Footprint()) * (1 - float64(b.LandShare)) / open)
	}
	box.openSD = math.Sqrt(variance)
	box.unseen = b.pores(full) + table.Value("unseen")*box.gross
	box.sd = table.Value(unseenSD)
	return box
}

// posterior is the chance of each held water on a grid.
type posterior struct{ ln, sum, weight []float64 }

func (p posterior) moments() (mean, sd float64) {
	var m, v, w float64
	for i, x := range p.ln {
		m += p.weight[i] * x
		w += p.weight[i]
	}
	m /= w
	for i, x := range p.ln {
		v += p.weight[i] * square(x-m)
	}
	return m, math.Sqrt(v / w)
}

const (
	openSteps   = 121 // of the open water
	unseenSteps = 11  // of the unseen water, over 2.5 sd to either side
	seenSteps   = 300 // of the likelihood of the changes
	binSteps    = 500 // of the sum
)

// posterior sums the grid over five standard deviations of the measures to either side, and again
// over where the weight is as long as the grid is coarse against what is known.
func (box heldBox) posterior(dilutions []Dilution) posterior {
	centre, half := math.Log(box.open), 5*box.openSD
	lo, hi := centre-half, centre+half
	for range 3 {
		g := box.sumGrid(lo, hi, dilutions)
		mean, sd := g.openMoments()
		step := (hi - lo) / (openSteps - 1)
		if sd > 2*step {
			return g.held()
		}
		sd = max(sd, step)
		lo, hi = max(lo, mean-6*sd), min(hi, mean+6*sd)
	}
	return box.sumGrid(lo, hi, dilutions).held()
}

// grid is the weight of each pair of open and unseen water.
type grid struct {
	box    heldBox
	lnOpen []float64
	unseen []float64
	weight []float64 // openSteps x len(unseen)
}

func (box heldBox) sumGrid(lo, hi float64, dilutions []Dilution) grid {
	g := grid{box: box, unseen: []float64{0}}
	unseenZ := []float64{0}
	if box.unseen > 0 {
		g.unseen, unseenZ = nil, nil
		for i := range unseenSteps {
			z := 5 * (float64(i)/(unseenSteps-1) - 0.5)
			unseenZ = append(unseenZ, z)
			g.unseen = append(g.unseen, box.unseen*math.Exp(z*box.sd))
		}
	}
	mixes := []float64{1}
	if box.unseen > 0 {
		a, b := table.Value("mixes low"), table.Value("mixes high")
		mixes = []float64{a + (b-a)/6, a + (b-a)/2, b - (b-a)/6} // an even spread, by three middles
	}
	most := g.unseen[len(g.unseen)-1]
	seen := newSeen(math.Exp(lo)+box.filter, math.Exp(hi)+box.filter+most, dilutions)
	g.weight = make([]float64, 0, openSteps*len(g.unseen))
	best := math.Inf(-1)
	for i := range openSteps {
		ln := lo + (hi-lo)*float64(i)/(openSteps-1)
		g.lnOpen = append(g.lnOpen, ln)
		open := math.Exp(ln)
		z := (ln - math.Log(box.open)) / box.openSD
		for j, unseen := range g.unseen {
			w := -z*z/2 - square(unseenZ[j])/2
			if box.kindSD > 0 {
				w -= square((math.Log((open+unseen)/box.gross)-box.kind)/box.kindSD) / 2
			}
			if len(dilutions) > 0 {
				sum, top := 0.0, math.Inf(-1)
				var each [3]float64
				for k, m := range mixes {
					each[k] = seen.at(open + box.filter + m*unseen)
					top = max(top, each[k])
				}
				for k := range mixes {
					sum += math.Exp(each[k] - top)
				}
				w += top + math.Log(sum)
			}
			g.weight = append(g.weight, w)
			best = max(best, w)
		}
	}
	for i, w := range g.weight {
		g.weight[i] = math.Exp(w - best)
	}
	return g
}

func (g grid) openMoments() (mean, sd float64) {
	n := len(g.unseen)
	by := posterior{ln: g.lnOpen, weight: make([]float64, len(g.lnOpen))}
	for i, w := range g.weight {
		by.weight[i/n] += w
	}
	return by.moments()
}

// held sums the weights by the held water: open, unseen and filter.
func (g grid) held() posterior {
	n := len(g.unseen)
	least := math.Exp(g.lnOpen[0]) + g.unseen[0] + g.box.filter
	most := math.Exp(g.lnOpen[len(g.lnOpen)-1]) + g.unseen[n-1] + g.box.filter
	lo, step := math.Log(least), (math.Log(most)-math.Log(least))/(binSteps-1)
	p := posterior{ln: make([]float64, binSteps), weight: make([]float64, binSteps), sum: make([]float64, binSteps)}
	for i := range p.ln {
		p.ln[i] = lo + step*float64(i)
	}
	for i, w := range g.weight {
		x := (math.Log(math.Exp(g.lnOpen[i/n])+g.unseen[i%n]+g.box.filter) - lo) / step
		k := min(max(int(x), 0), binSteps-2)
		p.weight[k] += w * (1 - (x - float64(k)))
		p.weight[k+1] += w * (x - float64(k))
	}
	total := 0.0
	for i, w := range p.weight {
		total += w
		p.sum[i] = total - w/2 // half of a bin lies below its middle
	}
	for i := range p.sum {
		p.sum[i] /= total
	}
	return p
}

// seen is the log likelihood of all changes over the water that mixes, on a grid of its logarithm.
type seen struct {
	lo, step float64
	value    []float64
}

func newSeen(least, most float64, dilutions []Dilution) seen {
	if len(dilutions) == 0 {
		return seen{}
	}
	s := seen{lo: math.Log(least), value: make([]float64, seenSteps)}
	s.step = max((math.Log(most)-s.lo)/(seenSteps-1), 1e-12)
	for i := range s.value {
		v := math.Exp(s.lo + s.step*float64(i))
		for _, d := range dilutions {
			s.value[i] += max(d.logLikelihood(v), -1e6)
		}
	}
	return s
}

func (s seen) at(v float64) float64 {
	x := (math.Log(v) - s.lo) / s.step
	i := min(max(int(x), 0), len(s.value)-2)
	return s.value[i] + (x-float64(i))*(s.value[i+1]-s.value[i])
}
