package plan

import (
	"testing"

	"halfwater/internal/published"
	"halfwater/quantity"
)

func saltOf(t *testing.T, formula string) salt {
	t.Helper()
	for _, s := range usable {
		if s.formula == formula {
			return s
		}
	}
	t.Fatalf("no salt %s", formula)
	return salt{}
}

// Milligrams a litre for one degree, by molar mass: rows S11-001 to S11-007 are independent of the
// program.
func TestSaltsByMolarMass(t *testing.T) {
	for id, c := range map[string]struct {
		formula string
		of      quantity.Measurand
	}{
		"S11-001": {"CaCl2.2H2O", quantity.OfGH}, "S11-002": {"CaSO4.2H2O", quantity.OfGH}, "S11-003": {"MgSO4.7H2O", quantity.OfGH},
		"S11-004": {"MgCl2.6H2O", quantity.OfGH}, "S11-006": {"NaHCO3", quantity.OfKH}, "S11-007": {"KHCO3", quantity.OfKH},
	} {
		s := saltOf(t, c.formula)
		published.Check(t, id, 1000/s.brings(c.of))
	}
}
