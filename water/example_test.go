package water_test

import (
	"errors"
	"fmt"

	"halfwater/quantity"
	"halfwater/water"
)

// A hard tap, 40 % of it poured into an exhausted tank: the pH jumps, and jumps again when the CO2
// has left.
func Example() {
	tap := water.Composition{Temperature: 25, Ca: 2, Mg: 0.5, Na: 1, K: 0.05, Cl: 1.2, SO4: 0.6, NO3: 0.35, Alk: 3.3}
	tank := water.Composition{Temperature: 25, Ca: 1, Mg: 0.3, Na: 0.6, K: 0.1, Cl: 1.35, SO4: 0.5, NO3: 1, TAN: 0.2, Alk: 0.15}
	poured, _ := water.GivenPH(tap, 7.6)
	before, _ := water.Open(tank, 3e-3)
	mixed, _ := water.Blend([]water.Part{
		{Composition: tank, DIC: before.DIC, Litres: 60},
		{Composition: tap, DIC: poured.DIC, Litres: 40},
	})
	atOnce, _ := mixed.Closed()
	settled, _ := mixed.Open(8e-4)
	for _, s := range []water.Speciation{before, atOnce, settled} {
		fmt.Printf("pH %.2f, free ammonia %.3f mg N/L\n", s.PH, s.FreeAmmonia())
	}
	// Output:
	// pH 6.48, free ammonia 0.004 mg N/L
	// pH 7.36, free ammonia 0.020 mg N/L
	// pH 8.01, free ammonia 0.084 mg N/L
}

func ExampleGivenPH() {
	tap := water.Composition{Temperature: 20, Ca: 2, Mg: 0.5, Na: 1, K: 0.05, Cl: 1.2, SO4: 0.6, NO3: 0.35, Alk: 3.3}
	s, err := water.GivenPH(tap, 7.5)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("GH %.1f, KH %.1f, CO2 %.1f mg/L, EC %.0f uS/cm, SI calcite %+.2f\n",
		tap.GH(), tap.KH(), s.CO2(), s.EC25(), s.SICalcite())
	// Output:
	// GH 14.0, KH 9.3, CO2 9.8 mg/L, EC 627 uS/cm, SI calcite +0.15
}

// What is not stated comes back as a band, and what cannot be known is refused.
func ExampleAnalysis_Complete() {
	a := water.Analysis{
		GH: water.Stated(quantity.Hardness(12)), KH: water.Stated(quantity.Alkalinity(8)),
		EC: water.Stated(quantity.Conductivity(520)), NO3: water.Stated(quantity.NitrateAsNO3(15)),
	}
	c, err := a.Complete()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("sodium %.1f (%.1f to %.1f) mmol/L\n", c.Na.Median, c.Na.Lo, c.Na.Hi)

	_, err = water.Analysis{EC: water.Stated(quantity.Conductivity(520))}.Complete()
	var refused water.CannotKnow
	fmt.Println(errors.As(err, &refused), refused.What)
	// Output:
	// sodium 0.7 (0.5 to 0.8) mmol/L
	// true GH
}

func ExampleCompose() {
	tap := water.Source{Name: "tap", Composition: water.Composition{Temperature: 20, Ca: 2, Mg: 0.8, Na: 1.1, Cl: 1.5, SO4: 0.7, Alk: 3.8}}
	ro := water.Source{Name: "RO", Composition: water.Composition{Temperature: 20}}
	r, err := water.Compose(30, []water.Source{tap, ro}, nil, []water.Target{water.Point(water.AimGH, 6), water.Point(water.AimKH, 3)})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f L tap, %.1f L RO: GH %.1f, KH %.1f\n", r.Litres[0], r.Litres[1], r.Mixed.Composition.GH(), r.Mixed.Composition.KH())
	for _, c := range r.Conflicts {
		fmt.Println(c.A, "stands against", c.B)
	}
	// Output:
	// 10.5 L tap, 19.5 L RO: GH 5.5, KH 3.7
	// GH stands against KH
}

func ExampleMixed_Breathe() {
	tap := water.Composition{Temperature: 24, Ca: 2, Mg: 0.5, Na: 1, K: 0.05, Cl: 1.2, SO4: 0.6, NO3: 0.35, Alk: 3.3}
	s, _ := water.GivenPH(tap, 7.2) // from the pipe, full of CO2
	bucket := water.Mixed{Composition: tap, DIC: s.DIC, Litres: 30}
	b, err := bucket.Breathe(water.Air{PCO2: 7e-4, KLCO2: water.Ripple.KLCO2(24), Surface: 0.1}, 12)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("pH %.1f at once, %.1f tonight, %.1f settled\n", b.AtOnce.PH, b.Tonight.PH, b.Settled.PH)
	// Output:
	// pH 7.2 at once, 8.0 tonight, 8.4 settled
}

func ExampleSaltNamed() {
	s, err := water.SaltNamed("MgSO4.7H2O")
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%s: %.2f g/mol, %.1f mg/L for one degree of GH\n", s.Name, s.MolarMass, s.ForHardness(1).Milligrams())
	// Output:
	// magnesium sulfate heptahydrate: 246.47 g/mol, 44.0 mg/L for one degree of GH
}
