package water

import (
	"math"

	"halfwater/quantity"
)

// Speciation is a water in full: what of each total is in which form.
type Speciation struct {
	Composition Composition
	PH          quantity.PH
	DIC         Molality     // dissolved inorganic carbon, pairs included
	PCO2        quantity.Atm // pressure of CO2 with which the water would be in equilibrium
	// IonicStrength is 0.5 sum m z^2, mol/kg.
	IonicStrength float64
	Species       Species
	// Activity holds what the saturations are made of.
	Activity Activity

	model Model
}

// Species are molalities, mmol/kg. A name without a charge is the ion or molecule of that
// formula: Ca is Ca++, CaHCO3 is CaHCO3+, CO2 is CO2(aq) with H2CO3.
type Species struct {
	H, OH                            Molality
	CO2, HCO3, CO3                   Molality
	NH3, NH4, NH4SO4                 Molality
	Ca, CaOH, CaHCO3, CaCO3, CaSO4   Molality
	CaPO4, CaHPO4, CaH2PO4           Molality
	Mg, MgOH, MgHCO3, MgCO3, MgSO4   Molality
	MgPO4, MgHPO4, MgH2PO4           Molality
	Na, NaHCO3, NaCO3, NaSO4, NaHPO4 Molality
	K, KSO4, KHPO4                   Molality
	SO4, HSO4                        Molality
	PO4, HPO4, H2PO4, H3PO4          Molality
	Cl, NO3, NO2                     Molality
	Organic                          Equivalents // charge of organic anions, meq/kg
}

// Activity holds activities (mol/kg scale) of the ions that minerals are made of, and activity
// coefficients.
type Activity struct {
	Water, Ca, CO3, SO4                                   float64
	Gamma1, GammaH, GammaCa, GammaCO3, GammaNH4, GammaCO2 float64 // Gamma1 is that of HCO3-
}

// report writes the settled state out.
func (w *state) report(c *Composition, s *Speciation) {
	h, inv := w.h, 1/w.h
	a, b, p := w.aCO3, w.aSO4, w.aPO4
	s.Composition, s.model = *c, w.model
	s.PH = quantity.PH(-math.Log10(h))
	s.IonicStrength = w.strength
	m := func(molPerKg float64) Molality { return Molality(1e3 * molPerKg) }
	x := &s.Species
	x.H, x.OH = m(h*w.gH), m(inv*w.cOH)
	x.CO2, x.HCO3, x.CO3 = m(a*h*h*w.cCO2), m(a*h*w.cHCO3), m(a*w.cCO3)
	x.NH3, x.NH4, x.NH4SO4 = m(w.aNH4*inv*w.cNH3), m(w.aNH4*w.gNH4), m(w.aNH4*b*w.cNH4SO4)
	x.Ca, x.CaOH, x.CaHCO3, x.CaCO3, x.CaSO4 = m(w.aCa*w.gCa), m(w.aCa*inv*w.cCaOH), m(w.aCa*a*h*w.cCaHCO3), m(w.aCa*a*w.cCaCO3), m(w.aCa*b*w.cCaSO4)
	x.Mg, x.MgOH, x.MgHCO3, x.MgCO3, x.MgSO4 = m(w.aMg*w.gMg), m(w.aMg*inv*w.cMgOH), m(w.aMg*a*h*w.cMgHCO3), m(w.aMg*a*w.cMgCO3), m(w.aMg*b*w.cMgSO4)
	x.Na, x.NaHCO3, x.NaCO3, x.NaSO4 = m(w.aNa*w.gNa), m(w.aNa*a*h*w.cNaHCO3), m(w.aNa*a*w.cNaCO3), m(w.aNa*b*w.cNaSO4)
	x.K, x.KSO4 = m(w.aK*w.gK), m(w.aK*b*w.cKSO4)
	x.SO4, x.HSO4 = m(b*w.gSO4), m(b*h*w.cHSO4)
	if p > 0 {
		x.CaPO4, x.CaHPO4, x.CaH2PO4 = m(w.aCa*(p*w.cCaPO4)), m(w.aCa*(p*h*w.cCaHPO4)), m(w.aCa*(p*h*h*w.cCaH2PO4))
		x.MgPO4, x.MgHPO4, x.MgH2PO4 = m(w.aMg*(p*w.cMgPO4)), m(w.aMg*(p*h*w.cMgHPO4)), m(w.aMg*(p*h*h*w.cMgH2PO4))
		x.NaHPO4, x.KHPO4 = m(w.aNa*p*h*w.cNaHPO4), m(w.aK*p*h*w.cKHPO4)
		x.PO4, x.HPO4, x.H2PO4, x.H3PO4 = m(p*w.cPO4), m(p*h*w.cHPO4), m(p*h*h*w.cH2PO4), m(p*h*h*h*w.cH3PO4)
	}
	x.Cl, x.NO3, x.NO2 = c.Cl, c.NO3, c.NO2
	if w.doc > 0 {
		q, _ := organicCharge(w.model.Organic, h)
		x.Organic = Equivalents(1e3 * w.doc * q)
	}
	s.DIC = x.CO2 + x.HCO3 + x.CO3 + x.CaHCO3 + x.CaCO3 + x.MgHCO3 + x.MgCO3 + x.NaHCO3 + x.NaCO3
	s.PCO2 = quantity.Atm(a * h * h * w.thermal[iInvK12] / w.thermal[iHenry])
	s.Activity = Activity{w.water, w.aCa, a, b, 1 / w.gHCO3, 1 / w.gH, 1 / w.gCa, 1 / w.cCO3, 1 / w.gNH4, 1 / w.gNone}
}

// FreeAmmonia is un-ionised ammonia with the activity of NH4+ in this water taken into account.
func (s Speciation) FreeAmmonia() quantity.FreeAmmonia {
	return quantity.FreeAmmonia(float64(s.Species.NH3) * atomN)
}

// SICalcite is the saturation index of calcite, log10 of the ion activity product over the
// solubility product: above 0 it could form, below it dissolves. Minus infinity without calcium.
func (s Speciation) SICalcite() float64 { return s.saturation(iCalcite) }

// SIAragonite is the saturation index of aragonite, the mineral of coral sand and shell.
func (s Speciation) SIAragonite() float64 { return s.saturation(iAragonite) }

// SIVaterite is the saturation index of vaterite.
func (s Speciation) SIVaterite() float64 { return s.saturation(iVaterite) }

// SIGypsum is the saturation index of gypsum.
func (s Speciation) SIGypsum() float64 {
	var k thermal
	k.read(s.Composition.Temperature)
	return math.Log10(s.Activity.Ca * s.Activity.SO4 * s.Activity.Water * s.Activity.Water / k[iGypsum])
}

func (s Speciation) saturation(mineral int) float64 {
	var k thermal
	k.read(s.Composition.Temperature)
	return math.Log10(s.Activity.Ca * s.Activity.CO3 / k[mineral])
}
