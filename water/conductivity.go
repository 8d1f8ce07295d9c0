package water

import (
	"math"

	"halfwater/quantity"
)

// Uncompensated is a conductivity at the temperature of the water: what a meter without
// compensation shows. Unit: uS/cm.
type Uncompensated float64

// Linear brings a conductivity to 25 C as pens do, by 2 % per degree.
func (u Uncompensated) Linear(t quantity.Celsius) quantity.Conductivity {
	return quantity.Conductivity(float64(u) / (1 + penSlope*(float64(t)-25)))
}

// UncompensatedOf is what a meter without compensation shows of a water at t whose pen, with its
// linear compensation, shows ec. It is the inverse of [Uncompensated.Linear].
func UncompensatedOf(ec quantity.Conductivity, t quantity.Celsius) Uncompensated {
	return Uncompensated(float64(ec) * (1 + penSlope*(float64(t)-25)))
}

var penSlope = conductivity.Value("pen compensation")

// EC is the conductivity at the water's own temperature, after McCleskey and others 2012 on total
// ions: loose pairs count as their parts, the tight uncharged pairs CaCO3 and MgCO3 carry nothing
// (doc/water.md has what three roads gave). 0 to 45 C.
// Against published conductances of simple salts it is good to 1 %, against natural waters to
// about 3 %; organic anions are left out.
func (s Speciation) EC() Uncompensated { return s.conductivityAt(s.Composition.Temperature) }

// EC25 is the conductivity at 25 C truly: the same water, closed, brought there and speciated
// again (the acid of a pure water makes that worth up to 6 %, other waters under 1 %).
func (s Speciation) EC25() quantity.Conductivity {
	if s.Composition.Temperature == 25 {
		return quantity.Conductivity(s.conductivityAt(25))
	}
	c := s.Composition
	c.Temperature = 25
	warm, err := s.model.Closed(c, s.DIC)
	if err != nil { // at the edge of the span: its species as they are
		return quantity.Conductivity(s.conductivityAt(25))
	}
	return quantity.Conductivity(warm.conductivityAt(25))
}

// PenEC is what a pen with linear compensation shows of this water at its temperature.
func (s Speciation) PenEC() quantity.Conductivity { return s.EC().Linear(s.Composition.Temperature) }

// TDSFactor is the factor by which a pen turns conductivity into "TDS", mg/L per uS/cm.
type TDSFactor float64

// The factors in use. Which one a pen has stands in its leaflet.
const (
	TDSAsNaCl    TDSFactor = 0.5
	TDSNatural   TDSFactor = 0.7
	TDSNatural64 TDSFactor = 0.64
)

// TDS is what such a pen shows, "ppm".
func (f TDSFactor) TDS(ec quantity.Conductivity) quantity.MgPerL {
	return quantity.MgPerL(float64(f) * float64(ec))
}

// EC is the conductivity behind a TDS shown by such a pen.
func (f TDSFactor) EC(tds quantity.MgPerL) quantity.Conductivity {
	return quantity.Conductivity(float64(tds) / float64(f))
}

// DissolvedSolids is the true mass of what is dissolved, mg/L: every ion as itself and the
// bicarbonate as such (not the residue of a drying oven, which has lost half of it as CO2).
func (s Speciation) DissolvedSolids() quantity.MgPerL {
	c, x := &s.Composition, &s.Species
	carbonates := x.HCO3 + x.CaHCO3 + x.MgHCO3 + x.NaHCO3
	doubly := x.CO3 + x.CaCO3 + x.MgCO3 + x.NaCO3
	return quantity.MgPerL(atomCa*float64(c.Ca)+atomMg*float64(c.Mg)+atomNa*float64(c.Na)+atomK*float64(c.K)+
		atomCl*float64(c.Cl)+molarSO4*float64(c.SO4)+molarNO3*float64(c.NO3)+molarNO2*float64(c.NO2)+
		(atomN+4*atomH)*float64(c.TAN)+molarPO4*float64(c.PO4)+
		molarHCO3*float64(carbonates)+(molarHCO3-atomH)*float64(doubly)) + 2*c.DOC
}

// ionConductance is the molal conductance of one ion after McCleskey and others 2012.
type ionConductance struct {
	l2, l1, l0, a2, a1, a0, b float64
}

func (c *ionConductance) at(t, root float64) float64 {
	return (c.l2*t+c.l1)*t + c.l0 - ((c.a2*t+c.a1)*t+c.a0)*root/(1+c.b*root)
}

func conductanceOf(ion string) ionConductance {
	v := conductivity.Value
	return ionConductance{
		v(ion + " lambda0, c2"), v(ion + " lambda0, c1"), v(ion + " lambda0, c0"),
		v(ion + " A, c2"), v(ion + " A, c1"), v(ion + " A, c0"), v(ion + " B"),
	}
}

// scaled is a conductance like that of another ion, but with its own value at 25 C and I = 0.
func (c ionConductance) scaled(lambda25 float64) ionConductance {
	f := lambda25 / c.at(25, 0)
	return ionConductance{c.l2 * f, c.l1 * f, c.l0 * f, c.a2 * f, c.a1 * f, c.a0 * f, c.b}
}

var (
	lambdaK, lambdaNa, lambdaNH4 = conductanceOf("K"), conductanceOf("Na"), conductanceOf("NH4")
	lambdaCa, lambdaMg, lambdaH  = conductanceOf("Ca"), conductanceOf("Mg"), conductanceOf("H")
	lambdaCl, lambdaSO4          = conductanceOf("Cl"), conductanceOf("SO4")
	lambdaNO3, lambdaHCO3        = conductanceOf("NO3"), conductanceOf("HCO3")
	lambdaCO3                    = conductanceOf("CO3")
	lambdaOH                     = lambdaHCO3.scaled(conductivity.Value("OH lambda"))
	lambdaH2PO4                  = lambdaHCO3.scaled(conductivity.Value("H2PO4 lambda"))
	lambdaHPO4                   = lambdaSO4.scaled(conductivity.Value("HPO4 lambda"))
)

// conductivityAt evaluates the sum at t; mmol/kg times mS kg/cm/mol is uS/cm.
func (s Speciation) conductivityAt(at quantity.Celsius) Uncompensated {
	c, x := &s.Composition, &s.Species
	t, r := float64(at), math.Sqrt(s.IonicStrength)
	bicarbonate := float64(x.HCO3 + x.CaHCO3 + x.MgHCO3 + x.NaHCO3)
	carbonate := float64(x.CO3 + x.NaCO3)
	k := float64(c.Ca-x.CaCO3)*lambdaCa.at(t, r) + float64(c.Mg-x.MgCO3)*lambdaMg.at(t, r) +
		float64(c.Na)*lambdaNa.at(t, r) + float64(c.K)*lambdaK.at(t, r) +
		float64(c.Cl)*lambdaCl.at(t, r) + float64(c.SO4)*lambdaSO4.at(t, r) +
		float64(c.NO3+c.NO2)*lambdaNO3.at(t, r) +
		bicarbonate*lambdaHCO3.at(t, r) + carbonate*lambdaCO3.at(t, r) +
		float64(x.H)*lambdaH.at(t, r) + float64(x.OH)*lambdaOH.at(t, r)
	if c.TAN > 0 {
		k += float64(c.TAN-x.NH3) * lambdaNH4.at(t, r)
	}
	if c.PO4 > 0 {
		k += float64(x.H2PO4+x.CaH2PO4+x.MgH2PO4)*lambdaH2PO4.at(t, r) +
			float64(x.HPO4+x.CaHPO4+x.MgHPO4+x.NaHPO4+x.KHPO4+x.PO4)*lambdaHPO4.at(t, r)
	}
	return Uncompensated(k)
}
