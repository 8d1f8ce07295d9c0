package dynamics

import "math"

// AmmoniaOxidation is the work of both ammonia guilds:
// NH4+ + 3/2 O2 -> NO2- + 2 H+ + H2O, two equivalents of alkalinity and 3.43 mg O2 per mg N.
var AmmoniaOxidation = Process{
	Name:  "ammonia oxidation",
	Law:   "r = (C1 a/(K1+a) + C2 a/(K2+a)) theta^(t-20) (1 - s (1 - f(pH))) HCO3/(K+HCO3) O2/(K+O2)",
	Works: []string{"nitrifiers-memory", "sauder2011", "vannecke2015"},
	add: func(x *scene, d *State) {
		r := x.ammoniaOxidised()
		d.TAN -= r
		d.NO2 += r
		d.Alk -= 2 * r / molarN
		d.Oxygen -= oxygenToNitrite * r
	},
}

// NitriteOxidation is NO2- + 1/2 O2 -> NO3-, 1.14 mg O2 per mg N.
var NitriteOxidation = Process{
	Name:  "nitrite oxidation",
	Law:   "r = C n/(K+n) theta^(t-20) (1 - s (1 - f(pH))) O2/(K+O2)",
	Works: []string{"nitrifiers-memory", "vannecke2015", "guisasola-memory"},
	add: func(x *scene, d *State) {
		r := x.mature.Nitrite * x.nitriteLimit() * monod(x.per(x.NO2), x.Params[NitriteHalf])
		d.NO2 -= r
		d.NO3 += r
		d.Oxygen -= oxygenToNitrate * r
	},
}

// Growth is how nitrifiers grow on what they oxidise and die back. Places without flow rest.
var Growth = Process{
	Name:  "growth of nitrifiers",
	Law:   "dC/dt = (mu limits a/(K+a) - b theta_b^(t-20)) C + seed",
	Works: []string{"nitrifiers-memory", "sauder2011"},
	add: func(x *scene, d *State) {
		a, n := x.per(x.TAN), x.per(x.NO2)
		ga, gn := x.ammoniaLimit(), x.nitriteLimit()
		die := x.Params[Decay] * x.warm.decay
		first := x.Params[AmmoniaGrowth]*ga*monod(a, x.Params[AmmoniaHalf]) - die
		second := x.Params[FrugalGrowth]*ga*monod(a, x.Params[FrugalHalf]) - die*frugalDecay(&x.Params)
		nitrite := x.Params[NitriteGrowth]*gn*monod(n, x.Params[NitriteHalf]) - die
		x.eachWorking(func(i int, share float64) {
			seed := seedPerLitre * x.held * share
			s := &x.Strength[i]
			d.Strength[i].Ammonia += first*s.Ammonia + seed
			d.Strength[i].Frugal += second*s.Frugal + seed
			d.Strength[i].Nitrite += nitrite*s.Nitrite + seed
		})
	},
}

// frugalDecay keeps the second guild as thrifty as its growth: decay in proportion to it.
func frugalDecay(p *Params) float64 { return p[FrugalGrowth] / p[AmmoniaGrowth] }

// eachWorking visits the places that have flow, with the share of what drifts in.
func (x *scene) eachWorking(visit func(i int, share float64)) {
	if x.piece.NoFlow {
		visit(Elsewhere, 1)
		return
	}
	n := 1 + x.stages
	for i := range n {
		visit(i, 1/float64(n))
	}
}

func (x *scene) ammoniaOxidised() float64 {
	a := x.per(x.TAN)
	return x.ammoniaLimit() * (x.mature.Ammonia*monod(a, x.Params[AmmoniaHalf]) + x.mature.Frugal*monod(a, x.Params[FrugalHalf]))
}

func (x *scene) ammoniaLimit() float64 {
	return x.warm.ammonia * x.acid() * monod(x.carbonate.bicarbonate(x.h), x.Params[BicarbonateHalf]) * monod(x.per(x.Oxygen), oxygenHalfAmmonia)
}

func (x *scene) nitriteLimit() float64 {
	return x.warm.nitrite * x.acid() * monod(x.per(x.Oxygen), oxygenHalfNitrite)
}

// acid is what the water's acid leaves of the rate of both steps: cultures that have lived in it long feel less of it.
func (x *scene) acid() float64 { return 1 - x.Params[AcidFelt]*(1-phLimit(x.h)) }

// phLimit is 1 from pH 7.2 up, 0.5 at 6.5, 0.15 at 5.8, 0.05 at 5.2 and below, straight between.
func phLimit(h float64) float64 {
	if h <= hFull {
		return 1
	}
	pH := -1 / math.Ln10 * fastLog(h)
	switch {
	case pH > pHHalf:
		return 0.5 + 0.5*(pH-pHHalf)/(pHFull-pHHalf)
	case pH > pHLow:
		return 0.15 + 0.35*(pH-pHLow)/(pHHalf-pHLow)
	case pH > pHFloor:
		return 0.05 + 0.10*(pH-pHFloor)/(pHLow-pHFloor)
	}
	return 0.05
}

func monod(a, half float64) float64 { return a / (half + a) }

var (
	oxygenToNitrite = 1.5 * molarO2 / molarN
	oxygenToNitrate = 0.5 * molarO2 / molarN

	oxygenHalfAmmonia = table.Value("oxygen half ammonia")
	oxygenHalfNitrite = table.Value("oxygen half nitrite")
	seedPerLitre      = table.Value("seed")

	pHFull, pHHalf, pHLow, pHFloor = table.Value("pH full"), table.Value("pH half"), table.Value("pH low"), table.Value("pH floor")

	hFull   = math.Pow(10, -pHFull)
	pHSlows = 0.5 / (pHFull - pHHalf) / math.Ln10 // by how much phLimit falls at first for each unit of ln h
)
