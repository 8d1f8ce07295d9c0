package water

import (
	"math"

	"halfwater/quantity"
)

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
