package dynamics

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"halfwater/water"
)

// TestFastAcidSide holds pH, EC and inorganic carbon of this package to the full speciation of package water,
// over waters of plausible content.
func TestFastAcidSide(t *testing.T) {
	worstPH, worstEC, worstDIC := 0.0, 0.0, 0.0
	c, p := weekly(1, 100, 0, 0), Book()
	rapid.Check(t, func(t *rapid.T) {
		c.Pieces[0].Temp = rapid.Float64Range(10, 32).Draw(t, "temp")
		p[TankCO2] = math.Exp(rapid.Float64Range(math.Log(3e-4), math.Log(6e-3)).Draw(t, "ln co2"))
		w := anyWater(t, "water")
		w.Chloramine = 0
		s := c.Fill(&p, w)
		exact, err := s.Exact()
		if err != nil {
			t.Skip(err)
		}
		pH := math.Abs(float64(s.PH() - exact.PH))
		ec := math.Abs(float64(s.EC()/exact.EC25() - 1))
		h, side, warm := s.acid()
		dic := math.Abs(side.dic(h, s.PCO2, &warm)/float64(exact.DIC) - 1)
		worstPH, worstEC, worstDIC = max(worstPH, pH), max(worstEC, ec), max(worstDIC, dic)
		limit := 0.03
		if w.Alk < 0.2 { // next to no buffer
			limit = 0.1
		}
		if pH > limit || float64(exact.EC25()) > 30 && ec > 0.03 || dic > 0.05 {
			t.Errorf("pH %.3f for %.3f, EC %.1f for %.1f, DIC off by %.2g", s.PH(), exact.PH, s.EC(), exact.EC25(), dic)
		}
	})
	t.Logf("worst: pH %.4f, EC %.2g %%, DIC %.2g %%", worstPH, 100*worstEC, 100*worstDIC)
}

// TestReferenceTap: the reference tap water of the design's section 1.4, 25 C: pH 8.61 at 420 ppm.
func TestReferenceTap(t *testing.T) {
	c, p := weekly(1, 100, 0, 0), Book()
	p[TankCO2] = 4.2e-4
	w := Water{Ca: 2, Mg: 0.5, Na: 1, K: 0.05, Cl: 1.2, SO4: 0.6, NO3: 0.35 * molarN, Volume: 1, Temp: 25}
	w.Alk = 2*w.Ca + 2*w.Mg + w.Na + w.K - w.Cl - 2*w.SO4 - 0.35
	s := c.Fill(&p, w)
	if pH := s.PH(); math.Abs(float64(pH)-8.61) > 0.03 {
		t.Error("pH", pH)
	}
	exact, err := s.Exact()
	if err != nil {
		t.Fatal(err)
	}
	near(t, "EC", float64(s.EC()), float64(exact.EC25()), 0.01)
	near(t, "KH", float64(s.KH()), 9.25, 0.002)
	near(t, "GH", float64(s.GH()), 14.0, 0.002)
}

// TestOldTankShock: an exhausted tank after a 40 % change with the reference tap: pH 6.48 before, 7.36 at once,
// free ammonia 0.0048, then 0.022 mg N/L (check values S10-001 to S10-004, self-computed elsewhere).
func TestOldTankShock(t *testing.T) {
	c, p := weekly(2, 100, 0, 0), Book()
	p[TankCO2] = 3e-3
	c.Pieces[0].Evaporation = 0
	tank := Water{Ca: 1, Mg: 0.3, Na: 0.6, K: 0.1, Cl: 1.35, SO4: 0.5, NO3: molarN, TAN: 0.2 * molarN, Alk: 0.15, Volume: 1, Temp: 25}
	s := c.Fill(&p, tank)
	pour := water.Composition{Temperature: 25, Ca: 2, Mg: 0.5, Na: 1, K: 0.05, Cl: 1.2, SO4: 0.6, NO3: 0.35}
	pour.Alk = pour.StrongIonBalance()
	known, err := water.GivenPH(pour, 7.6)
	if err != nil {
		t.Fatal(err)
	}
	c.Events = []Event{{Day: 1e-9, Kind: Poured, Out: 40, In: 40, ToMark: true, Pour: waterOf(pour, water.Stated(known.DIC))}}
	d := Deviations{}
	e := c.Run(&p, &d, s, 2e-9, nil, nil, Careful)
	for _, x := range []struct {
		what           string
		got, want, off float64
	}{
		{"pH before", float64(s.PH()), 6.48, 0.03},
		{"pH after", float64(e.PH()), 7.36, 0.03},
		{"NH3 before", float64(s.FreeAmmonia()), 0.0048, 0.0004},
		{"NH3 after", float64(e.FreeAmmonia()), 0.0216, 0.0018},
	} {
		if math.Abs(x.got-x.want) > x.off {
			t.Errorf("%s: %.4g, want %.4g", x.what, x.got, x.want)
		}
	}
}

// TestTheHour: the state at the hour swings about the state of the day and agrees with it in the mean; oxygen is
// lowest at dawn, highest in the last lit hours, pH with it, ammonia highest after the meal.
func TestTheHour(t *testing.T) {
	c := weekly(30, 100, 60, 0)
	p, d := Book(), c.Deviations()
	p[Uptake] = 0.2
	s := c.Run(&p, &d, c.Mature(&p, neutral(tap), 0.2, 0.5), 20, nil, nil, Careful)
	var o2, tan float64
	low, high, dawn, dusk, most, meal := math.Inf(1), 0.0, 0.0, 0.0, 0.0, 0.0
	const n = 240
	for i := range n {
		hour := 24 * float64(i) / n
		x := c.AtHour(&p, &d, s, hour)
		o2 += x.Oxygen / n
		tan += x.TAN / n
		if x.Oxygen < low {
			low, dawn = x.Oxygen, hour
		}
		if x.Oxygen > high {
			high, dusk = x.Oxygen, hour
		}
		if x.TAN > most {
			most, meal = x.TAN, hour
		}
	}
	near(t, "mean oxygen", o2, s.Oxygen, 0.001)
	near(t, "mean ammonia", tan, s.TAN, 0.02)
	if math.Abs(dawn-c.Light.On) > 0.2 || math.Abs(dusk-c.Light.On-c.Light.Hours) > 0.2 || meal < c.Light.Meal-0.2 && meal > 3 {
		t.Errorf("dawn %.1f, dusk %.1f, meal %.1f", dawn, dusk, meal)
	}
	morning, evening := c.AtHour(&p, &d, s, dawn), c.AtHour(&p, &d, s, dusk)
	swing := float64(evening.PH() - morning.PH())
	t.Logf("oxygen %.1f to %.1f mg/L, pH %.2f to %.2f, TAN up to %.3f of %.3f", low/s.Volume, high/s.Volume, morning.PH(), evening.PH(), most/s.Volume, s.TAN/s.Volume)
	if swing < 0.05 || swing > 1.2 { // a planted, lit tank swings by 0.3 to 1 (common practice)
		t.Errorf("pH swings by %.2f", swing)
	}
}

// TestOnOff compares the periodic closed form with Euler steps of the same equation.
func TestOnOff(t *testing.T) {
	const n, k, lit = 20000, 7.0, 0.4
	y := 0.0
	for day := range 20 {
		for i := range n {
			at := float64(i) / n
			u := -1.0
			if at < lit {
				u = 1/lit - 1
			}
			if day == 19 && i%1000 == 0 && math.Abs(y-onOff(at, lit, k)) > 1e-3 {
				t.Errorf("at %.2f: %.4f, stepped %.4f", at, onOff(at, lit, k), y)
			}
			y += (u - k*y) / n
		}
	}
}
