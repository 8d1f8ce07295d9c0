package water

import (
	_ "embed"
	"fmt"
	"strings"

	"halfwater/cite"
	"halfwater/quantity"
)

//go:embed salts.txt
var saltsText string

var saltTab = cite.MustParse(saltsText)

// Salt is a weighed salt: a hydrate by its chemical name and formula.
type Salt struct {
	Name       string
	Formula    string
	MolarMass  float64 // g/mol, water of the hydrate included
	Solubility float64 // g of this hydrate per litre at 20-25 C
	Care       Care
	per        unit
}

// Care is the code of what to mind with a salt; its sentence stands in the catalogue. Dust and
// eyes go for every salt.
type Care string

// The cares.
const (
	NoCare       Care = ""
	Heats        Care = "water.salt-heats"     // salt into water, little by little
	SlowPowder   Care = "water.salt-slow"      // dose as powder, with stirring
	NeedsAcid    Care = "water.salt-acid"      // dissolves only where there is CO2 or acid
	RaisesPH     Care = "water.salt-raises-ph" // strongly, until CO2 has come in again
	PlainSalt    Care = "water.salt-plain"     // not for newts, frogs or most plants
	FeedsNitrate Care = "water.salt-nitrate"   // adds nitrate
)

// unit is what one formula unit adds, mol per mol.
type unit struct{ ca, mg, na, k, cl, so4, no3, alk, carbon float64 }

var salts = []Salt{
	salt("calcium chloride dihydrate", "CaCl2.2H2O", Heats, unit{ca: 1, cl: 2}),
	salt("calcium chloride", "CaCl2", Heats, unit{ca: 1, cl: 2}),
	salt("gypsum", "CaSO4.2H2O", SlowPowder, unit{ca: 1, so4: 1}),
	salt("magnesium sulfate heptahydrate", "MgSO4.7H2O", NoCare, unit{mg: 1, so4: 1}),
	salt("magnesium chloride hexahydrate", "MgCl2.6H2O", NoCare, unit{mg: 1, cl: 2}),
	salt("sodium bicarbonate", "NaHCO3", NoCare, unit{na: 1, alk: 1, carbon: 1}),
	salt("potassium bicarbonate", "KHCO3", NoCare, unit{k: 1, alk: 1, carbon: 1}),
	salt("sodium carbonate", "Na2CO3", RaisesPH, unit{na: 2, alk: 2, carbon: 1}),
	salt("potassium carbonate", "K2CO3", RaisesPH, unit{k: 2, alk: 2, carbon: 1}),
	salt("potassium chloride", "KCl", NoCare, unit{k: 1, cl: 1}),
	salt("sodium chloride", "NaCl", PlainSalt, unit{na: 1, cl: 1}),
	salt("potassium nitrate", "KNO3", FeedsNitrate, unit{k: 1, no3: 1}),
	salt("potassium sulfate", "K2SO4", NoCare, unit{k: 2, so4: 1}),
	salt("calcium carbonate", "CaCO3", NeedsAcid, unit{ca: 1, alk: 2, carbon: 1}),
}

func salt(name, formula string, care Care, per unit) Salt {
	m, err := molarMass(formula)
	if err != nil {
		panic(err)
	}
	return Salt{name, formula, m, saltTab.Value(name + " solubility"), care, per}
}

// Salts are the salts known.
func Salts() []Salt { return append([]Salt(nil), salts...) }

// SaltNamed finds a salt by its name or formula, whatever the case and the dot of the hydrate.
func SaltNamed(nameOrFormula string) (Salt, error) {
	want := plainName(nameOrFormula)
	for _, s := range salts {
		if plainName(s.Name) == want || plainName(s.Formula) == want {
			return s, nil
		}
	}
	return Salt{}, UnknownSalt{nameOrFormula}
}

func plainName(s string) string {
	return strings.Map(func(r rune) rune {
		switch r {
		case ' ', '-', '.', '*', '\u00b7', '\u2022':
			return -1
		}
		return r
	}, strings.ToLower(s))
}

// Added is what an amount of salt in a litre adds, mmol (meq for Alk) per litre.
type Added struct {
	Ca, Mg, Na, K, Cl, SO4, NO3 Molality
	Alk                         Equivalents
	DIC                         Molality
}

// PerGram is what one gram of the pure salt in one litre adds.
func (s Salt) PerGram() Added {
	m := 1000 / s.MolarMass
	u := s.per
	f := func(n float64) Molality { return Molality(n * m) }
	return Added{f(u.ca), f(u.mg), f(u.na), f(u.k), f(u.cl), f(u.so4), f(u.no3), Equivalents(u.alk * m), f(u.carbon)}
}

// ForHardness is the mass of the pure salt per litre that raises GH by d; zero for a salt without
// calcium or magnesium.
func (s Salt) ForHardness(d quantity.Hardness) quantity.Grams {
	n := s.per.ca + s.per.mg
	if n == 0 {
		return 0
	}
	return quantity.Grams(d.Mmol() / n * s.MolarMass / 1000)
}

// ForAlkalinity is the mass of the pure salt per litre that raises KH by d; zero for a salt that
// has none.
func (s Salt) ForAlkalinity(d quantity.Alkalinity) quantity.Grams {
	if s.per.alk == 0 {
		return 0
	}
	return quantity.Grams(d.Meq() / s.per.alk * s.MolarMass / 1000)
}

// Dose dissolves grams of a salt product in a blend, nothing else moving: no CO2 comes or goes.
// Purity is the share of the named salt in the product (0 to 1]; the rest is taken to be water,
// as in flakes that have drawn damp. Errors: [OutOfSpan], [TooMuchSalt].
func (m Mixed) Dose(s Salt, grams quantity.Grams, purity quantity.Share) (Mixed, error) {
	if !(grams >= 0 && grams <= 1e9) {
		return m, OutOfSpan{"grams of " + s.Name, float64(grams), 0, 1e9, "g"}
	}
	if !(purity > 0 && purity <= 1) {
		return m, OutOfSpan{"purity of " + s.Name, float64(purity), 0, 1, ""}
	}
	if !(m.Litres > 0) {
		return m, NothingToMix{0}
	}
	perLitre := float64(grams) * float64(purity) / float64(m.Litres)
	if perLitre > s.Solubility {
		return m, TooMuchSalt{s, grams, m.Litres}
	}
	a, n := s.PerGram(), Molality(perLitre)
	c := &m.Composition
	c.Ca += n * a.Ca
	c.Mg += n * a.Mg
	c.Na += n * a.Na
	c.K += n * a.K
	c.Cl += n * a.Cl
	c.SO4 += n * a.SO4
	c.NO3 += n * a.NO3
	c.Alk += Equivalents(perLitre) * a.Alk
	m.DIC += n * a.DIC
	return m, nil
}

// UnknownSalt is a name or formula that is in no list here.
type UnknownSalt struct{ Name string }

func (e UnknownSalt) Error() string {
	var names []string
	for _, s := range salts {
		names = append(names, s.Formula)
	}
	return fmt.Sprintf("no salt %q is known; use one of %s", e.Name, strings.Join(names, ", "))
}

// TooMuchSalt is more of a salt than the water takes up.
type TooMuchSalt struct {
	Salt   Salt
	Grams  quantity.Grams
	Litres quantity.Litres
}

func (e TooMuchSalt) Error() string {
	return fmt.Sprintf("%.3g g of %s do not dissolve in %.3g L: at most %.3g g/L; use more water or less salt",
		float64(e.Grams), e.Salt.Formula, float64(e.Litres), e.Salt.Solubility)
}
