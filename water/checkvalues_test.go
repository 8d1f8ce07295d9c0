package water

import (
	"fmt"
	"math"
	"testing"

	"halfwater/internal/published"
	"halfwater/quantity"
)

func opened(t testing.TB, c Composition, pCO2 quantity.Atm) Speciation {
	t.Helper()
	s, err := Open(c, pCO2)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// calciumBicarbonate is a water of Ca(HCO3)2 alone.
func calciumBicarbonate(kh quantity.Alkalinity) Composition {
	return Composition{Temperature: 25, Ca: Molality(kh.Meq() / 2), Alk: Equivalents(kh.Meq())}
}

func TestCarbonateCheckValues(t *testing.T) {
	T := func(c float64) float64 { return c + 273.15 }
	for id, x := range map[string]float64{
		"S01-001": logK("K1", T(25)), "S01-002": logK("K2", T(25)), "S01-003": logK("KH", T(25)),
		"S01-004": logK("calcite", T(25)), "S01-005": logK("aragonite", T(25)), "S01-006": logK("Kw", T(25)),
		"S01-007": logK("gypsum", T(25)), "S01-008": logK("CaHCO3", T(25)), "S01-009": logK("CaCO3", T(25)),
		"S01-010": logK("MgHCO3", T(25)), "S01-011": logK("MgCO3", T(25)),
		"S01-012": logK("K1", T(10)), "S01-013": logK("K2", T(10)), "S01-014": logK("K1", T(15)), "S01-015": logK("K2", T(15)),
		"S01-016": logK("K1", T(20)), "S01-017": logK("K2", T(20)), "S01-018": logK("K1", T(30)), "S01-019": logK("K2", T(30)),
		"S01-020": logK("calcite", T(10)), "S01-021": logK("calcite", T(20)), "S01-022": logK("calcite", T(30)),
		"S01-023": logK("KH", T(10)), "S01-024": logK("KH", T(20)), "S01-025": logK("KH", T(30)),
	} {
		published.Check(t, id, x)
	}
	// Plummer and Busenberg 1982, abstract, from memory: vaterite 7.913 +- 0.02 at 25 C.
	near(t, "log K of vaterite", logK("vaterite", T(25)), -7.913, 0.005)
	a, b := debyeHuckel(T(25))
	published.Check(t, "S01-026", a)
	published.Check(t, "S01-027", b)
	var w state
	w.set(&Composition{Temperature: 25}, Model{})
	w.strength = 0.008
	w.activities()
	published.Check(t, "S01-028", 1/w.gHCO3)
	published.Check(t, "S01-029", 1/w.gCa)

	published.Check(t, "S01-030", davies(1, 0.01, a)) // the road not taken: see roads_test.go
	published.Check(t, "S01-031", davies(2, 0.01, a))

	published.Check(t, "S01-032", float64(opened(t, Composition{Temperature: 25}, 4.2e-4).PH))
	eq, err := EquilibrateOpen(Composition{Temperature: 25}, Calcite, quantity.Atm(math.Pow(10, -3.5)))
	if err != nil {
		t.Fatal(err)
	}
	published.Check(t, "S01-033", float64(eq.Speciation.PH))
	published.Check(t, "S01-034", float64(eq.Dissolved))
	if eq, err = EquilibrateOpen(Composition{Temperature: 25}, Calcite, 4.2e-4); err != nil {
		t.Fatal(err)
	}
	published.Check(t, "S01-035", float64(eq.Speciation.PH))
	published.Check(t, "S01-036", float64(eq.Speciation.Composition.KH()))
	i := 37
	for _, kh := range []quantity.Alkalinity{0.5, 1, 2, 4, 8} {
		for _, p := range []quantity.Atm{4.2e-4, 8e-4, 2e-3} {
			published.Check(t, fmt.Sprintf("S01-%03d", i), float64(opened(t, calciumBicarbonate(kh), p).PH))
			i++
		}
	}
	tap := opened(t, hardTap, 4.2e-4)
	published.Check(t, "S01-052", float64(tap.PH))
	published.Check(t, "S01-053", tap.SICalcite())
	published.Check(t, "S01-054", 1e3*tap.IonicStrength)
	excess, _ := hardTap.ChargeImbalance()
	published.Check(t, "S01-055", float64(excess))

	published.Check(t, "S01-057", quantity.Hardness(1).Mmol())
	published.Check(t, "S01-058", quantity.Alkalinity(1).Meq())
	published.Check(t, "S01-059", quantity.Hardness(1).CaCO3())
	published.Check(t, "S01-060", float64(quantity.HardnessCaCO3(10)))
	published.Check(t, "S01-061", float64(quantity.HardnessCaCO3(14.254)))
	published.Check(t, "S01-062", float64(quantity.HardnessCaCO3(17.118)))
	published.Check(t, "S01-063", quantity.Alkalinity(1).Meq()*molarHCO3)
	published.Check(t, "S01-064", LangelierIndex(7.5, 25, 320, quantity.HardnessCaCO3(150), quantity.AlkalinityCaCO3(34)))
	published.Check(t, "S01-065", LangelierIndex(7.5, 82, 320, quantity.HardnessCaCO3(150), quantity.AlkalinityCaCO3(34)))
}

// TestOrganicCheckValues: the rows pin the equations. The two models are two roads: at pH 7 to 8,
// where tank water lies, they agree within 5 %.
func TestOrganicCheckValues(t *testing.T) {
	ueq := func(m OrganicModel, ph quantity.PH) float64 { return 1e3 * float64(OrganicCharge(m, 10, ph)) }
	for id, ph := range map[string]quantity.PH{"S02-001": 4.5, "S02-002": 5.5, "S02-003": 6.5, "S02-004": 7, "S02-005": 8} {
		published.Check(t, id, ueq(Hruska, ph))
	}
	published.Check(t, "S02-006", ueq(Oliver, 7))
	// Self-computed values of both equations, as printed: they pin them.
	for ph, want := range map[quantity.PH][2]float64{4.5: {50.2, 65.6}, 5.5: {68.2, 85.5}, 6.5: {85.5, 95.6}, 7: {94.3, 97.8}, 8: {101.0, 99.5}} {
		near(t, "Hruska", ueq(Hruska, ph), want[0], 0.051)
		near(t, "Oliver", ueq(Oliver, ph), want[1], 0.051)
	}
	for ph := quantity.PH(7); ph <= 8.5; ph += 0.1 {
		if a, b := ueq(Hruska, ph), ueq(Oliver, ph); math.Abs(a/b-1) > 0.05 {
			t.Errorf("pH %.1f: %.1f and %.1f ueq per 10 mg DOC", ph, a, b)
		}
	}
	i := 7
	for _, kh := range []quantity.Alkalinity{0.5, 1, 2, 4} {
		clear := opened(t, calciumBicarbonate(kh), 8e-4).PH
		for _, doc := range []quantity.MgPerL{5, 20} {
			c := calciumBicarbonate(kh)
			c.DOC = doc
			fall := float64(opened(t, c, 8e-4).PH - clear)
			published.Check(t, fmt.Sprintf("S02-%03d", i), fall)
			i++
			// The other road. With little KH and much tannin the two models part by up to 0.3 in pH,
			// which is how much is not known about organic acids there.
			other, err := Model{Organic: Oliver}.Open(c, 8e-4)
			if err != nil {
				t.Fatal(err)
			}
			if d := math.Abs(float64(other.PH-clear) - fall); d > 0.03 && kh >= 1 {
				t.Errorf("KH %v, DOC %v: pH falls by %.3f and by %.3f", kh, doc, -fall, float64(clear-other.PH))
			}
		}
	}
}

func TestConductivityCheckValues(t *testing.T) {
	kcl := func(mmol Molality, temp quantity.Celsius) float64 {
		s, err := Open(Composition{Temperature: temp, K: mmol, Cl: mmol}, 0)
		if err != nil {
			t.Fatal(err)
		}
		return float64(s.EC())
	}
	published.Check(t, "S03-001", kcl(10, 25))
	published.Check(t, "S03-002", kcl(10, 20))
	published.Check(t, "S03-003", kcl(1, 25))
	published.Check(t, "S03-004", lambdaCa.at(25, 0))
	published.Check(t, "S03-005", lambdaHCO3.at(25, 0))
	published.Check(t, "S03-006", lambdaNa.at(25, 0))
	published.Check(t, "S03-007", lambdaCl.at(25, 0))
}

func TestAmmoniaCheckValues(t *testing.T) {
	published.Check(t, "S04-001", -logK("NH4 Emerson", 298.15))
	published.Check(t, "S04-002", -logK("NH4 Emerson", 293.15))
	published.Check(t, "S04-003", -logK("NH4 Emerson", 288.15))
	published.Check(t, "S04-004", -logK("NH4 Parkhurst", 298.15))
	type at struct {
		ph quantity.PH
		t  quantity.Celsius
	}
	for id, x := range map[string]at{
		"S04-005": {7, 20}, "S04-006": {7, 25}, "S04-007": {8, 20}, "S04-008": {8, 25}, "S04-009": {8.5, 25},
		"S04-010": {7.5, 25}, "S04-011": {6.5, 25}, "S04-012": {9, 25},
	} {
		published.Check(t, id, float64(FreeAmmonia(100, x.ph, x.t)))
	}
	i := 13
	id := func() string { i++; return fmt.Sprintf("S04-%03d", i-1) }
	two := func(x quantity.TotalAmmonia) float64 { // the criteria are published with two digits
		p := math.Pow(10, 1-math.Floor(math.Log10(float64(x))))
		return math.Round(float64(x)*p) / p
	}
	phs := []quantity.PH{6.5, 7, 7.5, 8, 8.5, 9}
	for _, temp := range []quantity.Celsius{20, 30, 5} {
		for _, ph := range phs {
			published.Check(t, id(), two(ChronicAmmonia(ph, temp)))
		}
	}
	for _, temp := range []quantity.Celsius{20, 10} {
		for _, ph := range phs {
			published.Check(t, id(), two(AcuteAmmonia(ph, temp, true)))
		}
	}
	for _, ph := range []quantity.PH{6.5, 7, 8, 9} {
		published.Check(t, id(), two(AcuteAmmonia(ph, 10, false)))
	}
	published.Check(t, "S04-047", float64(ProtectiveChloride(1)))
	published.Check(t, "S04-049", float64(quantity.NitrateAsNO3(13)))
	published.Check(t, "S04-050", quantity.Nitrate(10).AsNO3())
}

func TestOxygenCheckValues(t *testing.T) {
	for i, temp := range []quantity.Celsius{0, 5, 10, 15, 20, 25, 30, 35} {
		published.Check(t, fmt.Sprintf("S08-%03d", i+1), float64(OxygenSaturation(temp, 1)))
	}
	published.Check(t, "S08-009", float64(OxygenSaturation(25, 0.8870)))
	published.Check(t, "S08-010", float64(PressureAt(1000)))
	published.Check(t, "S08-011", float64(opened(t, Composition{Temperature: 20}, 4.2e-4).CO2()))
	published.Check(t, "S08-012", float64(opened(t, Composition{Temperature: 25}, 4.2e-4).CO2()))
}

// TestOldTankShock: an exhausted tank of KH 0.42 is given 40 % of hard tap.
func TestOldTankShock(t *testing.T) {
	tank := Composition{Temperature: 25, Ca: 1, Mg: 0.3, Na: 0.6, K: 0.1, Cl: 1.35, SO4: 0.5, NO3: 1, TAN: 0.2, Alk: 0.15}
	before := opened(t, tank, 3e-3)
	tap, err := GivenPH(hardTap, 7.6)
	if err != nil {
		t.Fatal(err)
	}
	m, err := Blend([]Part{{tank, before.DIC, 60}, {hardTap, tap.DIC, 40}})
	if err != nil {
		t.Fatal(err)
	}
	after, err := m.Closed()
	if err != nil {
		t.Fatal(err)
	}
	next, err := m.Open(8e-4)
	if err != nil {
		t.Fatal(err)
	}
	nh3 := func(s Speciation) float64 {
		return float64(FreeAmmonia(quantity.TotalAmmonia(float64(s.Composition.TAN)*atomN), s.PH, s.Composition.Temperature))
	}
	published.Check(t, "S10-001", float64(before.PH))
	published.Check(t, "S10-002", nh3(before))
	published.Check(t, "S10-003", float64(after.PH))
	published.Check(t, "S10-004", nh3(after))
	published.Check(t, "S10-005", float64(next.PH))
	published.Check(t, "S10-006", nh3(next))
}

func TestMixAndChlorineCheckValues(t *testing.T) {
	m, err := Blend([]Part{{Composition: Composition{Temperature: 25}, Litres: 75}, {Composition: Composition{Temperature: 12}, Litres: 25}})
	if err != nil {
		t.Fatal(err)
	}
	published.Check(t, "S10-013", float64(m.Composition.Temperature))
	published.Check(t, "S10-015", thiosulfatePerChlorine(4))
	published.Check(t, "S10-016", thiosulfatePerChlorine(1))
	published.Check(t, "S10-017", thiosulfatePerChlorine(0.5))
	published.Check(t, "S10-018", float64(ChloramineAmmonia(1)))
	published.Check(t, "S10-019", 0.4*float64(ChloramineAmmonia(2.5)))
	published.Check(t, "S13-001", quantity.Nitrate(1).AsNO3())
	published.Check(t, "S13-002", quantity.Nitrite(1).AsNO2())
	published.Check(t, "S13-003", quantity.TotalAmmonia(1).AsNH4())
	published.Check(t, "S13-004", quantity.FreeAmmonia(1).AsNH3())
	published.Check(t, "S13-005", molarPO4/atomP)
	published.Check(t, "S13-006", atomCa)
	// The slope of a pH electrode, R T ln 10/F: a second road to the gas constant that the equations
	// of van't Hoff use (F 96485.33212 C/mol and 4184 J/kcal, exact).
	published.Check(t, "S13-008", 1000*gasConstant*4184*298.15*math.Ln10/96485.33212)
	published.Check(t, "S13-007", float64(TDSAsNaCl.TDS(600)))
}

func TestGypsumSolubility(t *testing.T) {
	eq, err := EquilibrateOpen(Composition{Temperature: 25}, Gypsum, 4.2e-4)
	if err != nil {
		t.Fatal(err)
	}
	published.Check(t, "S11-010", float64(eq.Dissolved))
}
