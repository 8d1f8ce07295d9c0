package water

import (
	"math"

	"halfwater/quantity"
)

// unbalanced names the ion that most likely is wrong: the one that a common slip of unit or basis
// would put right, or else, of those on the heavier side, the largest.
func unbalanced(c Composition, share quantity.Share) Unbalanced {
	e := Unbalanced{Share: share}
	e.Cations = Equivalents(2*c.Ca + 2*c.Mg + c.Na + c.K + c.TAN)
	e.Anions = Equivalents(c.Cl+2*c.SO4+c.NO3+c.NO2+c.PO4) + c.Alk
	excess, _ := c.ChargeImbalance()
	best := 0.02 // what is left must be this small a share of the sum for a slip to explain it
	for _, s := range [...]struct {
		ion    string
		charge float64 // meq/L as stated, signed
		factor float64 // by which the true number differs from the stated one
		slip   string
	}{
		{"calcium", 2 * float64(c.Ca), atomCa / molarCaCO3, "as mg/L CaCO3 instead of Ca"},
		{"magnesium", 2 * float64(c.Mg), atomMg / molarCaCO3, "as mg/L CaCO3 instead of Mg"},
		{"sulfate", -2 * float64(c.SO4), molarSO4 / atomS, "as S instead of SO4"},
		{"nitrate", -float64(c.NO3), atomN / molarNO3, "as NO3, but entered as N"},
		{"nitrate", -float64(c.NO3), molarNO3 / atomN, "as N, but entered as NO3"},
		{"alkalinity", -float64(c.Alk), molarCaCO3 / 2 / molarHCO3, "as mg/L HCO3, but entered as CaCO3"},
		{"alkalinity", -float64(c.Alk), 2 * molarHCO3 / molarCaCO3, "as mg/L CaCO3, but entered as HCO3"},
		{"alkalinity", -float64(c.Alk), 1 / quantity.Alkalinity(1).Meq(), "in meq/L, but entered as dKH"},
		{"alkalinity", -float64(c.Alk), quantity.Alkalinity(1).Meq(), "in dKH, but entered as meq/L"},
	} {
		left := float64(excess) + s.charge*(s.factor-1)
		sum := float64(e.Cations+e.Anions) + math.Copysign(s.charge, 1)*(s.factor-1)
		if sum > 0 && math.Abs(left)/sum < best {
			best = math.Abs(left) / sum
			e.Suspect = Suspect{s.ion, s.slip}
		}
	}
	if e.Suspect.Ion != "" {
		return e
	}
	type side struct {
		ion    string
		charge float64
	}
	heavy := []side{{"calcium", 2 * float64(c.Ca)}, {"magnesium", 2 * float64(c.Mg)}, {"sodium", float64(c.Na)}, {"potassium", float64(c.K)}}
	if excess < 0 {
		heavy = []side{{"alkalinity", float64(c.Alk)}, {"chloride", float64(c.Cl)}, {"sulfate", 2 * float64(c.SO4)}, {"nitrate", float64(c.NO3)}}
	}
	most := math.Inf(-1)
	for _, s := range heavy {
		if s.charge > most {
			most, e.Suspect.Ion = s.charge, s.ion
		}
	}
	return e
}
