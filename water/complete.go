package water

import (
	_ "embed"
	"math"
	"sort"

	"halfwater/cite"
	"halfwater/quantity"
)

//go:embed priors.txt
var priorsText string

var priors = cite.MustParse(priorsText)

// Completed is an analysis made whole: an electroneutral composition, and how far each part of it
// may be elsewhere.
type Completed struct {
	// Composition is the middle of what the water may be. Its charges agree exactly.
	Composition Composition
	// DIC is known when pH and alkalinity are.
	DIC Known[Molality]
	// EC is the conductivity that the model gives the middle, at 25 C.
	EC quantity.Conductivity
	// The bands cover what was not stated (and 3 % of the conductivity model). What was stated is
	// taken as it is: its own doubt is that of the kit.
	Ca, Mg, Na, K, Cl, SO4, NO3 quantity.Band[Molality]
	Alk                         quantity.Band[Equivalents]
	Notes                       []Note
}

// Note is the code of a remark on a completed analysis; its sentence stands in the catalogue.
type Note string

// The notes.
const (
	SplitAssumed    Note = "water.split-assumed"   // calcium and magnesium were split as is usual
	NitrateAssumed  Note = "water.nitrate-assumed" // nitrate was not stated and was taken as is usual
	SodiumAssumed   Note = "water.sodium-assumed"  // sodium was not stated and no EC shows it
	KHAssumed       Note = "water.kh-assumed"      // KH was not stated; the band is wide
	ECDiffers       Note = "water.ec-differs"      // computed and stated EC differ by more than 15 %
	ECBelowIons     Note = "water.ec-below"        // the EC stated is a little below what the other numbers make
	LooksSoftened   Note = "water.softened"        // little hardness for its KH
	HardnessBounded Note = "water.gh-bounded"      // GH was not stated; the EC is so low that it must be small
	GHAndIonsDiffer Note = "water.gh-ions-differ"  // GH and Ca + Mg differ by more than 5 %; the ions were used
)

// Complete makes an analysis whole. It needs the hardness (GH, or calcium and magnesium) unless
// the EC is so low that it hardly matters (under 60 uS/cm), and then either KH, or EC, or the
// anions; with GH, KH, EC and NO3 the bands are narrow.
//
// Method: what is stated is fixed; the remaining freedom is Na + K against Cl + SO4 (and Alk when
// KH is not stated), tied by electroneutrality. EC decides between them where it is stated, usual
// waters otherwise. How the free parts divide is drawn from what is usual (priors.txt), 200 times
// by a fixed sequence, for the bands.
//
// Errors: [OutOfSpan], [CannotKnow], [Unbalanced], [Disagrees].
func (a Analysis) Complete() (Completed, error) {
	out, p, err := a.middle()
	if err == nil {
		p.bands(&out)
	}
	return out, err
}

// Middle is [Analysis.Complete] without its bands, for whoever needs only the composition: it
// costs a hundredth. The bands are left at zero.
func (a Analysis) Middle() (Completed, error) {
	out, _, err := a.middle()
	return out, err
}

func (a Analysis) middle() (out Completed, p *puzzle, err error) {
	if err := a.check(); err != nil {
		return out, nil, err
	}
	if p, err = a.puzzle(); err != nil {
		return out, nil, err
	}
	out.Notes = p.notes
	middle, err := p.solve(draw{0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5})
	if err != nil {
		return out, nil, err
	}
	out.Composition = middle
	s, err := GivenPH(middle, p.ph)
	if err == nil {
		out.EC = s.EC25()
		if a.PH.Is && !p.freeAlk {
			out.DIC = Stated(s.DIC)
		}
	} else {
		if a.PH.Is {
			return Completed{}, nil, err
		}
		if s, err = Open(middle, 4.2e-4); err != nil {
			return Completed{}, nil, err
		}
		out.EC = s.EC25()
	}
	if a.EC.Is {
		off := float64(out.EC/a.EC.Value) - 1
		if math.Abs(off) > ecDisagreement {
			out.Notes = append(out.Notes, ECDiffers)
		} else if p.pinched {
			out.Notes = append(out.Notes, ECBelowIons)
		}
	}
	if kh := middle.KH(); float64(kh) > 3 && float64(middle.GH()) < 0.15*float64(kh) || a.Kind == Softened {
		out.Notes = append(out.Notes, LooksSoftened)
	}
	return out, p, nil
}

// puzzle is an analysis with its known amounts as a composition and its freedoms named.
type puzzle struct {
	known                                                   Composition
	ec                                                      Known[quantity.Conductivity]
	ph                                                      quantity.PH
	gh                                                      Known[Molality] // Ca + Mg, when not both are stated
	freeCa, freeMg, freeNa, freeK, freeCl, freeSO4, freeNO3 bool
	freeAlk                                                 bool
	pure                                                    bool
	boundGH                                                 bool
	pinched                                                 bool
	notes                                                   []Note
}

func (a *Analysis) puzzle() (*puzzle, error) {
	p := &puzzle{ec: a.EC, ph: a.PH.Or(7.5)}
	c := &p.known
	c.Temperature = a.Temperature.Or(20)
	mm := func(k Known[quantity.MgPerL], molar float64) Molality { return Molality(float64(k.Value) / molar) }
	c.Ca, c.Mg, c.Na, c.K = mm(a.Ca, atomCa), mm(a.Mg, atomMg), mm(a.Na, atomNa), mm(a.K, atomK)
	c.Cl, c.SO4 = mm(a.Cl, atomCl), mm(a.SO4, molarSO4)
	c.NO3, c.NO2 = Molality(a.NO3.Value/atomN), Molality(a.NO2.Value/atomN)
	c.TAN, c.PO4 = Molality(a.TAN.Value/atomN), Molality(a.PO4.Value/atomP)
	c.DOC = a.DOC.Value
	if a.KH.Is {
		c.Alk = FromTitration(a.KH.Value, c.DOC)
	}
	p.freeCa, p.freeMg, p.freeNa, p.freeK = !a.Ca.Is, !a.Mg.Is, !a.Na.Is, !a.K.Is
	p.freeCl, p.freeSO4, p.freeNO3, p.freeAlk = !a.Cl.Is, !a.SO4.Is, !a.NO3.Is, !a.KH.Is
	p.pure = a.Kind == RO || a.Kind == Rain || a.EC.Is && float64(a.EC.Value) < pureEC

	hardnessStated := a.GH.Is || a.Ca.Is && a.Mg.Is
	switch {
	case hardnessStated:
		if a.GH.Is {
			p.gh = Stated(Molality(a.GH.Value.Mmol()))
		}
		if a.GH.Is && a.Ca.Is && a.Mg.Is && math.Abs(float64(p.gh.Value-c.Ca-c.Mg)) > 0.05*float64(c.Ca+c.Mg)+0.02 {
			p.notes = append(p.notes, GHAndIonsDiffer)
		}
		if p.freeCa && p.freeMg {
			p.notes = append(p.notes, SplitAssumed)
		}
	case a.EC.Is && float64(a.EC.Value) < pureEC && p.freeCa && p.freeMg && p.freeNa && p.freeK:
		p.boundGH = true
		p.notes = append(p.notes, HardnessBounded)
	case a.Kind == Softened:
		return nil, CannotKnow{"GH", a.stated(), SodiumForCalcium, "test the GH"}
	case a.EC.Is:
		return nil, CannotKnow{"GH", a.stated(), ConductivityCountsEverything, "test the GH, or give calcium and magnesium"}
	default:
		return nil, CannotKnow{"GH", a.stated(), NothingStated, "test GH and KH, or give the report of the supplier"}
	}
	if p.freeAlk && !a.EC.Is && (p.freeCl || p.freeSO4 || p.freeNa) {
		return nil, CannotKnow{"KH", a.stated(), NothingStated, "test the KH"}
	}
	if p.freeNO3 && !p.pure {
		p.notes = append(p.notes, NitrateAssumed)
	}
	if p.freeAlk {
		p.notes = append(p.notes, KHAssumed)
	}
	if p.freeNa && !a.EC.Is {
		p.notes = append(p.notes, SodiumAssumed)
	}
	return p, nil
}

// draw is one choice among the usual, each 0 to 1: Ca:Mg, NO3, K share, Cl share, Na, KH share, EC error.
type draw [7]float64

// prior is what is usual of one free number: log-normal with a median and 5 % and 95 %.
type prior struct{ middle, low, high float64 }

func priorOf(name string) prior {
	return prior{priors.Value(name + ", middle"), priors.Value(name + ", low"), priors.Value(name + ", high")}
}

// at is the quantile u.
func (p prior) at(u float64) float64 {
	const z95 = 1.6448536269514722
	z := math.Sqrt2 * math.Erfinv(2*u-1) / z95
	if z < 0 {
		return p.middle * math.Exp(z*math.Log(p.middle/p.low))
	}
	return p.middle * math.Exp(z*math.Log(p.high/p.middle))
}

// span is a free number with even odds between two ends.
type span struct{ low, high float64 }

func spanOf(name string) span {
	return span{priors.Value(name + ", low"), priors.Value(name + ", high")}
}

func (s span) at(u float64) float64 { return s.low + u*(s.high-s.low) }

var (
	usualCaMg, usualNO3     = priorOf("Ca:Mg"), priorOf("NO3")
	usualNa, usualKShare    = priorOf("Na"), priorOf("K:Na+K")
	usualClShare, usualAlk  = spanOf("Cl share"), spanOf("alkalinity share")
	ecError, ecDisagreement = priors.Value("EC error"), priors.Value("EC disagreement")
	pureEC, mostImbalance   = priors.Value("pure EC"), priors.Value("imbalance")
)

// solve closes the puzzle for one draw.
func (p *puzzle) solve(d draw) (Composition, error) {
	base := p.known
	if p.freeNO3 && !p.pure {
		base.NO3 = Molality(usualNO3.at(d[1]) / molarNO3)
	}
	target := float64(p.ec.Value) * (1 + ecError*math.Sqrt2*math.Erfinv(2*d[6]-1))
	if p.boundGH {
		// Hardness in proportion to what EC leaves room for: between none and all of the cations.
		return p.bounded(base, d, target)
	}
	p.split(&base, d)
	return p.charges(base, d, target)
}

// split divides a hardness into calcium and magnesium.
func (p *puzzle) split(c *Composition, d draw) {
	if !p.gh.Is {
		return
	}
	switch gh := p.gh.Value; {
	case p.freeCa && p.freeMg:
		r := Molality(usualCaMg.at(d[0]))
		c.Ca, c.Mg = gh*r/(1+r), gh/(1+r)
	case p.freeCa:
		c.Ca = max(gh-c.Mg, 0)
	case p.freeMg:
		c.Mg = max(gh-c.Ca, 0)
	}
}

// charges puts the remaining charge on the free ions.
func (p *puzzle) charges(c Composition, d draw, target float64) (Composition, error) {
	freeX := p.freeCl || p.freeSO4
	if !p.freeNa && !freeX && !p.freeAlk {
		if p.freeK {
			share := usualKShare.at(d[2])
			c.K = c.Na * Molality(share/(1-share))
		}
		return p.exact(c)
	}
	// y is Na + K where Na is free; the anions follow by charge.
	put := func(y float64) Composition { return p.put(c, d, y) }
	low := p.least(c, d)
	if !p.freeNa || !freeX && !p.freeAlk {
		// One side is fixed: the charge alone decides.
		x := put(low)
		return x, p.sane(x)
	}
	if !p.ec.Is {
		return put(low + math.Max(0, usualNa.at(d[4])-low)), nil
	}
	ec := func(y float64) float64 { return conductivityOf(put(y), p.ph) }
	least := ec(low)
	if least >= target {
		p.pinched = true
		if least > target*(1+ecDisagreement) {
			return c, Disagrees{p.ec.Value, quantity.Conductivity(least)}
		}
		return put(low), nil
	}
	return put(rising(ec, low, low+1, target)), nil
}

// rising solves f(x) = target for an f that rises from f(lo) <= target; hi is a first guess at the
// other end. False position (Illinois), which cannot leave its bracket.
func rising(f func(float64) float64, lo, hi, target float64) float64 {
	a, b := f(lo)-target, f(hi)-target
	for n := 0; b < 0 && n < 30; n++ {
		lo, a = hi, b
		hi = lo + 2*(hi-lo) + 1
		b = f(hi) - target
	}
	for n := 0; n < 60 && hi-lo > 1e-9*(1+hi); n++ {
		x := lo - a*(hi-lo)/(b-a)
		switch y := f(x) - target; {
		case math.Abs(y) < 1e-7*(1+target):
			return x
		case y < 0:
			lo, a, b = x, y, b/2
		default:
			hi, b, a = x, y, a/2
		}
	}
	return (lo + hi) / 2
}

// least is the smallest Na + K that leaves no anion negative.
func (p *puzzle) least(c Composition, d draw) float64 {
	if !p.freeNa {
		return 0
	}
	x := c
	x.Na = 0
	if p.freeK {
		x.K = 0
	}
	if p.freeAlk {
		x.Alk = 0
	}
	if p.freeCl {
		x.Cl = 0
	}
	if p.freeSO4 {
		x.SO4 = 0
	}
	short := -float64(x.StrongIonBalance() - x.Alk)
	if !p.freeCl && !p.freeSO4 && !p.freeAlk {
		return short
	}
	return math.Max(short, 0)
}

// put sets Na + K to y and lets the free anions take the charge.
func (p *puzzle) put(c Composition, d draw, y float64) Composition {
	share := usualKShare.at(d[2])
	switch {
	case p.freeNa && p.freeK:
		c.K = Molality(y * share)
		c.Na = Molality(y) - c.K
	case p.freeNa:
		c.Na = Molality(y)
	case p.freeK:
		c.K = c.Na * Molality(share/(1-share))
	}
	if p.freeAlk {
		c.Alk = 0
	}
	if p.freeCl {
		c.Cl = 0
	}
	if p.freeSO4 {
		c.SO4 = 0
	}
	rest := c.StrongIonBalance() - c.Alk // meq/L to be given to the free anions
	if rest < 0 && rest > -1e-12 {
		rest = 0 // the dust of subtraction
	}
	if p.freeAlk {
		c.Alk = rest
		if p.freeCl || p.freeSO4 {
			c.Alk = rest * Equivalents(usualAlk.at(d[5]))
		}
		rest -= c.Alk
	}
	switch cl := usualClShare.at(d[3]); {
	case p.freeCl && p.freeSO4:
		c.Cl = Molality(rest) * Molality(cl)
		c.SO4 = (Molality(rest) - c.Cl) / 2
	case p.freeCl:
		c.Cl = Molality(rest)
	case p.freeSO4:
		c.SO4 = Molality(rest) / 2
	}
	return c
}

// bounded is the case of very pure water without a stated GH.
func (p *puzzle) bounded(base Composition, d draw, target float64) (Composition, error) {
	r := Molality(usualCaMg.at(d[0]))
	// The hard share of the cations, 0.02 to 0.98 with even odds, the middle at a half.
	hard := 0.02 + 0.96*d[4]
	water := func(total float64) Composition {
		c := base
		gh := Molality(total * hard / 2)
		c.Ca, c.Mg = gh*r/(1+r), gh/(1+r)
		return p.put(c, d, total*(1-hard))
	}
	lo := p.least(base, d)
	ec := func(total float64) float64 { return conductivityOf(water(total), p.ph) }
	if least := ec(lo); least >= target || !(p.freeAlk || p.freeCl || p.freeSO4) {
		p.pinched = true
		if least > target*(1+ecDisagreement) {
			return base, Disagrees{p.ec.Value, quantity.Conductivity(least)}
		}
		c := water(lo)
		return c, p.sane(c)
	}
	c := water(rising(ec, lo, lo+0.5, target))
	return c, p.sane(c)
}

// exact is a full analysis: its charges must agree within 5 %, and the rest goes on sodium when
// cations are short and on chloride otherwise.
func (p *puzzle) exact(c Composition) (Composition, error) {
	excess, share := c.ChargeImbalance()
	if math.Abs(float64(share)) > mostImbalance {
		return c, unbalanced(c, share)
	}
	if excess > 0 {
		c.Cl += Molality(excess)
	} else {
		c.Na -= Molality(excess)
	}
	return c, nil
}

// sane refuses a completion in which an ion came out negative by more than 5 % of the whole.
func (p *puzzle) sane(c Composition) error {
	least := min(c.Na, c.K, c.Cl, c.SO4, Molality(c.Alk))
	if least >= 0 {
		return nil
	}
	full := c
	full.Na, full.K, full.Cl, full.SO4 = max(c.Na, 0), max(c.K, 0), max(c.Cl, 0), max(c.SO4, 0)
	if p.freeAlk {
		full.Alk = max(c.Alk, 0)
	}
	_, share := full.ChargeImbalance()
	return unbalanced(full, share)
}

// bands draws the freedoms and takes quantiles.
func (p *puzzle) bands(out *Completed) {
	const draws = 200
	var got [8][]float64
	q := *p
	q.known.Temperature = 25 // conductivity is stated at 25 C; the pH's own shift is nothing to a band
	for i := range draws {
		d := halton(i + 1)
		c, err := q.solve(d)
		if err != nil || c.check() != nil {
			continue
		}
		for k, x := range [...]float64{float64(c.Ca), float64(c.Mg), float64(c.Na), float64(c.K), float64(c.Cl), float64(c.SO4), float64(c.NO3), float64(c.Alk)} {
			got[k] = append(got[k], x)
		}
	}
	for k, b := range [...]*quantity.Band[Molality]{&out.Ca, &out.Mg, &out.Na, &out.K, &out.Cl, &out.SO4, &out.NO3} {
		*b = bandOf[Molality](got[k])
	}
	out.Alk = bandOf[Equivalents](got[7])
}

func bandOf[Q quantity.Number](x []float64) quantity.Band[Q] {
	if len(x) == 0 {
		return quantity.Band[Q]{}
	}
	sort.Float64s(x)
	at := func(q float64) Q {
		i := q * float64(len(x)-1)
		k := min(int(i), len(x)-2)
		if len(x) == 1 {
			return Q(x[0])
		}
		return Q(x[k] + (i-float64(k))*(x[k+1]-x[k]))
	}
	return quantity.Band[Q]{Low: at(0.05), Lo: at(0.1), Median: at(0.5), Hi: at(0.9), High: at(0.95)}
}

// halton is the i-th point of the Halton sequence in seven dimensions.
func halton(i int) (d draw) {
	for k, base := range [...]int{2, 3, 5, 7, 11, 13, 17} {
		f, n := 1.0, i
		for n > 0 {
			f /= float64(base)
			d[k] += f * float64(n%base)
			n /= base
		}
	}
	return d
}

// conductivityOf is the conductivity at 25 C of a composition at a pH, or of its ions alone where
// that pH cannot be.
func conductivityOf(c Composition, ph quantity.PH) float64 {
	s, err := GivenPH(c, ph)
	if err != nil {
		if s, err = Open(c, 4.2e-4); err != nil {
			return math.Inf(1)
		}
	}
	return float64(s.EC25())
}
