package water

import "halfwater/quantity"

// Molar masses of the two neutralisers, g/mol.
const (
	molarThiosulfate = 2*atomNa + 2*atomS + 3*atomO + 5*(2*atomH+atomO) // Na2S2O3.5H2O
	molarAscorbic    = 6*atomC + 8*atomH + 6*atomO
)

// thiosulfatePerChlorine is mg of the pentahydrate per mg Cl2 when one mole takes up n of chlorine.
func thiosulfatePerChlorine(n float64) float64 { return molarThiosulfate / (n * molarCl2) }

// Thiosulfate is the sodium thiosulfate (pentahydrate) that neutralises the chlorine of some
// litres: total chlorine, free and combined, mg Cl2/L. At neutral pH with the reducer in excess
// tetrathionate forms, one mole of chlorine for two (7.0 mg per mg), and a margin of 1.3 is added.
// It takes the chlorine of chloramine, not its ammonia: see [ChloramineAmmonia].
func Thiosulfate(total quantity.MgPerL, litres quantity.Litres) quantity.Grams {
	mg := thiosulfatePerChlorine(limits.Value("thiosulfate per Cl2")) * float64(total) * float64(litres)
	return quantity.Milligrams(mg * limits.Value("thiosulfate margin"))
}

// AscorbicAcid is the ascorbic acid that does the same, mole for mole and without a margin. It
// takes a little KH with it.
func AscorbicAcid(total quantity.MgPerL, litres quantity.Litres) quantity.Grams {
	return quantity.Milligrams(molarAscorbic / molarCl2 * float64(total) * float64(litres))
}

// ChloramineAmmonia is the total ammonia that monochloramine leaves when its chlorine is taken,
// 0.198 mg N per mg Cl2.
func ChloramineAmmonia(chloramine quantity.MgPerL) quantity.TotalAmmonia {
	return quantity.TotalAmmonia(float64(chloramine) * atomN / molarCl2)
}
