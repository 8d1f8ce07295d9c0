package load

import "halfwater/quantity"

// MgN is a mass of nitrogen. Unit: mg N.
type MgN float64

// In is the concentration of this nitrogen when it is spread through the held water.
func (m MgN) In(held quantity.HeldLitres) quantity.Nitrate {
	return quantity.Nitrate(float64(m) / float64(held))
}

// Nitrification of one mole of ammonium takes two moles of oxygen and two equivalents of
// alkalinity: NH4+ + 2 O2 -> NO3- + 2 H+ + H2O, three quarters of the oxygen for the first step.
// Nitrogen that comes as protein takes one of the two back first, as it is freed as NH3.
const (
	o2PerN         = 2
	o2PerNToNO2    = 1.5
	eqPerAmmonium  = 2
	eqPerFeedN     = 1
	eqPerNO3Uptake = 1
)

// OxygenForNitrate is the oxygen that takes nitrogen from ammonium to nitrate, growth of the
// bacteria left out: 4.57 mg O2 per mg N.
func OxygenForNitrate(n MgN) quantity.Grams {
	return quantity.Milligrams(float64(n) * o2PerN * molarO2 / molarN)
}

// OxygenForNitrite is the part of it that the step to nitrite takes: 3.43 mg O2 per mg N.
func OxygenForNitrite(n MgN) quantity.Grams {
	return quantity.Milligrams(float64(n) * o2PerNToNO2 * molarO2 / molarN)
}

// KHFromAmmonium is the alkalinity lost when ammonium already in the water becomes nitrate: 2 eq
// per mol, 0.40 dKH per mg N/L.
func KHFromAmmonium(n quantity.TotalAmmonia) quantity.Alkalinity {
	return quantity.AlkalinityMeq(eqPerAmmonium * float64(n) / molarN)
}

// KHFromFeed is the net alkalinity lost from protein to nitrate: 1 eq per mol, 0.20 dKH per mg
// N/L. Charging two would count an ammonium that never was.
func KHFromFeed(n quantity.Nitrate) quantity.Alkalinity {
	return quantity.AlkalinityMeq(eqPerFeedN * float64(n) / molarN)
}

// KHFromUptake is the alkalinity that comes back when plants take up nitrate: 1 eq per mol, 0.20
// dKH per mg N/L.
func KHFromUptake(n quantity.Nitrate) quantity.Alkalinity {
	return quantity.AlkalinityMeq(eqPerNO3Uptake * float64(n) / molarN)
}

// KHPerNitrate is the alkalinity lost per mg N/L of nitrate gained in an enclosure, in dKH: 0.20
// when all of it came as protein, 0.40 when all came as ammonium. How much lies between is for the
// enclosure's own readings to say.
func KHPerNitrate() quantity.Range[quantity.Alkalinity] {
	return quantity.Range[quantity.Alkalinity]{Lo: KHFromFeed(1), Hi: KHFromAmmonium(1)}
}
