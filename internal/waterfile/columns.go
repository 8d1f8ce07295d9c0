package waterfile

import (
	"math"

	"halfwater/water"
)

// column is one output: a name and how it is read from a speciation. NaN is "not there".
type column struct {
	name string
	of   func(s *water.Speciation) float64
}

func mol(f func(x *water.Species) water.Molality) func(*water.Speciation) float64 {
	return func(s *water.Speciation) float64 { return 1e-3 * float64(f(&s.Species)) }
}

// gamma is log10 of an activity coefficient, 0 when what it belongs to is absent.
func gamma(of func(a *water.Activity) float64, there func(c *water.Composition, s *water.Speciation) bool) func(*water.Speciation) float64 {
	return func(s *water.Speciation) float64 {
		if !there(&s.Composition, s) {
			return 0
		}
		return math.Log10(of(&s.Activity))
	}
}

func always(*water.Composition, *water.Speciation) bool        { return true }
func carbonate(_ *water.Composition, s *water.Speciation) bool { return s.DIC > 0 }

var columns = []column{
	{"out_ph", func(s *water.Speciation) float64 { return float64(s.PH) }},
	{"out_temp_c", func(s *water.Speciation) float64 { return float64(s.Composition.Temperature) }},
	{"ionic_strength", func(s *water.Speciation) float64 { return s.IonicStrength }},
	{"m_h", mol(func(x *water.Species) water.Molality { return x.H })},
	{"m_oh", mol(func(x *water.Species) water.Molality { return x.OH })},
	{"m_co2", mol(func(x *water.Species) water.Molality { return x.CO2 })},
	{"m_hco3", mol(func(x *water.Species) water.Molality { return x.HCO3 })},
	{"m_co3", mol(func(x *water.Species) water.Molality { return x.CO3 })},
	{"m_nh3", mol(func(x *water.Species) water.Molality { return x.NH3 })},
	{"m_nh4", mol(func(x *water.Species) water.Molality { return x.NH4 })},
	{"dic", func(s *water.Speciation) float64 { return 1e-3 * float64(s.DIC) }},
	{"alk_eq", func(s *water.Speciation) float64 { return 1e-3 * float64(s.Composition.Alk) }},
	{"log_pco2", func(s *water.Speciation) float64 { return math.Log10(float64(s.PCO2)) }},
	{"ca_total", func(s *water.Speciation) float64 { return 1e-3 * float64(s.Composition.Ca) }},
	{"m_ca", mol(func(x *water.Species) water.Molality { return x.Ca })},
	{"m_caco3", mol(func(x *water.Species) water.Molality { return x.CaCO3 })},
	{"m_cahco3", mol(func(x *water.Species) water.Molality { return x.CaHCO3 })},
	{"m_caso4", mol(func(x *water.Species) water.Molality { return x.CaSO4 })},
	{"m_mg", mol(func(x *water.Species) water.Molality { return x.Mg })},
	{"m_mgco3", mol(func(x *water.Species) water.Molality { return x.MgCO3 })},
	{"m_mghco3", mol(func(x *water.Species) water.Molality { return x.MgHCO3 })},
	{"m_mgso4", mol(func(x *water.Species) water.Molality { return x.MgSO4 })},
	{"m_hpo4", mol(func(x *water.Species) water.Molality { return x.HPO4 })},
	{"m_h2po4", mol(func(x *water.Species) water.Molality { return x.H2PO4 })},
	{"m_cahpo4", mol(func(x *water.Species) water.Molality { return x.CaHPO4 })},
	{"si_calcite", func(s *water.Speciation) float64 { return s.SICalcite() }},
	{"si_aragonite", func(s *water.Speciation) float64 { return s.SIAragonite() }},
	{"si_gypsum", func(s *water.Speciation) float64 { return s.SIGypsum() }},
	{"si_co2_g", func(s *water.Speciation) float64 { return math.Log10(float64(s.PCO2)) }},
	{"lg_h", gamma(func(a *water.Activity) float64 { return a.GammaH }, always)},
	{"lg_hco3", gamma(func(a *water.Activity) float64 { return a.Gamma1 }, carbonate)},
	{"lg_co3", gamma(func(a *water.Activity) float64 { return a.GammaCO3 }, carbonate)},
	{"lg_ca", gamma(func(a *water.Activity) float64 { return a.GammaCa }, func(c *water.Composition, _ *water.Speciation) bool { return c.Ca > 0 })},
	{"lg_nh4", gamma(func(a *water.Activity) float64 { return a.GammaNH4 }, func(c *water.Composition, _ *water.Speciation) bool { return c.TAN > 0 })},
	{"lg_co2", gamma(func(a *water.Activity) float64 { return a.GammaCO2 }, carbonate)},
	{"sc_t", func(s *water.Speciation) float64 { return float64(s.EC()) }},
	{"sc_25", func(s *water.Speciation) float64 { return float64(s.EC25()) }},
	{"charge_balance_eq", func(s *water.Speciation) float64 {
		plus, minus := s.Charges()
		return 1e-3 * float64(plus-minus)
	}},
	{"pct_err", func(s *water.Speciation) float64 {
		plus, minus := s.Charges()
		return 100 * float64((plus-minus)/(plus+minus))
	}},
}

// Outputs are the names of the columns that are written behind those of the file: pH, C, mol/kg
// (eq/kg for alk_eq and charge_balance_eq), log10 of pressure, saturation and activity
// coefficients, uS/cm at the water's temperature and at 25 C, and percent.
func Outputs() []string {
	out := make([]string, len(columns))
	for i, c := range columns {
		out[i] = c.name
	}
	return out
}
