package emergency

import (
	"math"

	"halfwater/change"
	"halfwater/enclosure"
	"halfwater/husbandry"
	"halfwater/quantity"
	"halfwater/water"
)

// Ammonia is what each change on offer would do to free ammonia, and the way out.
type Ammonia struct {
	Code string // of the verdict over all: AmmoniaUnknown, AmmoniaTrap, AmmoniaHigh, AmmoniaLow
	// Now is the water as read; Left is what it would come to within 48 h with no change at all, when
	// its CO2 leaves. Nil when pH, KH or total ammonia are not known.
	Now, Left *State
	Offers    []Offer
	Path      []PathStep // small changes, one a day, until harder water may come; none when not needed or not known
	PathCode  string
	Bound     *Bound // when only part is known
	Acts      []Act
	Missing   []Missing
}

// Codes of the verdict over all.
const (
	AmmoniaUnknown = "emergency.ammonia-unknown" // total ammonia or pH never read
	AmmoniaTrap    = "emergency.ammonia-trap"    // low pH, much total ammonia: a large hard change would poison
	AmmoniaHigh    = "emergency.ammonia-high"    // past the act line now
	AmmoniaLow     = "emergency.ammonia-low"     // under the watch line now
	AmmoniaWatch   = "emergency.ammonia-watch"
)

// Codes of the path.
const (
	PathNone    = "emergency.path-none"    // no water here gives a path
	PathNotAsk  = "emergency.path-not-ask" // none needed
	PathStepped = "emergency.path-stepped"
)

// State is what an animal would feel of the water.
type State struct {
	TAN       quantity.TotalAmmonia
	Free      quantity.FreeAmmonia
	PH        quantity.PH
	EC        quantity.Conductivity // by its ions
	Temp      quantity.Celsius
	Tier      husbandry.Tier
	Emergency bool
}

// Offer is one change: how much of which water, and what follows.
type Offer struct {
	Code     string // OfferRefused, OfferGuarded, OfferLarge, OfferOK
	Source   string
	Share    quantity.Share
	Litres   quantity.Litres
	AtMixing State
	Later    State // within 48 h
	Steps    []quantity.Measurand
	Times    float64 // the worst free ammonia after it over that of now
}

// Codes of an offer.
const (
	OfferRefused = "emergency.offer-refused" // it would take free ammonia past its line
	OfferGuarded = "emergency.offer-guarded" // no worse than nothing, and past the act line if the CO2 leaves
	OfferLarge   = "emergency.offer-large"   // a step that is too large for one day
	OfferOK      = "emergency.offer-ok"
)

// PathStep is one day of the stepped path.
type PathStep struct {
	Day    int
	Litres quantity.Litres
	Share  quantity.Share
	Parts  []Part
	After  State // the worse of at mixing and within 48 h
}

// Part is some litres of one water.
type Part struct {
	Source string
	Litres quantity.Litres
}

// sizes are the changes on offer.
var sizes = []quantity.Share{0.1, 0.25, 0.4}

const (
	roomCO2 quantity.Atm = 7e-4 // over a vessel that stood in a lived-in room; judgement
)

// source is a water that can be poured, made whole.
type source struct {
	name   string
	carbon change.Carbonated
	softer float64 // GH + KH
}

func (n Now) ammonia(b box) Ammonia {
	a := Ammonia{Code: AmmoniaUnknown, PathCode: PathNone, Acts: actsOf("ammonia")}
	sources, odd := n.sources(b)
	a.Missing = odd
	if len(sources) == 0 {
		a.Missing = append(a.Missing, Missing{Code: NoSource})
	}
	_, tan := n.Read.TAN.Get()
	_, ph := n.Read.PH.Get()
	_, kh := n.Read.KH.Get()
	for _, m := range []struct {
		known bool
		code  string
	}{{tan, NoTAN}, {ph, NoPH}, {kh, NoKH}} {
		if !m.known {
			a.Missing = append(a.Missing, Missing{Code: m.code})
		}
	}
	lines := n.lines()
	tank, ok := n.tank(b)
	if !ok {
		if tan && ph && kh {
			a.Missing = append(a.Missing, Missing{Code: OddWater})
		}
		a.bound(n, b, sources, lines)
		return a
	}
	now := stateOf(tank, lines)
	a.Now = &now
	later := min(tank.PCO2, change.AiredCO2)
	if left, err := water.Open(tank.Composition, later); err == nil {
		s := stateOf(left, lines)
		a.Left = &s
	}
	w := carbonated(tank)
	for _, s := range sources {
		for _, share := range sizes {
			if o, ok := n.offer(w, s, share, b, later, lines); ok {
				a.Offers = append(a.Offers, o)
			}
		}
	}
	a.judge()
	if a.Code == AmmoniaTrap || a.Code == AmmoniaHigh {
		a.Path = n.path(w, tank.PCO2, later, sources, b, lines)
		if len(a.Path) > 0 {
			a.PathCode = PathStepped
		}
	} else {
		a.PathCode = PathNotAsk
	}
	return a
}

// judge words the whole: a refused offer at a low pH is the trap, and so is any hard water that we do
// not know.
func (a *Ammonia) judge() {
	refused := len(a.Offers) == 0
	for _, o := range a.Offers {
		refused = refused || o.Code == OfferRefused
	}
	switch {
	case refused && float64(a.Now.PH) < constants.Value("low-ph") && float64(a.Now.TAN) > constants.Value("low-ammonia"):
		a.Code = AmmoniaTrap
	case a.Now.Tier == husbandry.ActNow:
		a.Code = AmmoniaHigh
	case a.Now.Tier == husbandry.Watch:
		a.Code = AmmoniaWatch
	default:
		a.Code = AmmoniaLow
	}
}

// sources makes the source waters whole; what cannot be is left out and named. A water of which no
// temperature is known is taken as warmed to the tank's.
func (n Now) sources(b box) ([]source, []Missing) {
	var out []source
	var odd []Missing
	for _, f := range n.Facts.Sources {
		c, err := f.Analysis.Middle()
		if err != nil {
			odd = append(odd, Missing{Code: BadSource, Who: f.Name})
			continue
		}
		dic := c.DIC.Value
		if !c.DIC.Is {
			s, err := water.Open(c.Composition, roomCO2)
			if err != nil {
				odd = append(odd, Missing{Code: BadSource, Who: f.Name})
				continue
			}
			dic = s.DIC
		}
		if !f.Analysis.Temperature.Is {
			c.Composition.Temperature = quantity.Celsius(b.temp.mid)
		}
		if bound := chloramine(f); bound > 0 {
			c.Composition.TAN += water.Molality(float64(water.ChloramineAmmonia(bound)) / water.MolarN)
		}
		out = append(out, source{f.Name, change.Carbonated{Composition: c.Composition, DIC: dic}, float64(c.Composition.GH()) + float64(c.Composition.KH())})
	}
	return out, odd
}

// chloramine is the bound chlorine of a water, which leaves its ammonia behind.
func chloramine(f enclosure.SourceWater) quantity.MgPerL {
	bound := f.Analysis.Chloramine.Or(0)
	if f.Chloramine {
		bound += f.Analysis.FreeChlorine.Or(0)
	}
	return bound
}

// tank is the water now, by what was read; false without total ammonia, pH or KH, or when pH and KH
// contradict each other.
func (n Now) tank(b box) (water.Speciation, bool) {
	r := n.Read
	tan, haveTAN := r.TAN.Get()
	ph, havePH := r.PH.Get()
	kh, haveKH := r.KH.Get()
	if !haveTAN || !havePH || !haveKH {
		return water.Speciation{}, false
	}
	c := n.ions(tan, ph, kh)
	c.Temperature = quantity.Celsius(b.temp.mid)
	s, err := water.GivenPH(c, ph)
	return s, err == nil
}

// ions makes a composition of what was read. With the EC known the free ions follow from it; without GH, as
// much calcium and magnesium is taken as balances the KH; else calcium to magnesium is taken as 3:1 and the rest of the charge as sodium or chloride, which
// free ammonia hardly feels.
func (n Now) ions(tan quantity.TotalAmmonia, ph quantity.PH, kh quantity.Alkalinity) water.Composition {
	r := n.Read
	a := water.Analysis{KH: water.Stated(kh), PH: water.Stated(ph), TAN: water.Stated(tan)}
	gh, haveGH := r.GH.Get()
	if !haveGH {
		gh = quantity.HardnessMmol(0.5 * kh.Meq())
	}
	if ec, ok := r.EC.Get(); ok {
		a.GH, a.EC = water.Stated(gh), water.Stated(ec)
		if cl, ok := r.Chloride.Get(); ok {
			a.Cl = water.Stated(cl)
		}
		if c, err := a.Middle(); err == nil {
			return c.Composition
		}
	}
	hard := gh.Mmol()
	c := water.Composition{
		Ca: water.Molality(0.75 * hard), Mg: water.Molality(0.25 * hard), TAN: water.Molality(float64(tan) / water.MolarN),
		NO2: water.Molality(float64(r.NO2.Or(0)) / water.MolarN), Cl: water.Molality(float64(r.Chloride.Or(0)) / water.MolarCl),
		Alk: water.FromTitration(kh, 0),
	}
	if excess, _ := c.ChargeImbalance(); excess > 0 {
		c.Cl += water.Molality(excess)
	} else {
		c.Na -= water.Molality(excess)
	}
	return c
}

func carbonated(s water.Speciation) change.Carbonated {
	return change.Carbonated{Composition: s.Composition, DIC: s.DIC}
}

func stateOf(s water.Speciation, lines husbandry.Lines) State {
	t := s.Composition.Temperature
	tan := quantity.TotalAmmonia(s.Composition.TAN * water.MolarN)
	free := water.FreeAmmonia(tan, s.PH, t)
	standing := lines.Ammonia(free, tan, water.ChronicAmmonia(s.PH, t))
	return State{tan, free, s.PH, s.EC25(), t, standing.Tier, standing.Emergency}
}

// offer pours a share of a water and looks at it at mixing and within 48 h.
func (n Now) offer(w change.Carbonated, s source, share quantity.Share, b box, later quantity.Atm, lines husbandry.Lines) (Offer, bool) {
	o := Offer{Code: OfferOK, Source: s.name, Share: share, Litres: quantity.Litres(float64(share) * b.held.mid)}
	m, err := change.Mix(w, s.carbon, share, later)
	if err != nil {
		return o, false
	}
	mixed, err := water.Blend(parts(w, s.carbon, share))
	if err != nil {
		return o, false
	}
	closed, err1 := mixed.Closed()
	open, err2 := mixed.Open(later)
	before, err3 := water.Closed(w.Composition, w.DIC)
	if err1 != nil || err2 != nil || err3 != nil {
		return o, false
	}
	o.AtMixing, o.Later = stateOf(closed, lines), stateOf(open, lines)
	if m.Before.Free > 0 {
		o.Times = float64(m.Worst().Free / m.Before.Free)
	}
	for _, step := range change.StepCheck(levels(before), levels(closed), n.ranges().Steps) {
		if step.Over() {
			o.Steps = append(o.Steps, step.Of)
		}
	}
	switch {
	case m.Harms(lines):
		o.Code = OfferRefused
	case m.Passes(lines):
		o.Code = OfferGuarded
	case len(o.Steps) > 0:
		o.Code = OfferLarge
	}
	return o, true
}

func parts(w, poured change.Carbonated, share quantity.Share) []water.Part {
	return []water.Part{
		{Composition: w.Composition, DIC: w.DIC, Litres: quantity.Litres(1 - share)},
		{Composition: poured.Composition, DIC: poured.DIC, Litres: quantity.Litres(share)},
	}
}

func levels(s water.Speciation) change.Levels {
	c := s.Composition
	return change.Levels{GH: c.GH(), KH: max(c.KH(), 0), EC: s.EC25(), Temp: c.Temperature}
}

// Bound is what can be said when pH, KH or total ammonia are not known: by how much free ammonia
// could grow at the most, and what it could come to.
type Bound struct {
	Source string
	Share  quantity.Share
	PH     quantity.PH // the highest that the mix could come to: that of the poured water, aired
	// Times is how many times as much of the total ammonia would then be free; 0 when the pH now is not
	// known.
	Times float64
	// Free is what it could come to; nil when the total ammonia is not known.
	Free *quantity.FreeAmmonia
}

// bound takes the worst: after a change the pH is at most that of the hardest water on its own, aired.
func (a *Ammonia) bound(n Now, b box, sources []source, lines husbandry.Lines) {
	worst := Bound{Share: sizes[len(sizes)-1]}
	for _, s := range sources {
		open, err := water.Open(s.carbon.Composition, change.AiredCO2)
		if err == nil && open.PH > worst.PH {
			worst.PH, worst.Source = open.PH, s.name
		}
	}
	if worst.Source == "" {
		return
	}
	t := quantity.Celsius(b.temp.hi)
	ph, havePH := n.Read.PH.Get()
	if havePH {
		worst.PH = max(worst.PH, ph)
		worst.Times = water.FreeShare(worst.PH, t) / water.FreeShare(ph, t)
	}
	if tan, ok := n.Read.TAN.Get(); ok {
		free := water.FreeAmmonia(tan*quantity.TotalAmmonia(1-worst.Share), worst.PH, t)
		worst.Free = &free
		could := lines.At(husbandry.FreeAmmonia, float64(free)).Tier == husbandry.ActNow
		now := lines.Ammonia(water.FreeAmmonia(tan, ph, t), tan, water.ChronicAmmonia(ph, t))
		switch {
		case could && (!havePH || float64(ph) < constants.Value("low-ph")):
			a.Code = AmmoniaTrap
		case havePH && now.Tier == husbandry.ActNow:
			a.Code = AmmoniaHigh
		case havePH && now.Tier == husbandry.Watch:
			a.Code = AmmoniaWatch
		}
	}
	if math.IsNaN(worst.Times) || math.IsInf(worst.Times, 0) {
		worst.Times = 0
	}
	a.Bound = &worst
}
