package water

import (
	"errors"
	"math"
	"testing"

	"halfwater/quantity"

	"pgregory.net/rapid"
)

// anyWater draws an electroneutral composition from nearly nothing to brackish.
func anyWater(r *rapid.T) Composition {
	amount := func(name string, top float64) Molality {
		if rapid.IntRange(0, 5).Draw(r, name+"?") == 0 {
			return 0
		}
		return Molality(top * math.Pow(10, rapid.Float64Range(-5, 0).Draw(r, name)))
	}
	c := Composition{
		Temperature: quantity.Celsius(rapid.Float64Range(0, 40).Draw(r, "t")),
		Ca:          amount("Ca", 15), Mg: amount("Mg", 15), Na: amount("Na", 40), K: amount("K", 10),
		Cl: amount("Cl", 40), SO4: amount("SO4", 15), NO3: amount("NO3", 5), NO2: amount("NO2", 1),
		TAN: amount("TAN", 2), PO4: amount("PO4", 1), DOC: quantity.MgPerL(amount("DOC", 50)),
	}
	alk := amount("Alk", 15)
	if left := c.StrongIonBalance() - Equivalents(alk); left > 0 {
		c.Cl += Molality(left)
	} else {
		c.Na -= Molality(left)
	}
	c.Alk = c.StrongIonBalance()
	return c
}

// conserved checks that the species are the totals and carry no charge, to 1e-12 of the whole, and
// that the alkalinity of the species is the one given, to 1e-9 of the larger of it and 1e-6 eq/kg.
func conserved(t interface{ Fatalf(string, ...any) }, s Speciation) {
	c, x := s.Composition, s.Species
	sum := func(name string, total Molality, parts ...Molality) {
		var all Molality
		for _, p := range parts {
			if !(p >= 0) {
				t.Fatalf("%s: a species is %g", name, p)
			}
			all += p
		}
		if math.Abs(float64(all-total)) > 1e-12*float64(total)+1e-290 { // floats themselves end at 1e-308
			t.Fatalf("%s: species make %.17g of %.17g", name, all, total)
		}
	}
	sum("Ca", c.Ca, x.Ca, x.CaOH, x.CaHCO3, x.CaCO3, x.CaSO4, x.CaPO4, x.CaHPO4, x.CaH2PO4)
	sum("Mg", c.Mg, x.Mg, x.MgOH, x.MgHCO3, x.MgCO3, x.MgSO4, x.MgPO4, x.MgHPO4, x.MgH2PO4)
	sum("Na", c.Na, x.Na, x.NaHCO3, x.NaCO3, x.NaSO4, x.NaHPO4)
	sum("K", c.K, x.K, x.KSO4, x.KHPO4)
	sum("TAN", c.TAN, x.NH3, x.NH4, x.NH4SO4)
	sum("SO4", c.SO4, x.SO4, x.HSO4, x.CaSO4, x.MgSO4, x.NaSO4, x.KSO4, x.NH4SO4)
	sum("PO4", c.PO4, x.PO4, x.HPO4, x.H2PO4, x.H3PO4, x.CaPO4, x.CaHPO4, x.CaH2PO4, x.MgPO4, x.MgHPO4, x.MgH2PO4, x.NaHPO4, x.KHPO4)

	alk := Equivalents(x.HCO3 + x.CaHCO3 + x.MgHCO3 + x.NaHCO3 + 2*(x.CO3+x.CaCO3+x.MgCO3+x.NaCO3) + x.OH - x.H +
		x.NH3 + x.CaOH + x.MgOH - x.HSO4 + x.HPO4 + x.CaHPO4 + x.MgHPO4 + x.NaHPO4 + x.KHPO4 + 2*(x.PO4+x.CaPO4+x.MgPO4) - x.H3PO4)
	alk += x.Organic
	if off := math.Abs(float64(alk - c.Alk)); off > 1e-9*max(math.Abs(float64(c.Alk)), 1e-3) {
		t.Fatalf("alkalinity of the species %.12g, given %.12g meq/kg", alk, c.Alk)
	}
	plus := x.H + 2*x.Ca + x.CaOH + x.CaHCO3 + x.CaH2PO4 + 2*x.Mg + x.MgOH + x.MgHCO3 + x.MgH2PO4 + x.Na + x.K + x.NH4
	minus := x.OH + x.HCO3 + 2*x.CO3 + x.CaPO4 + x.MgPO4 + x.NaCO3 + x.NaSO4 + x.NaHPO4 + x.KSO4 + x.KHPO4 + x.NH4SO4 +
		2*x.SO4 + x.HSO4 + 3*x.PO4 + 2*x.HPO4 + x.H2PO4 + x.Cl + x.NO3 + x.NO2 + Molality(x.Organic)
	if _, share := c.ChargeImbalance(); math.Abs(float64(share)) < 1e-13 && math.Abs(float64(plus-minus)) > 1e-12*float64(plus+minus) {
		t.Fatalf("charge: %.15g plus, %.15g minus", plus, minus)
	}
}

func TestConservation(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		c := anyWater(r)
		s, err := Open(c, quantity.Atm(math.Pow(10, rapid.Float64Range(-5, -1).Draw(r, "pCO2"))))
		if err != nil {
			r.Fatal(err)
		}
		conserved(r, s)
		// The three poses agree: what Open found, Closed finds from its DIC and GivenPH from its pH, as
		// far as the ionic strength is settled (a millionth, in odd waters a hundred-thousandth).
		d, err := Closed(c, s.DIC)
		if err != nil {
			r.Fatal(err)
		}
		conserved(r, d)
		if math.Abs(float64(d.PH-s.PH)) > 1e-5 {
			r.Fatalf("closed pH %.9f, open %.9f", d.PH, s.PH)
		}
		g, err := GivenPH(c, s.PH)
		if err != nil {
			r.Fatal(err)
		}
		conserved(r, g)
		// DIC follows from what the alkalinity leaves to the carbonate; where that is little, so are
		// the digits.
		x := s.Species
		carbonate := float64(x.HCO3 + x.CaHCO3 + x.MgHCO3 + x.NaHCO3 + x.CO3)
		parts := math.Abs(float64(c.Alk)) + float64(x.H+x.OH+c.TAN+c.PO4) + float64(x.Organic)
		if math.Abs(float64(g.DIC/s.DIC)-1) > 1e-5*(1+parts/carbonate) {
			r.Fatalf("DIC given pH %.9g, open %.9g", g.DIC, s.DIC)
		}
	})
}

func TestBlendProperties(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		parts := make([]Part, 3)
		for i := range parts {
			c := anyWater(r)
			s, err := Open(c, quantity.Atm(math.Pow(10, rapid.Float64Range(-4, -1.5).Draw(r, "pCO2"))))
			if err != nil {
				r.Fatal(err)
			}
			parts[i] = Part{c, s.DIC, quantity.Litres(rapid.Float64Range(0.1, 100).Draw(r, "litres"))}
		}
		blend := func(p ...Part) Part {
			m, err := Blend(p)
			if err != nil {
				r.Fatal(err)
			}
			return m.Part()
		}
		a, b, c := parts[0], parts[1], parts[2]
		all := blend(a, b, c)
		for _, other := range []Part{blend(c, a, b), blend(b, c, a), blend(blend(a, b), c), blend(a, blend(b, c))} {
			if !nearly(all, other) {
				r.Fatalf("order matters: %+v and %+v", all, other)
			}
		}
		// A mix of a water with itself is itself.
		if self := blend(a, a); !nearly(Part{self.Composition, self.DIC, a.Litres}, a) {
			r.Fatalf("a water with itself: %+v and %+v", self, a)
		}
		s, err := Closed(a.Composition, a.DIC)
		if err != nil {
			r.Fatal(err)
		}
		// pH rises when CO2 leaves.
		after, err := Closed(a.Composition, a.DIC-0.5*s.Species.CO2)
		if err != nil {
			r.Fatal(err)
		}
		if s.Species.CO2 > 1e-6 && !(after.PH > s.PH) {
			r.Fatalf("pH %.9f before, %.9f after CO2 left", s.PH, after.PH)
		}
	})
}

func nearly(a, b Part) bool {
	x, y := a.Composition, b.Composition
	for _, p := range [...][2]float64{
		{float64(x.Temperature), float64(y.Temperature)},
		{float64(x.Ca), float64(y.Ca)},
		{float64(x.Mg), float64(y.Mg)},
		{float64(x.Na), float64(y.Na)},
		{float64(x.K), float64(y.K)},
		{float64(x.Cl), float64(y.Cl)},
		{float64(x.SO4), float64(y.SO4)},
		{float64(x.NO3), float64(y.NO3)},
		{float64(x.NO2), float64(y.NO2)},
		{float64(x.TAN), float64(y.TAN)},
		{float64(x.PO4), float64(y.PO4)},
		{float64(x.DOC), float64(y.DOC)},
		{float64(a.DIC), float64(b.DIC)},
		{float64(a.Litres), float64(b.Litres)},
		{float64(x.Alk), float64(y.Alk)},
	} {
		if math.Abs(p[0]-p[1]) > 1e-12*(math.Abs(p[0])+1e-3) {
			return false
		}
	}
	return true
}

// ordinary is the span in which a water must be answered, not only refused with a typed error.
func ordinary(c Composition) bool {
	return max(c.Ca, c.Mg, c.SO4) <= 50 && c.PO4 <= 10 && max(c.Na, c.K, c.Cl) <= 600 && math.Abs(float64(c.Alk)) <= 50
}

// FuzzSpeciation: any finite composition is answered or refused with a typed error; nothing
// panics, loops or comes out NaN.
func FuzzSpeciation(f *testing.F) {
	f.Add(25.0, 2.0, 0.5, 1.0, 0.05, 1.2, 0.6, 0.35, 0.0, 0.0, 0.0, 3.3, 0.0, 7.6, -3.4, 3.4)
	f.Add(0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 7.0, -3.4, 0.0)
	f.Add(40.0, 700.0, 0.0, 0.0, 0.0, 0.0, 700.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 9.0, 0.9, 500.0)
	f.Add(25.0, 1.0, 1.0, 1.0, 1.0, 1.0, 1.0, 1.0, 1.0, 1.0, 500.0, -400.0, 900.0, 2.0, -9.0, 1e-9)
	f.Add(45.0, 1e-300, 1e-9, 300.0, 5e-324, 0.0, 0.0, 0.0, 0.0, 80.0, 90.0, 1e-12, 0.0, 11.9, -1.0, 900.0)
	f.Add(5.0, 400.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 400.0, 800.0, 0.0, 12.0, -1.0, 400.0)
	f.Fuzz(func(t *testing.T, temp, ca, mg, na, k, cl, so4, no3, no2, tan, po4, alk, doc, ph, logp, dic float64) {
		c := Composition{
			quantity.Celsius(temp), Molality(ca), Molality(mg), Molality(na), Molality(k), Molality(cl), Molality(so4), Molality(no3),
			Molality(no2), Molality(tan), Molality(po4), Equivalents(alk), quantity.MgPerL(doc),
		}
		answer := func(name string, s Speciation, err error) {
			if err != nil {
				if errors.As(err, new(NotSettled)) && ordinary(c) {
					t.Fatalf("%s: %v: %+v", name, err, c)
				}
				if !errors.As(err, new(OutOfSpan)) && !errors.As(err, new(Contradiction)) && !errors.As(err, new(NoPH)) && !errors.As(err, new(NotSettled)) {
					t.Fatalf("%s: untyped error %v", name, err)
				}
				return
			}
			conserved(t, s)
			for what, x := range map[string]float64{
				"pH": float64(s.PH), "DIC": float64(s.DIC), "pCO2": float64(s.PCO2), "I": s.IonicStrength,
				"EC": float64(s.EC()), "EC25": float64(s.EC25()), "NH3": float64(s.FreeAmmonia()),
			} {
				if math.IsNaN(x) || math.IsInf(x, 0) {
					t.Fatalf("%s: %s is %g: %+v", name, what, x, c)
				}
			}
		}
		s, err := GivenPH(c, quantity.PH(ph))
		answer("given pH", s, err)
		s, err = Open(c, quantity.Atm(math.Pow(10, logp)))
		answer("open", s, err)
		s, err = Closed(c, Molality(dic))
		answer("closed", s, err)
	})
}

// TestOrdinaryIsAnswered: inside the ordinary span no water is left unsettled, be it never so odd.
func TestOrdinaryIsAnswered(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		amount := func(name string, top float64) Molality {
			return Molality(top * math.Pow(10, rapid.Float64Range(-8, 0).Draw(r, name)))
		}
		c := Composition{
			Temperature: quantity.Celsius(rapid.Float64Range(-1, 45).Draw(r, "t")),
			Ca:          amount("Ca", 50), Mg: amount("Mg", 50), Na: amount("Na", 400), K: amount("K", 100), Cl: amount("Cl", 400),
			SO4: amount("SO4", 50), NO3: amount("NO3", 20), NO2: amount("NO2", 5), TAN: amount("TAN", 50), PO4: amount("PO4", 10),
			DOC: quantity.MgPerL(amount("DOC", 200)), Alk: Equivalents(rapid.Float64Range(-50, 50).Draw(r, "alk")),
		}
		see := func(s Speciation, err error) {
			if err == nil {
				conserved(r, s)
			} else if !errors.As(err, new(OutOfSpan)) && !errors.As(err, new(Contradiction)) && !errors.As(err, new(NoPH)) {
				r.Fatal(err)
			}
		}
		see(GivenPH(c, quantity.PH(rapid.Float64Range(2, 12).Draw(r, "pH"))))
		see(Open(c, quantity.Atm(math.Pow(10, rapid.Float64Range(-8, 0.9).Draw(r, "pCO2")))))
		see(Closed(c, amount("DIC", 1000)))
	})
}

// TestSlowRoadAgrees: the bracket behind the quick road finds the same pH by itself.
func TestSlowRoadAgrees(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		c := anyWater(r)
		p := quantity.Atm(math.Pow(10, rapid.Float64Range(-5, -1).Draw(r, "pCO2")))
		quick, err := Open(c, p)
		if err != nil {
			r.Fatal(err)
		}
		var w state
		w.set(&c, Model{})
		if !w.bracket(&c, open, float64(p)*w.thermal[iHenry]) {
			r.Fatalf("the bracket leaves %g open", w.residual())
		}
		if slow := -math.Log10(w.h); math.Abs(slow-float64(quick.PH)) > 1e-5 {
			r.Fatalf("open: slow %.9f, quick %.9f", slow, quick.PH)
		}
		w.set(&c, Model{})
		if !w.bracket(&c, closed, 1e-3*float64(quick.DIC)) {
			r.Fatalf("the bracket leaves %g open", w.residual())
		}
		if slow := -math.Log10(w.h); math.Abs(slow-float64(quick.PH)) > 1e-5 {
			r.Fatalf("closed: slow %.9f, quick %.9f", slow, quick.PH)
		}
	})
}
