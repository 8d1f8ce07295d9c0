package quantity_test

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"

	"halfwater/internal/published"
	"halfwater/quantity"
)

// Molar masses from the atomic weights; each expected ratio was worked out apart from this package.
func TestMassRatios(t *testing.T) {
	published.Check(t, "S13-001", quantity.Nitrate(1).AsNO3())
	published.Check(t, "S13-002", quantity.Nitrite(1).AsNO2())
	published.Check(t, "S13-003", quantity.TotalAmmonia(1).AsNH4())
	published.Check(t, "S13-004", quantity.FreeAmmonia(1).AsNH3())
	published.Check(t, "S13-005", quantity.OfPO4.InUnit(1, "mg/L", quantity.AsPO4))
}

// The conversions between degrees of hardness that stand in every handbook of water analysis
// (from memory): 1 dGH = 17.85 mg/L CaCO3 = 1.785 fH = 0.1783 mmol/L; 1 dKH = 0.3566 meq/L.
func TestDegreesOfHardness(t *testing.T) {
	for _, c := range []struct {
		name      string
		got, want float64
	}{
		{"mg/L CaCO3", quantity.Hardness(1).CaCO3(), 17.85},
		{"French degrees", quantity.OfGH.InUnit(1, "fH", quantity.NoBasis), 1.785},
		{"mmol/L", quantity.Hardness(1).Mmol(), 0.1783},
		{"meq/L", quantity.Alkalinity(1).Meq(), 0.3566},
	} {
		if math.Abs(c.got/c.want-1) > 0.0005 { // half of the last digit of 0.1783 is 0.0003 of it
			t.Errorf("one German degree is %v %s, not %v", c.got, c.name, c.want)
		}
	}
	published.Check(t, "S11-005", quantity.Hardness(1).CaCO3())
}

// Fixed points of the scales and the exact litres of the two gallons (NIST SP 811, appendix B).
func TestOtherUnits(t *testing.T) {
	for _, c := range []struct {
		name      string
		got, want float64
	}{
		{"freezing water in F", quantity.Celsius(0).Fahrenheit(), 32},
		{"boiling water in F", quantity.Celsius(100).Fahrenheit(), 212},
		{"where the scales meet", float64(quantity.Fahrenheit(-40)), -40},
		{"ten US gallons", float64(quantity.USGallons(10)), 37.85411784},
		{"ten imperial gallons", float64(quantity.ImperialGallons(10)), 45.4609},
		{"US gallons in an imperial one", quantity.ImperialGallons(1).USGallons(), 1.200950},
	} {
		if math.Abs(c.got-c.want) > 5e-7 {
			t.Errorf("%s: %v, not %v", c.name, c.got, c.want)
		}
	}
}

func all() []quantity.Measurand {
	return []quantity.Measurand{
		quantity.OfGH, quantity.OfKH, quantity.OfPH, quantity.OfEC, quantity.OfTAN, quantity.OfNO2,
		quantity.OfNO3, quantity.OfPO4, quantity.OfOxygen, quantity.OfChlorine, quantity.OfChloride,
		quantity.OfCopper, quantity.OfTDS, quantity.OfWaterTemp, quantity.OfAirTemp,
		quantity.OfBaskingTemp, quantity.OfHumidity, quantity.OfUVI, quantity.OfLevel,
	}
}

// What is written in any unit and basis comes back as it was written.
func TestEveryUnitThereAndBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := rapid.SampledFrom(all()).Draw(t, "measurand")
		unit := rapid.SampledFrom(m.Units()).Draw(t, "unit")
		basis := quantity.NoBasis
		if b := m.Bases(); len(b) > 0 {
			basis = rapid.SampledFrom(b).Draw(t, "basis")
		}
		canonical := rapid.Float64Range(m.Span().Lo, m.Span().Hi).Draw(t, "canonical")
		written := m.InUnit(canonical, unit, basis)
		back, err := m.Canonical(written, unit, basis)
		var out quantity.OutOfSpan
		if errors.As(err, &out) && (canonical-m.Span().Lo < 1e-9 || m.Span().Hi-canonical < 1e-9) {
			return // at the very end of the span rounding may fall outside
		}
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(back-canonical) > 1e-12*(1+math.Abs(canonical)) {
			t.Fatalf("%s %v %s %s came back as %v, not %v", m, written, unit, basis, back, canonical)
		}
	})
}

func TestWhatCannotBeIsRefused(t *testing.T) {
	_, err := quantity.OfNO3.Canonical(10, "mg/L", quantity.NoBasis)
	if want := (quantity.BasisMissing{Of: quantity.OfNO3}); err != want {
		t.Errorf("nitrate without a basis: %v", err)
	}
	_, err = quantity.OfTAN.Canonical(1, "mg/L", quantity.AsNO3)
	if want := (quantity.BasisMissing{Of: quantity.OfTAN, Basis: quantity.AsNO3}); err != want {
		t.Errorf("ammonia counted as nitrate: %v", err)
	}
	for _, x := range []float64{14.5, -1, math.NaN(), math.Inf(1)} {
		var out quantity.OutOfSpan
		if _, err := quantity.OfPH.Canonical(x, "pH", quantity.NoBasis); !errors.As(err, &out) {
			t.Errorf("pH %v: %v", x, err)
		}
	}
	if _, err := quantity.OfKH.Canonical(-1, "dKH", quantity.NoBasis); err == nil {
		t.Error("a KH of -1 passes")
	}
	if _, err := quantity.OfGH.Canonical(5, "", quantity.NoBasis); err != (quantity.UnknownUnit{Of: quantity.OfGH}) {
		t.Errorf("a bare number: %v", err)
	}
	if _, err := quantity.Measurand("silver").Canonical(5, "mg/L", quantity.NoBasis); err != (quantity.UnknownMeasurand{Name: "silver"}) {
		t.Errorf("silver: %v", err)
	}
}

func TestRangesMeet(t *testing.T) {
	a, b := quantity.Range[quantity.PH]{Lo: 6, Hi: 7.5}, quantity.Range[quantity.PH]{Lo: 7, Hi: 8}
	if got := a.Meet(b); got != (quantity.Range[quantity.PH]{Lo: 7, Hi: 7.5}) {
		t.Errorf("they meet in %v", got)
	}
	if !a.Meet(quantity.Range[quantity.PH]{Lo: 8, Hi: 9}).Empty() {
		t.Error("ranges apart do not meet in an empty one")
	}
	if !(quantity.Range[quantity.PH]{Lo: quantity.PH(math.NaN()), Hi: 7}).Empty() {
		t.Error("a range with an end that is no number holds something")
	}
}

func FuzzReadNumber(f *testing.F) {
	for _, s := range []string{"6,8", "6.8", " 12 ", "1.234,5", "1e400", "NaN", "", "-", "٣", "0x1p3", "1_000", "½"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		x, err := quantity.ReadNumber(text)
		var not quantity.NotANumber
		if err != nil && !errors.As(err, &not) {
			t.Fatalf("%q: %T", text, err)
		}
		if err == nil && (math.IsNaN(x) || math.IsInf(x, 0)) {
			t.Fatalf("%q reads as %v", text, x)
		}
	})
}

// Units in sentences are those that people write, and both ways of writing are read.
func TestUnitsInWords(t *testing.T) {
	for err, want := range map[error]string{
		quantity.OutOfSpan{Of: quantity.OfPH, X: 14.5, Unit: "pH"}:       "pH 14.5 cannot be: it lies outside 2 to 12",
		quantity.OutOfSpan{Of: quantity.OfWaterTemp, X: 75, Unit: "Cel"}: "water temperature 75 °C cannot be: it lies outside -1 to 45 °C",
		quantity.UnknownUnit{Of: quantity.OfWaterTemp, Unit: "K"}:        `water temperature in unit "K": use one of °C, °F`,
		quantity.UnknownUnit{Of: quantity.OfEC, Unit: "S"}:               `EC in unit "S": use one of µS/cm, mS/cm`,
	} {
		if err.Error() != want {
			t.Errorf("%q, not %q", err, want)
		}
	}
	for _, of := range []quantity.Measurand{quantity.OfWaterTemp, quantity.OfEC, quantity.OfLevel} {
		for _, u := range of.UnitWords() {
			if _, err := of.Canonical(40, u, ""); err != nil {
				t.Error(err)
			}
		}
	}
}

// What nobody knows the basis of stands for all from the least to the greatest that it may be.
func TestStands(t *testing.T) {
	const ion = 14.007 / (14.007 + 3*15.999) // IUPAC 2021
	for _, c := range []struct {
		of     quantity.Measurand
		x      float64
		basis  quantity.Basis
		lo, hi float64
	}{
		{quantity.OfNO3, 10, quantity.NotStated, 10 * ion, 10},
		{quantity.OfNO3, 10, quantity.AsNO3, 10 * ion, 10 * ion},
		{quantity.OfNO3, 900, quantity.NotStated, 900 * ion, 900 * ion}, // as N it cannot be
		{quantity.OfTAN, 1, quantity.NotStated, 14.007 / (14.007 + 4*1.008), 1},
	} {
		r, err := c.of.Stands(c.x, "mg/L", c.basis)
		if err != nil || math.Abs(r.Lo-c.lo) > 1e-9 || math.Abs(r.Hi-c.hi) > 1e-9 {
			t.Errorf("%s %g %s: %v, %v, want %g to %g", c.of, c.x, c.basis, r, err, c.lo, c.hi)
		}
	}
	var span quantity.OutOfSpan
	if _, err := quantity.OfNO3.Stands(9000, "mg/L", quantity.NotStated); !errors.As(err, &span) {
		t.Errorf("9000 mg/L: %v", err)
	}
	var missing quantity.BasisMissing
	if _, err := quantity.OfNO3.Stands(10, "mg/L", quantity.NoBasis); !errors.As(err, &missing) {
		t.Errorf("no basis and nobody asked: %v", err)
	}
	if _, err := quantity.OfNO3.Canonical(10, "mg/L", quantity.NotStated); !errors.As(err, &missing) {
		t.Errorf("a number of one value: %v", err)
	}
}
