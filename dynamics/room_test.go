package dynamics

import (
	"math"
	"testing"

	"halfwater/quantity"
	"halfwater/water"
)

// TestAiredGlass holds the pH of a glass to the full chemistry of package water, and to the rule that where
// bicarbonate is all the alkalinity ten times the CO2 is one pH less.
func TestAiredGlass(t *testing.T) {
	median, sd := RoomCO2()
	if median < 4e-4 || median > 1.5e-3 || sd < 0.1 || sd > 0.6 {
		t.Fatalf("room CO2 %g atm, sd ln %g", median, sd)
	}
	s := State{Volume: 100, Ca: 120, Mg: 30, Na: 80, K: 10, Cl: 90, SO4: 60, Alk: 180, DOC: 200, PO4: 20, TAN: 5, NO3: 300, Temp: 24, PCO2: 3e-3}
	for _, p := range []quantity.Atm{4.2e-4, median, 3e-3, 1e-2} {
		got := s.PHAt(p)
		exact, err := water.Open(s.Composition(), p)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(float64(got-exact.PH)) > 0.03 {
			t.Errorf("at %g atm pH %.3f, by the full chemistry %.3f", p, got, exact.PH)
		}
	}
	if s.PHAt(quantity.Atm(s.PCO2)) != s.PH() || s.PCO2 != 3e-3 {
		t.Error("at its own CO2 the water has another pH, or the water was changed")
	}
	if d := float64(s.PHAt(1e-3) - s.PHAt(1e-2)); math.Abs(d-1) > 0.05 {
		t.Errorf("ten times the CO2 is %.2f pH less", d)
	}
}
