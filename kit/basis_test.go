package kit_test

import (
	"errors"
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"halfwater/kit"
	"halfwater/quantity"
)

// A card that does not say what its mg/L count says as much as both cards together, and no less.
func TestBasisNotStated(t *testing.T) {
	const ion = 14.007 / (14.007 + 3*15.999) // mg N per mg NO3, IUPAC 2021
	open := nitrate.On(quantity.NotStated)
	if err := open.Check(); err != nil {
		t.Fatal(err)
	}
	for shown, want := range map[string][2]float64{
		"10":                {math.Sqrt(50) * ion, math.Sqrt(250)}, // 7.1 as NO3 to 15.8 as N
		"0":                 {0, 2.5},
		"between 10 and 25": {10 * ion, 25},
	} {
		iv, err := open.Read(shown, at)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(iv.Lo-want[0]) > 1e-9 || math.Abs(iv.Hi-want[1]) > 1e-9 || !iv.Noted(kit.BasisNotStated) {
			t.Errorf("%s: %v, want %v; notes %v", shown, iv.Range, want, iv.Notes)
		}
		if len(iv.Ways) != 2 || iv.Ways[0].Basis != quantity.AsN || iv.Ways[1].Basis != quantity.AsNO3 {
			t.Errorf("%s: ways %v", shown, iv.Ways)
		}
	}
	iv, err := kit.Bare(quantity.OfNO2, "0.5", "mg/L", quantity.NotStated)
	if err != nil || len(iv.Ways) != 2 || !iv.Noted(kit.WithoutKit) {
		t.Errorf("a number typed without a kit: %v, %+v", err, iv)
	}
	if _, err := kit.Bare(quantity.OfPH, "7", "pH", quantity.NotStated); err != nil {
		t.Errorf("pH has no basis to be stated: %v", err)
	}
	ph := phPen
	ph.Basis = quantity.NotStated
	if ph.Check() == nil {
		t.Error("a pH pen with a basis passes")
	}
	var wanted kit.BasisWanted
	if _, err := nitrate.On(quantity.NoBasis).Read("10", at); !errors.As(err, &wanted) {
		t.Errorf("nobody was asked yet: %v", err)
	}
}

// TestABasisThatCannotBe: 450 mg/L is possible as NO3 and as N; 900 as NO3 alone, so the question is answered.
func TestABasisThatCannotBe(t *testing.T) {
	pen := kit.Kit{Name: "pen", Of: quantity.OfNO3, Form: kit.Meter, Unit: "mg/L", Basis: quantity.NotStated, Digit: 1}
	for shown, want := range map[string][]quantity.Basis{"450": {quantity.AsN, quantity.AsNO3}, "900": {quantity.AsNO3}} {
		iv, err := pen.Read(shown, at)
		var got []quantity.Basis
		for _, w := range iv.Ways {
			got = append(got, w.Basis)
		}
		if err != nil || !slices.Equal(got, want) {
			t.Errorf("%s: %v, %v", shown, got, err)
		}
	}
	if _, err := pen.Read("9000", at); err == nil {
		t.Error("9000 mg/L passes")
	}
}

// Whatever the basis is, the interval holds what the card says on it.
func TestNotStatedHoldsEveryBasis(t *testing.T) {
	cards := []kit.Kit{
		nitrate,
		{Name: "ammonia", Of: quantity.OfTAN, Form: kit.Card, Unit: "mg/L", Steps: []float64{0, 0.25, 0.5, 1, 2}},
		{Name: "phosphate", Of: quantity.OfPO4, Form: kit.Card, Unit: "mg/L", Steps: []float64{0, 0.25, 0.5, 1, 2}},
	}
	rapid.Check(t, func(t *rapid.T) {
		k := rapid.SampledFrom(cards).Draw(t, "card")
		b := rapid.SampledFrom(k.Of.Bases()).Draw(t, "basis")
		truth := rapid.Float64Range(0, 20).Draw(t, "truth")
		shown := k.On(b).Shows(truth)
		settled, err := k.On(b).Read(shown, at)
		if err != nil {
			t.Fatal(err)
		}
		open, err := k.On(quantity.NotStated).Read(shown, at)
		if err != nil {
			t.Fatal(err)
		}
		if settled.Lo < open.Lo || settled.Hi > open.Hi || !open.Likely.Has(open.Middle) {
			t.Fatalf("%s: %v outside %v", b, settled.Range, open.Range)
		}
	})
}
