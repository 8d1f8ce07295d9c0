package water

import (
	"math"
	"sort"
	"testing"

	"halfwater/internal/published"
)

// TestConductivityAgainstReferenceCode: within 5 % for 95 % of the rows of the table computed with
// the newer state of the reference code, and within 12 % always.
func TestConductivityAgainstReferenceCode(t *testing.T) {
	var off, off25 []float64
	for _, r := range referenceTable(t, "phreeqc_new_database.csv") {
		s := r.speciate(t, Model{})
		off = append(off, float64(s.EC())/r.num(t, "sc_t")-1)
		off25 = append(off25, float64(s.EC25())/r.num(t, "sc_25")-1)
		if math.Abs(off[len(off)-1]) > 0.07 {
			t.Logf("%s %s EC %.1f table %.1f off %.4f", r["id"], r["category"], s.EC(), r.num(t, "sc_t"), off[len(off)-1])
		}
	}
	for name, d := range map[string][]float64{"EC": off, "EC25": off25} {
		within, worst := 0, 0.0
		for _, x := range d {
			if math.Abs(x) <= 0.05 {
				within++
			}
			worst = max(worst, math.Abs(x))
		}
		sort.Float64s(d)
		t.Logf("%s: %d of %d within 5 %%, worst %.3f, median %+.4f", name, within, len(d), worst, d[len(d)/2])
		if within < len(d)*95/100 || worst > 0.12 {
			t.Errorf("%s: only %d of %d rows within 5 %%, worst %.3f", name, within, len(d), worst)
		}
	}
}

// TestConductivityOfSalts against the handbook table of equivalent conductivities at 25 C (from
// memory). Chlorides of potassium, sodium, ammonium, calcium and acid agree within 1.5 %: the 1 %
// that McCleskey and others 2012 state for simple salts, half a digit of the table, its litres
// against our kilograms. The other salts part from the table by up to 4.2 % (doc/water.md has the
// numbers); they are held to the 5 % that is asked of a water.
func TestConductivityOfSalts(t *testing.T) {
	of := map[string]func(eq Molality) Composition{
		"KCl":    func(n Molality) Composition { return Composition{K: n, Cl: n} },
		"NaCl":   func(n Molality) Composition { return Composition{Na: n, Cl: n} },
		"NH4Cl":  func(n Molality) Composition { return Composition{TAN: n, Cl: n} },
		"KNO3":   func(n Molality) Composition { return Composition{K: n, NO3: n} },
		"CaCl2":  func(n Molality) Composition { return Composition{Ca: n / 2, Cl: n} },
		"MgCl2":  func(n Molality) Composition { return Composition{Mg: n / 2, Cl: n} },
		"Na2SO4": func(n Molality) Composition { return Composition{Na: n, SO4: n / 2} },
		"HCl":    func(n Molality) Composition { return Composition{Cl: n, Alk: -Equivalents(n)} },
	}
	table := published.Read(t, "crcmemory-conductivity")
	for _, r := range table.Rows {
		salt, eq, want := r.Cells[0], r.Number(t, 1), r.Number(t, 2)
		c := of[salt](Molality(1e3 * eq))
		c.Temperature = 25
		s, err := Open(c, 0)
		if err != nil {
			t.Fatal(err)
		}
		tolerance := 0.015
		if salt == "KNO3" || salt == "MgCl2" || salt == "Na2SO4" {
			tolerance = 0.05
		}
		if got := float64(s.EC()) / (1e3 * eq); math.Abs(got/want-1) > tolerance {
			t.Errorf("%s %g eq/L: %.1f S cm2/eq, handbook %.1f (%+.1f %%)", salt, eq, got, want, 100*(got/want-1))
		}
	}
}

// TestLimitingConductance against the limiting conductances of ions in the handbook at 25 C (from
// memory), to 2 %, which is how far McCleskey's fits and the handbook part.
func TestLimitingConductance(t *testing.T) {
	for name, x := range map[string]struct {
		c    ionConductance
		want float64
	}{
		"K": {lambdaK, 73.5}, "Na": {lambdaNa, 50.1}, "NH4": {lambdaNH4, 73.5}, "Ca": {lambdaCa, 119}, "Mg": {lambdaMg, 106},
		"H": {lambdaH, 349.7}, "Cl": {lambdaCl, 76.3}, "SO4": {lambdaSO4, 160}, "NO3": {lambdaNO3, 71.4}, "HCO3": {lambdaHCO3, 44.5},
		"CO3": {lambdaCO3, 138.6}, "OH": {lambdaOH, 198}, "H2PO4": {lambdaH2PO4, 33}, "HPO4": {lambdaHPO4, 114},
	} {
		if got := x.c.at(25, 0); math.Abs(got/x.want-1) > 0.02 {
			t.Errorf("%s: %.2f S cm2/mol, handbook %.1f", name, got, x.want)
		}
	}
}
