package plan

import (
	"math"
	"slices"

	"halfwater/quantity"
	"halfwater/water"
)

// salt is a salt that may stand on the shelf, and what a gram of it brings to a litre.
type salt struct {
	formula string
	gram    water.Added
}

// usable are the salts that raise GH or KH and that common practice uses. Sodium chloride raises
// neither and is never one of them; carbonates of sodium and potassium drive the pH up and lime
// hardly dissolves.
var usable = func() []salt {
	var out []salt
	for _, formula := range []string{"CaCl2.2H2O", "CaCl2", "CaSO4.2H2O", "MgSO4.7H2O", "MgCl2.6H2O", "NaHCO3", "KHCO3"} {
		s, err := water.SaltNamed(formula)
		if err != nil {
			panic("plan: " + err.Error())
		}
		out = append(out, salt{s.Formula, s.PerGram()})
	}
	return out
}()

// brings is what a gram per litre of the salt adds to a measurand, canonical unit.
func (s salt) brings(of quantity.Measurand) float64 {
	a := s.gram
	switch of {
	case quantity.OfGH:
		return float64(quantity.HardnessMmol(float64(a.Ca + a.Mg)))
	case quantity.OfKH:
		return float64(quantity.AlkalinityMeq(float64(a.Alk)))
	case quantity.OfEC:
		return perMeqEC * float64(2*a.Ca+2*a.Mg+a.Na+a.K)
	}
	return 0
}

// sideCaps are the most that a salted pour may hold of an ion, and its molar mass (iupac2021).
var sideCaps = []struct {
	cap   float64 // mg/L
	molar float64
	of    func(water.Added) water.Molality
	in    func(water.Composition) water.Molality
}{
	{rules.Value("sodium cap"), 22.990, func(a water.Added) water.Molality { return a.Na }, func(c water.Composition) water.Molality { return c.Na }},
	{rules.Value("potassium cap"), 39.098, func(a water.Added) water.Molality { return a.K }, func(c water.Composition) water.Molality { return c.K }},
	{rules.Value("chloride cap"), water.MolarCl, func(a water.Added) water.Molality { return a.Cl }, func(c water.Composition) water.Molality { return c.Cl }},
	{rules.Value("sulfate cap"), 96.06, func(a water.Added) water.Molality { return a.SO4 }, func(c water.Composition) water.Molality { return c.SO4 }},
}

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
			x := float64(c.in(s.carbon.Composition))
			row[i] = -x
			most = max(most, x)
		}
		for j, s := range list {
			row[n+j] = -float64(c.of(s.gram))
		}
		q.rows = append(q.rows, halfSpace{row, -most})
	}
	ratio := make([]float64, n+m)
	for i, s := range v.sources {
		ratio[i] = float64(s.carbon.Composition.Ca - calciumToMagnesium*s.carbon.Composition.Mg)
	}
	for j, s := range list {
		ratio[n+j] = float64(s.gram.Ca - calciumToMagnesium*s.gram.Mg)
	}
	q.add(ratio, 0, ratioWeight)
}

// shelf are the salts that the keeper has and that may be used.
func (v *visit) shelf() []salt {
	r := v.Facts.Routine
	if r == nil {
		return nil
	}
	var out []salt
	for _, s := range usable {
		if slices.ContainsFunc(r.Salts, func(named string) bool { return sameSalt(named, s.formula) }) {
			out = append(out, s)
		}
	}
	return out
}

// sameSalt reports whether what the keeper wrote names the salt of a formula.
func sameSalt(named, formula string) bool {
	s, err := water.SaltNamed(named)
	return err == nil && s.Formula == formula
}

// refuseTableSalt says why sodium chloride on the shelf is left there.
func (v *visit) refuseTableSalt() {
	r := v.Facts.Routine
	if r == nil || !slices.ContainsFunc(r.Salts, func(named string) bool { return sameSalt(named, "NaCl") }) {
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

// weighed are the doses in grams for the whole pour, to the hundredth of a gram, and the same in
// grams per litre. What a scale cannot weigh well (twenty times its hundredth) is left out.
func weighed(list []salt, doses []float64, l quantity.Litres) ([]SaltDose, []float64) {
	var out []SaltDose
	left := make([]float64, len(list))
	for j, s := range list {
		g := quantity.Grams(math.Round(doses[j]*float64(l)*100) / 100)
		if g < leastWeighed {
			continue
		}
		out = append(out, SaltDose{Formula: s.formula, Grams: g})
		left[j] = float64(g) / float64(l)
	}
	return out, left
}
