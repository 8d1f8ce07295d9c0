package dynamics

import (
	"math"
	"testing"
)

// TestSeepage holds a leak to closed forms of a tracer (chloride) in a water that nobody changes: mass balance,
// no source.
func TestSeepage(t *testing.T) {
	const litres, share = 4. / 7, 0.4 // lost a day, and the share of them that seeps
	p, d := Book(), Deviations{}
	p[Seepage], p[UnwrittenSalt], p[HeldWater] = share, 0, 1

	// The level falls: dn/n = s dV/V, so n goes with V^s and the concentration with V^(s-1).
	c := weekly(28, 100, 40, 0)
	c.Pieces[0].Evaporation = litres
	s := c.Fill(&p, neutral(tap))
	for _, pace := range []Pace{Coarse, Careful} {
		e := c.Run(&p, &d, s, 28, nil, nil, pace)
		near(t, "litres left", e.Volume, 100-28*litres, 1e-9)
		near(t, "chloride left", e.Cl, s.Cl*math.Pow(e.Volume/s.Volume, share), 1e-5)
		near(t, "litres gone", e.Gone.Litres, 28*litres, 1e-9)
	}

	// The level is kept with water of T: V dC/dt = T E - s E C, so C goes to T/s; a vapour alone would thicken for ever.
	c = weekly(7*260, 100, 0, 0)
	c.Pieces[0].Evaporation, c.Pieces[0].TopUp = litres, 1
	c.Events = []Event{{Kind: Template, Pour: neutral(tap)}}
	s = c.Fill(&p, neutral(ro))
	rate := share * litres / 100
	for _, days := range []float64{91, 7 * 260} {
		e := c.Run(&p, &d, s, days, nil, nil, Careful)
		near(t, "chloride where tap water keeps the level", e.Cl/e.Volume, tap.Cl/share+(s.Cl/s.Volume-tap.Cl/share)*math.Exp(-rate*days), 2e-3)
		near(t, "litres", e.Volume, 100, 1e-9)
	}
}

// TestUnwrittenSalt: 0.01 mmol/L/d for half a year is 1.82 mmol/L of sodium chloride more, and some 200 uS/cm
// (126.5 S cm2/mol at infinite dilution, Standard Methods 2510; less at this strength).
func TestUnwrittenSalt(t *testing.T) {
	c := weekly(182, 100, 0, 0)
	c.Pieces[0].Evaporation = 0
	p, d := Book(), Deviations{}
	p[UnwrittenSalt], p[HeldWater] = 0.01, 0.9
	s := c.Fill(&p, neutral(tap))
	e := c.Run(&p, &d, s, 182, nil, nil, Coarse)
	near(t, "chloride", e.Cl/e.Volume-s.Cl/s.Volume, 1.82, 1e-9)
	near(t, "sodium", e.Na/e.Volume-s.Na/s.Volume, 1.82, 1e-9)
	if more := float64(e.EC() - s.EC()); more < 0.8*1.82*126.5 || more > 1.82*126.5 {
		t.Errorf("%g uS/cm more", more)
	}
}
