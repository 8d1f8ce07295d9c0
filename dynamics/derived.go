package dynamics

import (
	"math"

	"halfwater/quantity"
	"halfwater/water"
)

// PH is that of the daily mean pressure of CO2, by the fast carbonate side of this package: mostly within
// 0.01 of package water's, at worst 0.03 (doc/dynamics.md).
func (s *State) PH() quantity.PH {
	h, _, _ := s.acid()
	return quantity.PH(-math.Log10(h))
}

func (s *State) acid() (h float64, c carbonate, w warmth) {
	w = warmthOf(s.Temp)
	c.of(s, s.Volume, s.Alk, s.TAN, s.PCO2, &w)
	return c.solve(c.guess(), exactly), c, w
}

// GH is calcium and magnesium.
func (s *State) GH() quantity.Hardness { return quantity.HardnessMmol((s.Ca + s.Mg) / s.Volume) }

// KH is what a titration to pH 4.5 finds; organic acid charged at that pH already is missing from it.
func (s *State) KH() quantity.Alkalinity {
	return quantity.AlkalinityMeq((s.Alk - s.DOC*endCharge) / s.Volume)
}

// TotalAmmonia is what the water's life meets: without bound ammonia and chloramine.
func (s *State) TotalAmmonia() quantity.TotalAmmonia { return quantity.TotalAmmonia(s.TAN / s.Volume) }

// AmmoniaAsRead is what most kits read: bound ammonia and chloramine with the free.
func (s *State) AmmoniaAsRead() quantity.TotalAmmonia {
	return quantity.TotalAmmonia((s.TAN + s.Bound + s.Chloramine) / s.Volume)
}

// FreeAmmonia is un-ionised ammonia at the daily mean pH (Emerson 1975).
func (s *State) FreeAmmonia() quantity.FreeAmmonia {
	return water.FreeAmmonia(s.TotalAmmonia(), s.PH(), quantity.Celsius(s.Temp))
}

// Nitrite of the water.
func (s *State) Nitrite() quantity.Nitrite { return quantity.Nitrite(s.NO2 / s.Volume) }

// Nitrate of the water.
func (s *State) Nitrate() quantity.Nitrate { return quantity.Nitrate(s.NO3 / s.Volume) }

// Phosphate of the water.
func (s *State) Phosphate() quantity.Phosphate { return quantity.Phosphate(s.PO4 / s.Volume) }

// DissolvedOxygen is the mean of the day.
func (s *State) DissolvedOxygen() quantity.MgPerL { return quantity.MgPerL(s.Oxygen / s.Volume) }

// Chloride of the water.
func (s *State) Chloride() quantity.MgPerL { return quantity.MgPerL(s.Cl * molarCl / s.Volume) }

// Colour is the absorbance of organic carbon at 440 nm, 1/m, natural logarithm.
func (s *State) Colour() float64 { return colourOfDOC * s.DOC / s.Volume }

// CO2 is dissolved carbon dioxide, mg/L.
func (s *State) CO2() quantity.MgPerL {
	w := warmthOf(s.Temp)
	return quantity.MgPerL(1e3 * w.kh * s.PCO2 * molarCO2)
}

// Composition is the water for package water, whose speciation is exact. Bound ammonia counts as
// ammonium.
func (s *State) Composition() water.Composition {
	m := func(amount float64) water.Molality { return water.Molality(amount / s.Volume) }
	return water.Composition{
		Temperature: quantity.Celsius(s.Temp),
		Ca:          m(s.Ca), Mg: m(s.Mg), Na: m(s.Na), K: m(s.K), Cl: m(s.Cl), SO4: m(s.SO4),
		NO3: m(s.NO3 / molarN), NO2: m(s.NO2 / molarN), TAN: m((s.TAN + s.Bound) / molarN), PO4: m(s.PO4 / molarP),
		Alk: water.Equivalents(s.Alk / s.Volume), DOC: quantity.MgPerL(s.DOC / s.Volume),
	}
}

// Exact is the full speciation at the state's CO2. Errors are those of package water.
func (s *State) Exact() (water.Speciation, error) {
	return water.Open(s.Composition(), quantity.Atm(s.PCO2))
}

const (
	molarCl  = 35.45
	molarCO2 = 44.009
)

var colourOfDOC = table.Value("colour of doc")
