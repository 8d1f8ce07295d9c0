package water

import (
	"errors"
	"math"
	"testing"

	"halfwater/quantity"

	"pgregory.net/rapid"
)

var (
	pureSource = Source{Name: "RO", Composition: Composition{Temperature: 20}}
	tapSource  = Source{Name: "tap", Composition: Composition{
		Temperature: 20, Ca: Molality(quantity.Hardness(16).Mmol()),
		Alk: Equivalents(quantity.Alkalinity(12).Meq()), Cl: Molality(2*quantity.Hardness(16).Mmol() - quantity.Alkalinity(12).Meq()),
	}}
)

// TestTwoTargetsOneTap: tap GH 16, KH 12, wanted GH 6 and KH 4 in 30 L. GH wants 37.5 % tap, KH
// 33.3 %; least squares by hand: (16*6 + 12*4)/(16^2 + 12^2) = 0.36, 10.8 L, GH 5.76, KH 4.32.
func TestTwoTargetsOneTap(t *testing.T) {
	r, err := Compose(30, []Source{tapSource, pureSource}, nil, []Target{Point(AimGH, 6), Point(AimKH, 4)})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "litres of tap", float64(r.Litres[0]), 10.8, 0.001)
	near(t, "litres of RO", float64(r.Litres[1]), 19.2, 0.001)
	near(t, "GH", float64(r.Mixed.Composition.GH()), 5.76, 0.001)
	near(t, "KH", float64(r.Mixed.Composition.KH()), 4.32, 0.001)
	if len(r.Missed) != 2 || r.Missed[0].Alone || r.Missed[1].Alone {
		t.Errorf("missed %+v", r.Missed)
	}
	if len(r.Conflicts) != 1 || r.Conflicts[0] != (Conflict{AimGH, AimKH}) {
		t.Errorf("conflicts %+v", r.Conflicts)
	}
}

// TestSaltsResolveTheConflict: with a salt for each, both are met; 30 L of RO from nothing.
func TestSaltsResolveTheConflict(t *testing.T) {
	r, err := Compose(30, []Source{pureSource}, []Stock{{Salt: saltOf(t, "CaCl2.2H2O")}, {Salt: saltOf(t, "MgSO4.7H2O")}, {Salt: saltOf(t, "NaHCO3")}},
		[]Target{Point(AimGH, 6), Point(AimKH, 4), Point(AimMg, 8)})
	if err != nil {
		t.Fatal(err)
	}
	if len(r.Missed) != 0 {
		t.Fatalf("missed %+v", r.Missed)
	}
	// By the masses for one degree: 26.215 mg/L per dGH of CaCl2.2H2O, 43.95 of MgSO4.7H2O, 29.96
	// per dKH of NaHCO3; 8 mg Mg/L is 1.846 dGH.
	near(t, "NaHCO3, g", float64(r.Grams[2]), 30*4*0.02996, 0.01)
	near(t, "MgSO4.7H2O, g", float64(r.Grams[1]), 30*1.846*0.04395, 0.02)
	near(t, "CaCl2.2H2O, g", float64(r.Grams[0]), 30*(6-1.846)*0.026215, 0.02)
}

func TestRecipeSaysWhatIsOutOfReach(t *testing.T) {
	r, err := Compose(10, []Source{pureSource}, nil, []Target{Point(AimGH, 6), AtMost(AimNa, 50)})
	if err != nil {
		t.Fatal(err)
	}
	if len(r.Missed) != 1 || !r.Missed[0].Alone || len(r.Conflicts) != 0 {
		t.Errorf("missed %+v, conflicts %+v", r.Missed, r.Conflicts)
	}
	// KH from sodium bicarbonate against a limit of sodium: 10 dKH bring 82 mg Na/L.
	r, err = Compose(10, []Source{pureSource}, []Stock{{Salt: saltOf(t, "NaHCO3")}}, []Target{Point(AimKH, 10), AtMost(AimNa, 50)})
	if err != nil {
		t.Fatal(err)
	}
	if len(r.Conflicts) != 1 || r.Conflicts[0] != (Conflict{AimKH, AimNa}) {
		t.Errorf("conflicts %+v, missed %+v", r.Conflicts, r.Missed)
	}
	if _, err := Compose(30, []Source{{Name: "tap", Composition: hardTap, Most: 10}}, nil, nil); !errors.As(err, new(Unfillable)) {
		t.Errorf("30 L from 10: %v", err)
	}
	if _, err := Compose(30, []Source{pureSource}, nil, []Target{{Aim: "pH", Lo: 7, Hi: 7}}); !errors.As(err, new(BadTarget)) {
		t.Errorf("aiming at pH: %v", err)
	}
}

// TestBoundedLeastSquares: the conditions for a least bounded misfit hold at what it finds, and no
// neighbour inside the bounds does better.
func TestBoundedLeastSquares(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		n, m := rapid.IntRange(1, 6).Draw(r, "n"), rapid.IntRange(1, 8).Draw(r, "m")
		number := rapid.Float64Range(-3, 3)
		a := make([][]float64, m+n)
		b := make([]float64, m+n)
		for i := range m {
			for range n {
				a[i] = append(a[i], number.Draw(r, "a"))
			}
			b[i] = number.Draw(r, "b")
		}
		for j := range n { // a little weight on each keeps the answer one
			a[m+j] = make([]float64, n)
			a[m+j][j] = 0.1
		}
		lo, hi := make([]float64, n), make([]float64, n)
		for j := range n {
			lo[j] = number.Draw(r, "lo")
			hi[j] = lo[j] + rapid.Float64Range(0.01, 4).Draw(r, "width")
		}
		x := boundedLeastSquares(a, b, lo, hi)
		g := gradient(a, b, x)
		for j := range n {
			if x[j] < lo[j] || x[j] > hi[j] {
				r.Fatalf("x%d = %g outside %g to %g", j, x[j], lo[j], hi[j])
			}
			if x[j] > lo[j] && g[j] < -1e-6 || x[j] < hi[j] && g[j] > 1e-6 {
				r.Fatalf("x%d = %g in %g to %g: could still fall by %g", j, x[j], lo[j], hi[j], g[j])
			}
		}
	})
}

func TestRecipeConserves(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		total := quantity.Litres(rapid.Float64Range(1, 200).Draw(r, "total"))
		target := []Target{Point(AimGH, rapid.Float64Range(0, 25).Draw(r, "GH")), Point(AimKH, rapid.Float64Range(0, 20).Draw(r, "KH"))}
		out, err := Compose(total, []Source{tapSource, pureSource}, []Stock{{Salt: salts[0]}, {Salt: salts[5]}}, target)
		if err != nil {
			r.Fatal(err)
		}
		sum := out.Litres[0] + out.Litres[1]
		if math.Abs(float64(sum/total)-1) > 1e-12 || math.Abs(float64(out.Mixed.Litres/total)-1) > 1e-12 {
			r.Fatalf("%v of %v L", sum, total)
		}
		if len(out.Missed) != 0 {
			r.Fatalf("missed %+v", out.Missed)
		}
	})
}

// TestNoBlendIsBetter: whatever is asked, no blend drawn at random misses the targets by less.
func TestNoBlendIsBetter(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		var sources []Source
		for range rapid.IntRange(1, 4).Draw(r, "sources") {
			s := Source{Composition: anyWater(r)}
			if rapid.Bool().Draw(r, "limited") {
				s.Most = quantity.Litres(rapid.Float64Range(1, 50).Draw(r, "most"))
			}
			sources = append(sources, s)
		}
		all := []Aim{AimGH, AimKH, AimCa, AimMg, AimNa, AimK, AimCl, AimSO4, AimNO3, AimTemperature}
		var targets []Target
		for range rapid.IntRange(1, 4).Draw(r, "targets") {
			lo := rapid.Float64Range(0, 40).Draw(r, "lo")
			targets = append(targets, Target{Aim: rapid.SampledFrom(all).Draw(r, "aim"), Lo: lo, Hi: lo + rapid.Float64Range(0, 20).Draw(r, "width")})
		}
		total := quantity.Litres(20)
		out, err := Compose(total, sources, nil, targets)
		if errors.As(err, new(Unfillable)) {
			return
		}
		if err != nil {
			r.Fatal(err)
		}
		misfit := func(m Mixed) (sum float64) {
			for _, t := range targets {
				got := aims[t.Aim].of(&m.Composition)
				d := math.Max(math.Max(t.Lo-got, got-t.Hi), 0) / aims[t.Aim].step
				sum += d * d
			}
			return sum
		}
		best := misfit(out.Mixed)
		for i := range 50 {
			// Shares by the Halton sequence, within what there is.
			d := halton(i + 1)
			var parts []Part
			left := total
			for k, s := range sources {
				l := left * quantity.Litres(d[k])
				if k == len(sources)-1 {
					l = left
				}
				if s.Most > 0 {
					l = min(l, s.Most)
				}
				left -= l
				parts = append(parts, Part{s.Composition, s.DIC, l})
			}
			if left > 1e-9 {
				continue
			}
			m, err := Blend(parts)
			if err != nil {
				r.Fatal(err)
			}
			if other := misfit(m); other < best-1e-4*(1+best) {
				r.Fatalf("misfit %g, but %g with %v", best, other, parts)
			}
		}
	})
}
