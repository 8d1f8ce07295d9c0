package infer

import "halfwater/book"

// effect is what one milligram of a salt per litre adds.
type effect struct{ gh, kh, chloride, meq float64 } // dGH, dKH, mg Cl, meq of cations, per mg

// effects follow from molar masses (REFERENCE tables of the trade agree to the last digit).
var effects = map[string]effect{
	"CaCl2.2H2O": {1 / 26.22, 0, 12.64 / 26.22, 2 / 147.01},
	"CaCl2":      {1 / 19.79, 0, 12.64 / 19.79, 2 / 110.98},
	"CaSO4.2H2O": {1 / 30.70, 0, 0, 2 / 172.16},
	"MgSO4.7H2O": {1 / 43.95, 0, 0, 2 / 246.47},
	"MgCl2.6H2O": {1 / 36.25, 0, 12.64 / 36.25, 2 / 203.30},
	"CaCO3":      {1 / 17.85, 1 / 17.85, 0, 2 / 100.09},
	"NaHCO3":     {0, 1 / 29.96, 0, 1 / 84.01},
	"KHCO3":      {0, 1 / 35.71, 0, 1 / 100.11},
	"Na2CO3":     {0, 1 / 18.90, 0, 2 / 105.99},
	"K2CO3":      {0, 1 / 24.65, 0, 2 / 138.20},
	"NaCl":       {0, 0, 35.453 / 58.443, 1 / 58.443},
	"KCl":        {0, 0, 35.453 / 74.551, 1 / 74.551},
}

// saltsIn is what salts bring to a slot, times litres.
func saltsIn(salts []book.SaltPoured, slot int) float64 {
	sum := 0.0
	for _, s := range salts {
		e, ok := effects[s.Formula]
		if !ok {
			continue
		}
		mg := s.Grams.Milligrams()
		switch slot {
		case gh:
			sum += mg * e.gh
		case kh:
			sum += mg * e.kh
		case chloride:
			sum += mg * e.chloride
		case ions:
			sum += mg * e.meq * 125 // uS/cm per meq of both ions at infinite dilution: 115 to 135
		}
	}
	return sum
}
