package water

import "halfwater/quantity"

// CO2 is the dissolved carbon dioxide.
func (s Speciation) CO2() quantity.MgPerL { return quantity.MgPerL(float64(s.Species.CO2) * molarCO2) }

// Split is an alkalinity by what carries it, meq/kg. The parts add up to the alkalinity.
type Split struct {
	Carbonate Equivalents // bicarbonate and carbonate, pairs included
	Organic   Equivalents // anions of organic acids
	Phosphate Equivalents
	Ammonia   Equivalents // NH3
	Water     Equivalents // OH- minus H+, with the hydroxides of Ca and Mg and less HSO4-
}

// AlkalinitySplit says what carries the alkalinity of the water.
func (s Speciation) AlkalinitySplit() Split {
	x := &s.Species
	return Split{
		Carbonate: Equivalents(x.HCO3 + x.CaHCO3 + x.MgHCO3 + x.NaHCO3 + 2*(x.CO3+x.CaCO3+x.MgCO3+x.NaCO3)),
		Organic:   x.Organic,
		Phosphate: Equivalents(x.HPO4 + x.CaHPO4 + x.MgHPO4 + x.NaHPO4 + x.KHPO4 + 2*(x.PO4+x.CaPO4+x.MgPO4) - x.H3PO4),
		Ammonia:   Equivalents(x.NH3),
		Water:     Equivalents(x.OH + x.CaOH + x.MgOH - x.H - x.HSO4),
	}
}

// Titrated is what a titrated KH really holds: the same parts as far as a titration to pH 4.5
// counts them, so that the organic part is what becomes uncharged on the way.
func (s Speciation) Titrated() Split {
	p := s.AlkalinitySplit()
	p.Organic -= endPointCharge(s.Composition.DOC)
	return p
}

// BufferIntensity is the strong acid or base, meq/kg, that moves the pH by one, with no CO2
// exchanged: dAlk/dpH at constant DIC, by a central difference.
func (s Speciation) BufferIntensity() (Equivalents, error) {
	const small = 1e-4
	step := Equivalents(small * float64(s.DIC+s.Species.H+s.Species.OH+s.Composition.PO4+s.Composition.TAN))
	more, less := s.Composition, s.Composition
	more.Alk += step
	less.Alk -= step
	a, err := Closed(more, s.DIC)
	if err != nil {
		return 0, err
	}
	b, err := Closed(less, s.DIC)
	if err != nil {
		return 0, err
	}
	return 2 * step / Equivalents(a.PH-b.PH), nil
}

// Charges are the positive and the negative charges of all species, organic anions included,
// meq/kg. They are equal for an electroneutral composition.
func (s Speciation) Charges() (plus, minus Equivalents) {
	x, c := &s.Species, &s.Composition
	p := x.H + 2*x.Ca + x.CaOH + x.CaHCO3 + x.CaH2PO4 + 2*x.Mg + x.MgOH + x.MgHCO3 + x.MgH2PO4 + x.Na + x.K + x.NH4
	m := x.OH + x.HCO3 + 2*x.CO3 + x.CaPO4 + x.MgPO4 + x.NaCO3 + x.NaSO4 + x.NaHPO4 + x.KSO4 + x.KHPO4 + x.NH4SO4 +
		2*x.SO4 + x.HSO4 + 3*x.PO4 + 2*x.HPO4 + x.H2PO4 + c.Cl + c.NO3 + c.NO2
	return Equivalents(p), Equivalents(m) + x.Organic
}
