package plan

import (
	"testing"

	"halfwater/internal/published"
	"halfwater/quantity"
)

func saltOf(t *testing.T, formula string) salt {
	t.Helper()
	for _, s := range salts {
		if s.formula == formula {
			return s
		}
	}
	t.Fatalf("no salt %s", formula)
	return salt{}
}

// Milligrams a litre for one degree, by molar mass: rows S11-001 to S11-007 are independent of the
// program; S11-011 to S11-013 are self-computed and pin the ions at the side.
func TestSaltsByMolarMass(t *testing.T) {
	for id, c := range map[string]struct {
		formula string
		of      quantity.Measurand
	}{
		"S11-001": {"CaCl2.2H2O", quantity.OfGH}, "S11-002": {"CaSO4.2H2O", quantity.OfGH}, "S11-003": {"MgSO4.7H2O", quantity.OfGH},
		"S11-004": {"MgCl2.6H2O", quantity.OfGH}, "S11-006": {"NaHCO3", quantity.OfKH}, "S11-007": {"KHCO3", quantity.OfKH},
	} {
		s := saltOf(t, c.formula)
		published.Check(t, id, s.molar/s.brings(c.of))
	}
	ca, na, mg := saltOf(t, "CaCl2.2H2O"), saltOf(t, "NaHCO3"), saltOf(t, "MgSO4.7H2O")
	published.Check(t, "S11-011", 5/ca.brings(quantity.OfGH)*ca.cl*35.45)
	published.Check(t, "S11-012", 4/na.brings(quantity.OfKH)*na.na*22.990)
	published.Check(t, "S11-013", 3/mg.brings(quantity.OfGH)*mg.so4*96.06)
}

// Every salt is neutral: its charges sum to nothing, alkalinity counted as an anion.
func TestSaltsAreNeutral(t *testing.T) {
	for _, s := range salts {
		if z := 2*s.ca + 2*s.mg + s.na + s.k - s.cl - 2*s.so4 - s.alk; z != 0 {
			t.Errorf("%s carries a charge of %v", s.formula, z)
		}
	}
}
