package infer

import (
	"halfwater/book"
	"halfwater/water"
)

// saltsIn is what salts bring to a slot, times litres. A salt that is not known brings nothing.
func saltsIn(salts []book.SaltPoured, slot int) float64 {
	sum := 0.0
	for _, s := range salts {
		known, err := water.SaltNamed(s.Formula)
		if err != nil {
			continue
		}
		a, g := known.PerGram(), float64(s.Grams)
		switch slot {
		case gh:
			sum += g * float64(a.Ca+a.Mg) * perMmol
		case kh:
			sum += g * float64(a.Alk) * perMmol / 2
		case chloride:
			sum += g * float64(a.Cl) * water.MolarCl
		case nitrate:
			sum += g * float64(a.NO3) * water.MolarN
		case ions: // equivalent conductances at infinite dilution, Standard Methods 2510
			sum += g * (119*float64(a.Ca) + 106.2*float64(a.Mg) + 50.1*float64(a.Na) + 73.5*float64(a.K) +
				76.4*float64(a.Cl) + 160*float64(a.SO4) + 71.4*float64(a.NO3) + 44.5*float64(a.Alk))
		}
	}
	return sum
}

// perMmol is dGH per mmol/L, and twice dKH per meq/L.
const perMmol = 5.60774
