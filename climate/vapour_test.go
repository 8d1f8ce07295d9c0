package climate

import (
	"encoding/csv"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"pgregory.net/rapid"

	"halfwater/internal/published"
	"halfwater/quantity"
)

func TestSaturationAgainstIAPWS(t *testing.T) {
	for _, r := range published.Read(t, "wagner2002-saturation").Rows {
		kelvin, want := r.Number(t, 0), r.Number(t, 1)
		got := float64(Saturation(quantity.Celsius(kelvin - 273.15)))
		if math.Abs(got-want) > r.HalfDigit(t, 1)+0.00025*want {
			t.Errorf("%g K: %.9g hPa, not %g", kelvin, got, want)
		}
	}
}

func TestSaturationAgainstCheckValues(t *testing.T) {
	for id, celsius := range map[string]quantity.Celsius{"S09-001": 10, "S09-002": 20, "S09-003": 25, "S09-004": 30} {
		published.Check(t, id, float64(Saturation(celsius)))
	}
	for id, celsius := range map[string]quantity.Celsius{"S09-005": 20, "S09-006": 25, "S09-007": 30} {
		published.Check(t, id, float64(SaturationMagnus(celsius)))
	}
	published.Check(t, "S09-008", float64(SaturationSonntag(25)))
	published.Check(t, "S09-009", float64(Air{25, 80}.DewPoint()))
	published.Check(t, "S09-010", float64(Air{25, 50}.DewPoint()))
	published.Check(t, "S09-011", float64(Air{25, 80}.Density()))
}

// Three roads to one line, within what each states.
func TestSaturationRoadsAgree(t *testing.T) {
	for c := quantity.Celsius(0); c <= 35; c += 0.5 {
		s := Saturation(c)
		if d := SaturationMagnus(c)/s - 1; math.Abs(float64(d)) > 0.005 {
			t.Errorf("Magnus at %g C is off by %.3f %%", c, 100*d)
		}
		if d := SaturationSonntag(c)/s - 1; math.Abs(float64(d)) > 0.001 {
			t.Errorf("Sonntag at %g C is off by %.3f %%", c, 100*d)
		}
	}
}

func TestPressureAgainstTheStandardAtmosphere(t *testing.T) {
	for _, r := range published.Read(t, "icao-pressure").Rows {
		if got := float64(PressureAt(quantity.Metres(r.Number(t, 0)))); math.Abs(got-r.Number(t, 1)) > r.HalfDigit(t, 1)+1e-9 {
			t.Errorf("%g m: %.3f hPa, not %g", r.Number(t, 0), got, r.Number(t, 1))
		}
	}
	published.Check(t, "S08-010", float64(PressureAt(1000).Atm()))
}

// Dew point and warming lose no vapour, and full air is at its dew point.
func TestVapourIsKept(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := Air{quantity.Celsius(rapid.Float64Range(0, 40).Draw(t, "t")), quantity.Humidity(rapid.Float64Range(1, 100).Draw(t, "rh"))}
		dew := a.DewPoint()
		if p := Saturation(dew); math.Abs(float64(p/a.Pressure()-1)) > 1e-9 {
			t.Fatalf("%v: at its dew point of %g C the pressure is %g, not %g", a, dew, p, a.Pressure())
		}
		if dew > a.T+1e-9 {
			t.Fatalf("%v: dew point %g", a, dew)
		}
		b := a.Warmed(a.T + 5)
		if math.Abs(float64(b.Pressure()-a.Pressure())) > 1e-9 || b.RH >= a.RH {
			t.Fatalf("%v warmed is %v", a, b)
		}
		if d := a.Deficit() + a.Pressure() - Saturation(a.T); math.Abs(float64(d)) > 1e-9 {
			t.Fatalf("deficit and pressure do not add up: %g", d)
		}
	})
	if !math.IsNaN(float64(Air{20, 0}.DewPoint())) {
		t.Error("dry air has a dew point")
	}
}

// The air of an office room, minute by minute, with the humidity ratio its authors computed
// (Candanedo and Feldheim 2016, Energy and Buildings 112). They state no pressure; theirs fits the
// standard one.
func TestHumidityRatioOfARoom(t *testing.T) {
	path := filepath.Join(published.Root(t), "..", "shared", "reference", "datasets", "room_air", "room_training.csv")
	file, err := os.Open(path)
	if err != nil {
		t.Skip("the air of the room is not here: ", err)
	}
	defer file.Close()
	rows, err := csv.NewReader(file).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	worst, n := 0.0, 0
	for _, r := range rows[1:] {
		var x [3]float64
		for i, cell := range []string{r[1], r[2], r[5]} {
			if x[i], err = strconv.ParseFloat(cell, 64); err != nil {
				t.Fatal(err)
			}
		}
		got := float64(Air{quantity.Celsius(x[0]), quantity.Humidity(x[1])}.HumidityRatio(PressureAt(0)))
		worst, n = max(worst, math.Abs(got/x[2]-1)), n+1
	}
	if n < 8000 {
		t.Fatalf("only %d minutes read", n)
	}
	t.Logf("%d minutes, worst off by %.3f %%", n, 100*worst)
	if worst > 0.005 {
		t.Errorf("off by %.2f %%, more than forms of saturation differ", 100*worst)
	}
}

func BenchmarkSaturation(b *testing.B) {
	for b.Loop() {
		Saturation(25)
	}
}
