package change

import "halfwater/quantity"

// Molar masses, g/mol, from the atomic weights of iupac2021.
const (
	molarCl2         = 2 * 35.45
	molarN           = 14.007
	molarThiosulfate = 248.18 // Na2S2O3.5H2O
)

// Reaction is how thiosulfate and chlorine react, by moles of thiosulfate per mole of Cl2.
type Reaction float64

// Which one runs depends on what is in excess; at neutral pH with excess thiosulfate it is
// tetrathionate that dominates, and a dose has to count on that.
const (
	ToSulfate       Reaction = 0.25 // S2O3 + 4 Cl2 + 5 H2O -> 2 SO4 + 8 Cl + 10 H
	ToSulfur        Reaction = 1    // S2O3 + Cl2 + H2O -> SO4 + S + 2 Cl + 2 H
	ToTetrathionate Reaction = 2    // 2 S2O3 + Cl2 -> S4O6 + 2 Cl
)

// ThiosulfatePerCl2 is the mass of sodium thiosulfate pentahydrate per mass of chlorine, mg/mg.
func ThiosulfatePerCl2(r Reaction) float64 { return float64(r) * molarThiosulfate / molarCl2 }

// doseMargin covers chlorine that the analysis did not find; common practice, no source. Twice the
// needed thiosulfate does no known harm but takes a little oxygen (from memory).
const doseMargin = 1.3

// Thiosulfate is the sodium thiosulfate pentahydrate that takes the chlorine, free or bound, out
// of litres of water: 7 mg per mg Cl2 with a margin of 1.3.
func Thiosulfate(l quantity.Litres, totalChlorine quantity.MgPerL) quantity.Grams {
	return quantity.Milligrams(doseMargin * ThiosulfatePerCl2(ToTetrathionate) * float64(totalChlorine) * float64(l))
}

// nitrogenPerChloramine is the nitrogen of NH2Cl per chlorine as it is measured, mg N/mg Cl2:
// one N for one Cl2.
const nitrogenPerChloramine = molarN / molarCl2

// ChloramineNitrogen is the total ammonia that monochloramine leaves behind once its chlorine has
// been taken, in the source water itself. Thiosulfate removes the chlorine part only.
func ChloramineNitrogen(combinedChlorine quantity.MgPerL) quantity.TotalAmmonia {
	return quantity.TotalAmmonia(float64(combinedChlorine) * nitrogenPerChloramine)
}

// Chlorine limits for life in fresh water, total residual chlorine, US EPA 1985 (epa1985chlorine,
// from memory).
const (
	ChlorineAcute   quantity.MgPerL = 0.019
	ChlorineChronic quantity.MgPerL = 0.011
)
