package plan

import (
	"math"
	"slices"

	"halfwater/quantity"
)

// salt is a salt that may stand on the shelf, by what one mole of it brings. Formulas and molar
// masses by iupac2021; what a gram brings follows, and is held against handbook rows in a test.
type salt struct {
	formula                string
	molar                  float64 // g/mol
	ca, mg, na, k, cl, so4 float64 // mol per mol
	alk                    float64 // eq per mol
}

// salts are those that raise GH or KH and that common practice uses. Sodium chloride raises
// neither and is never one of them.
var salts = []salt{
	{formula: "CaCl2.2H2O", molar: 147.01, ca: 1, cl: 2},
	{formula: "CaCl2", molar: 110.98, ca: 1, cl: 2},
	{formula: "CaSO4.2H2O", molar: 172.17, ca: 1, so4: 1},
	{formula: "MgSO4.7H2O", molar: 246.47, mg: 1, so4: 1},
	{formula: "MgCl2.6H2O", molar: 203.30, mg: 1, cl: 2},
	{formula: "NaHCO3", molar: 84.007, na: 1, alk: 1},
	{formula: "KHCO3", molar: 100.115, k: 1, alk: 1},
}

// perMeqEC is about how much one meq/L of a salt adds to the conductivity, uS/cm: the rule of
// thumb EC = 100 x meq/L of cations. Common practice, no source; the mix is read before it is poured.
const perMeqEC = 100

// brings is what one mmol/L of the salt adds to a measurand, canonical unit.
func (s salt) brings(of quantity.Measurand) float64 {
	switch of {
	case quantity.OfGH:
		return float64(quantity.HardnessMmol(s.ca + s.mg))
	case quantity.OfKH:
		return float64(quantity.AlkalinityMeq(s.alk))
	case quantity.OfEC:
		return perMeqEC * (2*s.ca + 2*s.mg + s.na + s.k)
	}
	return 0
}

// grams of the salt for litres at a dose in mmol/L.
func (s salt) grams(dose float64, l quantity.Litres) quantity.Grams {
	return quantity.Milligrams(dose * s.molar * float64(l))
}

// sideCaps are the most that a salted pour may hold of an ion, mg/L, and the molar mass. Common
// practice, no source.
var sideCaps = []struct {
	cap, molar float64
	of         func(salt) float64
	in         func(source) float64 // mmol/L
}{
	{50, 22.990, func(s salt) float64 { return s.na }, func(s source) float64 { return float64(s.carbon.Composition.Na) }},
	{20, 39.098, func(s salt) float64 { return s.k }, func(s source) float64 { return float64(s.carbon.Composition.K) }},
	{100, 35.45, func(s salt) float64 { return s.cl }, func(s source) float64 { return float64(s.carbon.Composition.Cl) }},
	{150, 96.06, func(s salt) float64 { return s.so4 }, func(s source) float64 { return float64(s.carbon.Composition.SO4) }},
}

// calciumToMagnesium is the molar ratio that a salted pour leans to, within the usual 2:1 to 4:1.
// Common practice, no source.
const calciumToMagnesium = 3

// boundSalts adds to the problem what holds for salts: none below nothing, ions at the side under
// their caps (or what the sources alone already bring), calcium to magnesium leaning to 3:1.
func (v *visit) boundSalts(q *quadratic, list []salt) {
	n, m := len(v.sources), len(list)
	if m == 0 {
		return
	}
	for j := range list {
		q.rows = append(q.rows, halfSpace{unit(n+m, n+j, 1), 0})
		q.g[n+j][n+j] += saltCost
	}
	for _, c := range sideCaps {
		row, most := make([]float64, n+m), c.cap/c.molar
		for i, s := range v.sources {
			row[i] = -c.in(s)
			most = max(most, c.in(s))
		}
		for j, s := range list {
			row[n+j] = -c.of(s)
		}
		q.rows = append(q.rows, halfSpace{row, -most})
	}
	ratio := make([]float64, n+m)
	for i, s := range v.sources {
		ratio[i] = float64(s.carbon.Composition.Ca - calciumToMagnesium*s.carbon.Composition.Mg)
	}
	for j, s := range list {
		ratio[n+j] = s.ca - calciumToMagnesium*s.mg
	}
	q.add(ratio, 0, ratioWeight)
}

// saltCost keeps salts out where a blend does as well: 1 mmol/L of a salt counts as a miss of a
// seventh of a degree. ratioWeight: 1 mmol/L of calcium too much counts as a third of a degree.
// Judgement.
const (
	saltCost    = 0.02
	ratioWeight = 0.1
)

// shelf are the salts that the keeper has and that may be used.
func (v *visit) shelf() []salt {
	r := v.Facts.Routine
	if r == nil {
		return nil
	}
	var out []salt
	for _, s := range salts {
		if slices.Contains(r.Salts, s.formula) {
			out = append(out, s)
		}
	}
	return out
}

// refuseTableSalt says why sodium chloride on the shelf is left there.
func (v *visit) refuseTableSalt() {
	r := v.Facts.Routine
	if r == nil || !slices.Contains(r.Salts, "NaCl") {
		return
	}
	code := "plan.salt-no-hardness"
	for _, k := range v.ranges.Kept() {
		if k.Species.Group.Amphibian() {
			code = "plan.salt-amphibians"
		}
	}
	v.refuse(Refused{Code: code})
}

// weighed are the doses in grams for the whole pour, to the hundredth of a gram, and the same as
// mmol/L. What a scale cannot weigh well (twenty times its hundredth) is left out.
func weighed(list []salt, doses []float64, l quantity.Litres) ([]SaltDose, []float64) {
	var out []SaltDose
	left := make([]float64, len(list))
	for j, s := range list {
		g := quantity.Grams(math.Round(float64(s.grams(doses[j], l))*100) / 100)
		if g < leastWeighed {
			continue
		}
		out = append(out, SaltDose{Formula: s.formula, Grams: g})
		left[j] = g.Milligrams() / s.molar / float64(l)
	}
	return out, left
}

const leastWeighed quantity.Grams = 0.2
