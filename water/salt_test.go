package water

import (
	"errors"
	"math"
	"testing"

	"halfwater/internal/published"
	"halfwater/quantity"
)

func saltOf(t testing.TB, formula string) Salt {
	t.Helper()
	s, err := SaltNamed(formula)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func TestSaltsAgainstCheckValues(t *testing.T) {
	hard := func(id, formula string) {
		published.Check(t, id, saltOf(t, formula).ForHardness(1).Milligrams())
	}
	hard("S11-001", "CaCl2.2H2O")
	hard("S11-002", "CaSO4.2H2O")
	hard("S11-003", "MgSO4.7H2O")
	hard("S11-004", "MgCl2.6H2O")
	hard("S11-005", "CaCO3")
	alk := func(id, formula string) {
		published.Check(t, id, saltOf(t, formula).ForAlkalinity(1).Milligrams())
	}
	alk("S11-006", "NaHCO3")
	alk("S11-007", "KHCO3")
	alk("S11-008", "K2CO3")
	alk("S11-009", "Na2CO3")

	dose := func(formula string, g quantity.Grams) Composition {
		m, err := Mixed{Litres: 1, Composition: Composition{Temperature: 25}}.Dose(saltOf(t, formula), g, 1)
		if err != nil {
			t.Fatal(err)
		}
		return m.Composition
	}
	published.Check(t, "S11-011", float64(dose("CaCl2.2H2O", saltOf(t, "CaCl2.2H2O").ForHardness(5)).Cl)*atomCl)
	published.Check(t, "S11-012", float64(dose("NaHCO3", saltOf(t, "NaHCO3").ForAlkalinity(4)).Na)*atomNa)
	published.Check(t, "S11-013", float64(dose("MgSO4.7H2O", saltOf(t, "MgSO4.7H2O").ForHardness(3)).SO4)*molarSO4)
	published.Check(t, "S11-014", quantity.Alkalinity(1).Meq())
}

// TestSaltsConserve: what a salt adds has no charge left over, and its parts are those that its
// formula counts, so that the table of parts and the formula are two roads to the same numbers.
func TestSaltsConserve(t *testing.T) {
	for _, s := range Salts() {
		u := s.per
		if z := 2*u.ca + 2*u.mg + u.na + u.k - u.cl - 2*u.so4 - u.no3 - u.alk; z != 0 {
			t.Errorf("%s adds a charge of %g", s.Formula, z)
		}
		e, err := elements(s.Formula)
		if err != nil {
			t.Fatal(err)
		}
		for atom, n := range map[string]float64{"Ca": u.ca, "Mg": u.mg, "Na": u.na, "K": u.k, "Cl": u.cl, "S": u.so4, "N": u.no3, "C": u.carbon} {
			if e[atom] != n {
				t.Errorf("%s: %g %s in the formula, %g added", s.Formula, e[atom], atom, n)
			}
		}
	}
}

// TestMolarMasses against handbook values (CRC Handbook, from memory, two decimals).
func TestMolarMasses(t *testing.T) {
	for formula, want := range map[string]float64{
		"CaCl2.2H2O": 147.01, "CaCl2": 110.98, "CaSO4.2H2O": 172.17, "MgSO4.7H2O": 246.47, "MgCl2.6H2O": 203.30,
		"NaHCO3": 84.01, "KHCO3": 100.11, "Na2CO3": 105.99, "K2CO3": 138.20, "CaCO3": 100.09, "KCl": 74.55, "NaCl": 58.44, "KNO3": 101.10, "K2SO4": 174.26,
	} {
		if m := saltOf(t, formula).MolarMass; math.Abs(m-want) > 0.015 {
			t.Errorf("%s: %.3f g/mol, handbook %.2f", formula, m, want)
		}
	}
}

func TestDoseRefuses(t *testing.T) {
	water := Mixed{Litres: 10, Composition: Composition{Temperature: 20}}
	gypsum := saltOf(t, "gypsum")
	if _, err := water.Dose(gypsum, 40, 1); !errors.As(err, new(TooMuchSalt)) {
		t.Errorf("4 g/L of gypsum: %v", err)
	}
	if _, err := water.Dose(gypsum, quantity.Grams(math.NaN()), 1); !errors.As(err, new(OutOfSpan)) {
		t.Errorf("NaN grams: %v", err)
	}
	if _, err := water.Dose(gypsum, 1, 0); !errors.As(err, new(OutOfSpan)) {
		t.Errorf("purity 0: %v", err)
	}
	if _, err := SaltNamed("unobtainium"); !errors.As(err, new(UnknownSalt)) {
		t.Errorf("unknown salt: %v", err)
	}
	if s, err := SaltNamed("mgso4·7h2o"); err != nil || s.Formula != "MgSO4.7H2O" {
		t.Errorf("hydrate with a middle dot: %v %v", s, err)
	}
}

func FuzzFormula(f *testing.F) {
	for _, s := range salts {
		f.Add(s.Formula)
	}
	f.Add("Ca(NO3)2.4H2O")
	f.Add("((((")
	f.Add("99999999999999999999H")
	f.Fuzz(func(t *testing.T, s string) {
		m, err := molarMass(s)
		if err == nil && (math.IsNaN(m) || m < 0) {
			t.Errorf("%q weighs %g", s, m)
		}
	})
}
