package water

import (
	"math"
	"testing"

	"halfwater/quantity"
)

// exhausted mixed with hard tap: see TestOldTankShock.
func shockMix(t testing.TB) Mixed {
	t.Helper()
	tank := Composition{Temperature: 25, Ca: 1, Mg: 0.3, Na: 0.6, K: 0.1, Cl: 1.35, SO4: 0.5, NO3: 1, TAN: 0.2, Alk: 0.15}
	tap, err := GivenPH(hardTap, 7.6)
	if err != nil {
		t.Fatal(err)
	}
	m, err := Blend([]Part{{tank, opened(t, tank, 3e-3).DIC, 60}, {hardTap, tap.DIC, 40}})
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func TestBreathe(t *testing.T) {
	m := shockMix(t)
	air := Air{8e-4, Return.KLCO2(25), 0.36}
	b, err := m.Breathe(air, 12)
	if err != nil {
		t.Fatal(err)
	}
	if !(b.AtOnce.PH < b.Tonight.PH && b.Tonight.PH < b.Settled.PH) {
		t.Errorf("pH at once %.3f, tonight %.3f, settled %.3f", b.AtOnce.PH, b.Tonight.PH, b.Settled.PH)
	}
	if !(b.Settled.FreeAmmonia() > b.Tonight.FreeAmmonia() && b.Tonight.FreeAmmonia() > b.AtOnce.FreeAmmonia()) {
		t.Error("free ammonia must rise as CO2 leaves")
	}
	for _, s := range []Speciation{b.AtOnce, b.Tonight, b.Settled} {
		conserved(t, s)
	}
	zero, err := m.Breathe(air, 0)
	if err != nil || zero.Tonight.PH != zero.AtOnce.PH {
		t.Errorf("after 0 h pH %.6f, at once %.6f (%v)", zero.Tonight.PH, zero.AtOnce.PH, err)
	}
	for _, hours := range []float64{2000, 1e5} {
		long, err := m.Breathe(air, hours)
		if err != nil || math.Abs(float64(long.Tonight.PH-long.Settled.PH)) > 1e-6 {
			t.Errorf("after %g h pH %.7f, settled %.7f (%v)", hours, long.Tonight.PH, long.Settled.PH, err)
		}
	}
}

// TestBreatheWithoutAlkalinity: in water without alkalinity nearly all DIC is CO2, and its excess
// falls by exp(-kL A t/V), a line of arithmetic.
func TestBreatheWithoutAlkalinity(t *testing.T) {
	c := Composition{Temperature: 20, Alk: -0.1, Cl: 0.1} // a little strong acid
	rich := opened(t, c, 1e-2)
	m := Mixed{c, rich.DIC, 100}
	air := Air{4e-4, 2, 0.4}
	b, err := m.Breathe(air, 5)
	if err != nil {
		t.Fatal(err)
	}
	rate := 2.0 / 100 * 0.4 / 0.1 // m/h times m2 over m3
	want := 4e-4 + (1e-2-4e-4)*math.Exp(-rate*5)
	near(t, "pCO2 after 5 h", float64(b.Tonight.PCO2)/want, 1, 0.005)
}

func TestDissolve(t *testing.T) {
	soft := Composition{Temperature: 25, Ca: 0.2, Alk: 0.4}
	surface := quantity.SquareMetres(0.01) // per litre: coarse coral gravel
	var last quantity.PH
	for _, hours := range []float64{0.1, 1, 10, 100, 1e5} {
		s, err := Dissolve(soft, Aragonite, 2e-3, surface, 10, hours)
		if err != nil {
			t.Fatal(err)
		}
		if !(s.PH >= last) || s.SIAragonite() > 1e-6 {
			t.Errorf("after %g h: pH %.3f before, %.3f now, SI %.4f", hours, last, s.PH, s.SIAragonite())
		}
		last = s.PH
	}
	rest, err := EquilibrateOpen(soft, Aragonite, 2e-3)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "in the end", float64(last), float64(rest.Speciation.PH), 1e-3)
	// First moment: amount = rate x time.
	s, err := Dissolve(soft, Aragonite, 2e-3, surface, 10, 0.01)
	if err != nil {
		t.Fatal(err)
	}
	at0 := opened(t, soft, 2e-3)
	near(t, "at first", float64(s.Composition.Ca-soft.Ca)/(0.01*float64(surface)*at0.DissolutionRate(Aragonite, 10)), 1, 0.02)
}

// TestDissolutionRate: the paper's rate constants at 25 C are k1 0.051 cm/s, k2 3.45e-5 cm/s and
// k3 1.19e-7 mmol/cm2/s (Plummer, Wigley and Parkhurst 1978, from memory); here with the activities
// of the water itself.
func TestDissolutionRate(t *testing.T) {
	s := opened(t, Composition{Temperature: 25, Ca: 0.2, Alk: 0.4}, 0.03)
	perCm2 := s.DissolutionRate(Calcite, 1) / (1e4 * 3600) / (1 - math.Pow(10, 2./3*s.SICalcite()))
	want := 0.051*math.Pow(10, -float64(s.PH)) + 3.45e-5*float64(s.Species.CO2)*1e-3 + 1.19e-7
	near(t, "forward rate over the paper's", perCm2/want, 1, 0.01)
	acid := opened(t, Composition{Temperature: 25, Ca: 0.2, Cl: 1.4, Alk: -1}, 4e-4) // pH 3: k1 rules
	near(t, "forward rate in acid", acid.DissolutionRate(Calcite, 1)/(1e4*3600)/(0.051*math.Pow(10, -float64(acid.PH))), 1, 0.02)
	// The two branches of k3 meet at 25 C.
	v := rateTab.Value
	near(t, "k3 at 25 C", v("PWP k3 cold, a")+v("PWP k3 cold, c")/298.15, v("PWP k3 warm, a")+v("PWP k3 warm, c")/298.15, 0.005)
	if got := s.DissolutionRate(Calcite, 10); math.Abs(got*10-s.DissolutionRate(Calcite, 1)) > 1e-9 {
		t.Error("a biofilm of 10 must slow it tenfold")
	}
}

func TestEquilibria(t *testing.T) {
	for _, m := range []Mineral{Calcite, Aragonite, Vaterite, Gypsum} {
		tap := opened(t, hardTap, 4.2e-4)
		e, err := EquilibrateClosed(hardTap, tap.DIC, m)
		if err != nil {
			t.Fatal(err)
		}
		near(t, m.String()+" at rest", e.Speciation.SI(m), 0, 1e-6)
		conserved(t, e.Speciation)
		if (tap.SI(m) > 0) != (e.Dissolved < 0) {
			t.Errorf("%s: SI %.2f, dissolved %g", m, tap.SI(m), e.Dissolved)
		}
		carbon := e.Dissolved
		if m == Gypsum {
			carbon = 0
		}
		near(t, m.String()+": carbon kept", float64(e.Speciation.DIC-tap.DIC-carbon), 0, 1e-9)
	}
}

func TestLimits(t *testing.T) {
	for cl, want := range map[quantity.MgPerL]quantity.Nitrite{0: 0.02, 1.9: 0.02, 2: 0.04, 7: 0.08, 11: 0.12, 50: 0.2} {
		near(t, "nitrite limit", float64(NitriteLimit(cl)), float64(want), 1e-12)
	}
	for n, want := range map[quantity.Nitrate]NitrateClass{1: NitrateLow, 2.5: NitrateSensitive, 5: NitrateOrdinary, 11: NitrateHigh, 130: NitrateVeryHigh} {
		if got := ClassOfNitrate(n); got != want {
			t.Errorf("%v mg N/L: class %d, want %d", n, got, want)
		}
	}
	for mg, want := range map[float64]NitrateClass{13: NitrateSensitive, 13.05: NitrateOrdinary, 550: NitrateHigh, 551: NitrateVeryHigh} {
		if got := ClassOfNitrate(quantity.NitrateAsNO3(mg)); got != want {
			t.Errorf("%v mg NO3/L: class %d, want %d", mg, got, want)
		}
	}
	// 100 L at 1.5 mg/L: 1.05 g, with the margin 1.365 g (7.0 mg/mg by stoichiometry).
	near(t, "thiosulfate", float64(Thiosulfate(1.5, 100)), 1.05*1.3, 0.001)
	near(t, "ascorbic acid", float64(AscorbicAcid(1, 1000)), 2.48, 0.01)
}

// TestBufferIntensity against the textbook closed form for a plain bicarbonate water,
// 2.303 (DIC K1 h/(K1 + h)^2 + h + OH) with conditional constants (Stumm and Morgan, Aquatic
// Chemistry, from memory), at a pH where carbonate is nothing.
func TestBufferIntensity(t *testing.T) {
	c := Composition{Temperature: 25, Na: 2, Alk: 2}
	s, err := GivenPH(c, 6.8)
	if err != nil {
		t.Fatal(err)
	}
	got, err := s.BufferIntensity()
	if err != nil {
		t.Fatal(err)
	}
	a := float64((s.Species.HCO3 + s.Species.NaHCO3) / s.DIC)
	want := math.Ln10 * float64(s.DIC) * a * (1 - a)
	near(t, "buffer intensity", float64(got)/want, 1, 0.01)
}

func TestSplitAddsUp(t *testing.T) {
	s := opened(t, fullTank, 2e-3)
	p := s.AlkalinitySplit()
	sum := p.Carbonate + p.Organic + p.Phosphate + p.Ammonia + p.Water
	near(t, "parts", float64(sum/fullTank.Alk), 1, 1e-9)
	// 10 mg/L of organic carbon put about 0.044 meq/L into a titrated KH at pH 7 (from the model).
	c := Composition{Temperature: 25, Ca: 0.5, Alk: 1, DOC: 10}
	g, err := GivenPH(c, 7)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "organic part of a titrated KH", float64(g.Titrated().Organic), 0.044, 0.0005)
	q := g.Titrated()
	near(t, "titrated KH", (q.Carbonate + q.Organic + q.Phosphate + q.Ammonia + q.Water).meq(), c.KH().Meq(), 1e-9)
}

func (e Equivalents) meq() float64 { return float64(e) }
