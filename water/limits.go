package water

import (
	_ "embed"

	"halfwater/cite"
	"halfwater/quantity"
)

//go:embed limits.txt
var limitsText string

//go:embed rates.txt
var ratesText string

var (
	limits  = cite.MustParse(limitsText)
	rateTab = cite.MustParse(ratesText)
)

// ProtectiveChloride is the chloride that keeps nitrite out of the blood of fish that take it up
// by the chloride pump: 16 mol Cl per mol NO2 (channel catfish, Tomasso, Simco and Davis 1979).
// Sunfish and bass do not profit; no salt for newts and frogs.
func ProtectiveChloride(n quantity.Nitrite) quantity.MgPerL {
	return quantity.MgPerL(float64(n) / atomN * limits.Value("chloride to nitrite") * atomCl)
}

// NitriteLimit is the long-term guideline for nitrite at a chloride, after Nordin and Pommen
// 1986 for British Columbia (from memory): 0.02 mg N/L below 2 mg Cl/L, 0.02 more for each
// 2 mg Cl/L, 0.20 at most.
func NitriteLimit(chloride quantity.MgPerL) quantity.Nitrite {
	steps := float64(int(min(max(float64(chloride), 0), 1000) / 2))
	return quantity.Nitrite(min(limits.Value("nitrite BC base")+steps*limits.Value("nitrite BC step"), limits.Value("nitrite BC most")))
}

// NitrateClass says how a nitrate stands to the published limits for long exposure.
type NitrateClass int

// The classes.
const (
	NitrateLow       NitrateClass = iota // below 2 mg N/L: proposed for the most sensitive (Camargo and others 2005)
	NitrateSensitive                     // up to 13 mg NO3/L: the long-term guideline (CCME 2012)
	NitrateOrdinary                      // up to 10 mg N/L (44 mg NO3/L)
	NitrateHigh                          // over 10 mg N/L: can harm sensitive animals in long exposure (Camargo and others 2005)
	NitrateVeryHigh                      // over 550 mg NO3/L: the short-term guideline (CCME 2012)
)

// ClassOfNitrate is the class of a nitrate.
func ClassOfNitrate(n quantity.Nitrate) NitrateClass {
	switch {
	case float64(n) < limits.Value("nitrate Camargo most sensitive"):
		return NitrateLow
	case n.AsNO3() <= limits.Value("nitrate CCME long"):
		return NitrateSensitive
	case float64(n) <= limits.Value("nitrate Camargo"):
		return NitrateOrdinary
	case n.AsNO3() <= limits.Value("nitrate CCME short"):
		return NitrateHigh
	}
	return NitrateVeryHigh
}
