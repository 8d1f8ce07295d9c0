package water

import (
	"encoding/csv"
	"fmt"
	"math"
	"os"
	"sort"
	"strconv"
	"testing"

	"halfwater/internal/published"
	"halfwater/quantity"
)

func near(t testing.TB, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s: %.6g, published %.6g +- %.2g", what, got, want, tolerance)
	}
}

// TestPublishedExamples: calcite in water, and that water mixed with seawater. Parkhurst and Appelo
// 1999 (parkhurst1999), USGS WRIR 99-4259, example 3 (and its seawater from example 1, table 10, from memory); half
// the last printed digit, and for the mixture 0.01 to 0.02 more, because its ionic strength of 0.2 is
// beyond ours and that report used other constants for sulfate pairs.
func TestPublishedExamples(t *testing.T) {
	pure := Composition{Temperature: 25}
	eq, err := EquilibrateOpen(pure, Calcite, 1e-2)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "calcite at log pCO2 -2: pH", float64(eq.Speciation.PH), 7.297, 0.0005+0.001)
	near(t, "calcite dissolved, mmol", float64(eq.Dissolved), 1.646, 0.0005+0.003)
	// The report counts from water without CO2, we from water at rest with it.
	near(t, "CO2 taken up, mmol", float64(eq.Speciation.DIC-eq.Dissolved), 1.976, 0.0005+0.003)

	// mg/kg of solution over the share of water in it
	ppm := func(x, molar float64) Molality { return Molality(x / molar / (1 - 0.0351)) }
	sea := Composition{
		Temperature: 25,
		Ca:          ppm(412.3, 40.08), Mg: ppm(1291.8, 24.305), Na: ppm(10768, 22.99), K: ppm(399.1, 39.1),
		Cl: ppm(19353, 35.453), SO4: ppm(2712, 96.06), Alk: Equivalents(ppm(141.682, 61.017)),
	}
	s, err := GivenPH(sea, 8.22)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "seawater: ionic strength", s.IonicStrength, 0.675, 0.01)
	m, err := Blend([]Part{{eq.Speciation.Composition, eq.Speciation.DIC, 0.7}, {sea, s.DIC, 0.3}})
	if err != nil {
		t.Fatal(err)
	}
	mix, err := m.Closed()
	if err != nil {
		t.Fatal(err)
	}
	near(t, "mixture: pH", float64(mix.PH), 7.351, 0.0005+0.01)
	near(t, "mixture: log pCO2", math.Log10(float64(mix.PCO2)), -2.23, 0.005+0.01)
	near(t, "mixture: SI calcite", mix.SICalcite(), -0.10, 0.005+0.02)

	air, err := EquilibrateOpen(pure, Calcite, quantity.Atm(math.Pow(10, -3.5)))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "calcite open to air: pH", float64(air.Speciation.PH), 8.28, 0.005)
	near(t, "calcite open to air, mmol", float64(air.Dissolved), 0.49, 0.005)
}

// dataset reads a file of measured data, its numbers by column, when it is there.
func dataset(t testing.TB, name string) []map[string]float64 {
	t.Helper()
	f, err := os.Open(published.Dataset(t, name))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	lines, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var out []map[string]float64
	for _, l := range lines[1:] {
		row := map[string]float64{}
		for i, h := range lines[0] {
			if x, err := strconv.ParseFloat(l[i], 64); err == nil {
				row[h] = x
			}
		}
		out = append(out, row)
	}
	return out
}

// lakes are the measured lakes.
func lakes(t testing.TB) []map[string]float64 {
	t.Helper()
	out := dataset(t, "nla2007_lakes/nla2007_ions.csv")
	if len(out) < 1000 {
		t.Fatalf("only %d lakes", len(out))
	}
	return out
}

// lakeWater is a lake's composition; ok is false where something is missing, or where its charges
// (organic anions left out) differ by more than 5 %.
func lakeWater(r map[string]float64) (c Composition, ph quantity.PH, ok bool) {
	for _, k := range []string{"ca_ueq_L", "mg_ueq_L", "na_ueq_L", "k_ueq_L", "cl_ueq_L", "so4_ueq_L", "no3_ueq_L", "anc_ueq_L", "ph_lab", "cond_uS_cm_25C"} {
		if _, is := r[k]; !is {
			return c, 0, false
		}
	}
	c = Composition{
		Temperature: 25,
		Ca:          Molality(r["ca_ueq_L"] / 2e3), Mg: Molality(r["mg_ueq_L"] / 2e3), Na: Molality(r["na_ueq_L"] / 1e3),
		K: Molality(r["k_ueq_L"] / 1e3), Cl: Molality(r["cl_ueq_L"] / 1e3), SO4: Molality(r["so4_ueq_L"] / 2e3),
		NO3: Molality(r["no3_ueq_L"] / 1e3), TAN: Molality(r["nh4_ueq_L"] / 1e3), Alk: Equivalents(r["anc_ueq_L"] / 1e3),
	}
	_, share := c.ChargeImbalance()
	return c, quantity.PH(r["ph_lab"]), math.Abs(float64(share)) < 0.05
}

// TestConductivityOfMeasuredLakes: US national lake survey 2007 (US EPA), charge balance under 5 %
// (difference over sum): the median of computed over measured EC is 0.97 to 1.03, and 90 % of the
// lakes are within 10 %.
func TestConductivityOfMeasuredLakes(t *testing.T) {
	var ratio []float64
	within := 0
	for _, r := range lakes(t) {
		c, ph, ok := lakeWater(r)
		if !ok {
			continue
		}
		s, err := GivenPH(c, ph)
		if err != nil {
			if s, err = Open(c, 4e-4); err != nil {
				continue // brine
			}
		}
		x := float64(s.EC25()) / r["cond_uS_cm_25C"]
		ratio = append(ratio, x)
		if math.Abs(x-1) <= 0.10 {
			within++
		}
	}
	sort.Float64s(ratio)
	n := len(ratio)
	t.Logf("%d lakes: median %.4f, 5 %% %.3f, 95 %% %.3f, within 10 %%: %.1f %%", n, ratio[n/2], ratio[n/20], ratio[n-1-n/20], 100*float64(within)/float64(n))
	if n < 1000 || ratio[n/2] < 0.97 || ratio[n/2] > 1.03 || within < n*9/10 {
		t.Errorf("%d lakes: median %.4f, %d within 10 %%", n, ratio[n/2], within)
	}
}

// TestThermalTable: the constants read from the table of temperatures are those of the equations.
func TestThermalTable(t *testing.T) {
	var r thermal
	for temp := quantity.Celsius(lowestCelsius); temp <= highestCelsius; temp += 0.0371 {
		r.read(temp)
		want := thermalAt(temp)
		for i := range r {
			if math.Abs(r[i]/want[i]-1) > 1e-8 {
				t.Fatalf("%.4f C, constant %d: %.12g, equation %.12g", temp, i, r[i], want[i])
			}
		}
	}
}

// TestBalanceAsTheAgencyCounts: the percent difference that the US Geological Survey prints beside
// 22 river samples (fluoride, which we do not carry, is at most 0.009 meq/L of theirs).
func TestBalanceAsTheAgencyCounts(t *testing.T) {
	rows := dataset(t, "usgs_small/ion_balance_meq.csv")
	if len(rows) != 22 {
		t.Fatalf("%d samples, not 22", len(rows))
	}
	for i, r := range rows {
		c := Composition{
			Temperature: 10,
			Ca:          Molality(r["Ca"] / 2), Mg: Molality(r["Mg"] / 2), Na: Molality(r["Na"]), K: Molality(r["K"]),
			Cl: Molality(r["Cl"]), SO4: Molality(r["SO4"] / 2), NO3: Molality(r["NO2NO3"]), Alk: Equivalents(r["Alk"]),
		}
		_, share := c.ChargeImbalance()
		near(t, fmt.Sprintf("sample %d, %%", i+1), 100*float64(share), r["Pct_Diff"], 0.1)
		if refused := c.CheckBalance() != nil; refused != (math.Abs(r["Pct_Diff"]) > 5) {
			t.Errorf("sample %d with %.2f %%: refused %v", i+1, r["Pct_Diff"], refused)
		}
	}
}
