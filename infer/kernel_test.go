package infer

import (
	"math"
	"testing"
	"time"

	"pgregory.net/rapid"

	"halfwater/book"
	"halfwater/kit"
	"halfwater/quantity"
)

// integrate gives the chance, mean and variance of a normal belief times a likelihood, by brute force.
func integrate(mean, sd float64, like func(float64) float64) (chance, m, v float64) {
	const n = 20000
	lo, h := mean-10*sd, 20*sd/n
	for i := range n {
		y := lo + (float64(i)+0.5)*h
		w := like(y) * density((y-mean)/sd) / sd * h
		chance += w
		m += w * y
		v += w * y * y
	}
	m /= chance
	return chance, m, v/chance - m*m
}

func TestCutAgainstSums(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		mean, sd := rapid.Float64Range(-5, 5).Draw(r, "mean"), rapid.Float64Range(0.1, 4).Draw(r, "sd")
		lo := mean + sd*rapid.Float64Range(-4, 3).Draw(r, "lo")
		hi := lo + sd*rapid.Float64Range(0.05, 5).Draw(r, "width")
		chance, m, v := cut(mean, sd, lo, hi)
		// The sum's own error is a cell at each end.
		c, sm, sv := integrate(mean, sd, func(y float64) float64 {
			if y < lo || y > hi {
				return 0
			}
			return 1
		})
		if math.Abs(chance-c) > 1e-3 || math.Abs(m-sm) > 0.02*sd || math.Abs(v-sv) > 0.02*sd*sd {
			r.Fatalf("cut %.5f %.4f %.5f, summed %.5f %.4f %.5f", chance, m, v, c, sm, sv)
		}
	})
	if c, m, _ := cut(0, 1, 60, 61); c != 0 || m != 60 {
		t.Errorf("sixty deviations out: chance %g, mean %g", c, m)
	}
	if c, m, v := cut(3, 2, math.Inf(-1), math.Inf(1)); c != 1 || m != 3 || math.Abs(v-4) > 1e-12 {
		t.Errorf("no cut: %g %g %g", c, m, v)
	}
}

// TestReadingsAgainstSums compares what a reading does to a normal belief with a brute force sum over
// kit's own likelihood.
func TestReadingsAgainstSums(t *testing.T) {
	for _, k := range []kit.Kit{no3Card, khDrops, ghDrops} {
		model := k.Error(day0)
		for _, belief := range [][2]float64{{4, 1}, {4, 3}, {10, 2}} {
			for _, truth := range []float64{2.2, 5, 9} {
				iv, err := k.Read(k.Shows(truth), day0)
				if err != nil {
					t.Fatal(err)
				}
				lo, hi := iv.Lo, iv.Hi
				if iv.OpenAbove {
					hi = math.Inf(1)
				}
				s := seen{lo: lo, hi: hi, Model: model}
				s.Odd = 0
				plainly := model
				plainly.Odd = 0
				got := s.judge(belief[0], belief[1]*belief[1], math.Inf(-1))
				if model.Log {
					got = s.judge(belief[0], belief[1]*belief[1], -0.3*model.Shift)
				}
				_, m, v := integrate(belief[0], belief[1], func(y float64) float64 {
					if model.Log && y < -0.3*model.Shift {
						return 0
					}
					return plainly.Chance(iv, y)
				})
				if math.Abs(got.mean-m) > 0.03*belief[1] || math.Abs(math.Sqrt(got.variance)-math.Sqrt(v)) > 0.04*belief[1] {
					t.Errorf("%s shows %s, believed %v: %.3f +- %.3f, summed %.3f +- %.3f",
						k.Name, k.Shows(truth), belief, got.mean, math.Sqrt(got.variance), m, math.Sqrt(v))
				}
			}
		}
	}
}

// TestLearnIsKalman: for a reading with normal error the update is the textbook's.
func TestLearnIsKalman(t *testing.T) {
	var g gauss
	g.put(0, 3, 2)
	g.put(1, 1, 0.5)
	g.link(0, 1, 2) // cov(0,1) = 0.5, var(0) = 5
	mean, variance, with := g.project([]term{{0, 1}})
	if mean != 3 || math.Abs(variance-5) > 1e-12 || math.Abs(with[1]-0.5) > 1e-12 {
		t.Fatalf("%g %g %g", mean, variance, with[1])
	}
	r, z := 1.25, 5.0
	s := variance + r
	g.learn(mean, variance, &with, mean+variance/s*(z-mean), variance-variance*variance/s)
	for name, pair := range map[string][2]float64{
		"mean 0": {g.mean[0], 3 + 5/s*2}, "mean 1": {g.mean[1], 1 + 0.5/s*2},
		"var 0": {g.cov[0][0], 5 - 25/s}, "var 1": {g.cov[1][1], 0.25 - 0.25/s}, "cov": {g.cov[0][1], 0.5 - 2.5/s},
	} {
		if math.Abs(pair[0]-pair[1]) > 1e-12 {
			t.Errorf("%s is %.6f, the textbook says %.6f", name, pair[0], pair[1])
		}
	}
}

func TestHeldIsNotLearnt(t *testing.T) {
	var g gauss
	for i := range held + 1 {
		g.put(i, 0, 1)
	}
	g.link(ions, held, 1)
	mean, variance, with := g.project([]term{{ions, 1}})
	g.learn(mean, variance, &with, 2, 0.1)
	if g.mean[held] != 0 || g.cov[held][held] != 1 {
		t.Errorf("held moved to %g +- %g", g.mean[held], g.sd(held))
	}
	if g.cov[ions][held] >= 1 || g.cov[ions][held] <= 0 {
		t.Errorf("what ties the ions to it: %g", g.cov[ions][held])
	}
}

// TestQuantile: values of the normal in its lower tail (Abramowitz and Stegun 1964, chapter 26, from memory), and
// back by phi.
func TestQuantile(t *testing.T) {
	for _, c := range []struct{ p, z float64 }{{0.5, 0}, {0.025, -1.959964}, {1e-3, -3.090232}, {1e-6, -4.753424}, {1e-9, -5.997807}, {1e-12, -7.034484}} {
		if z := quantile(c.p); math.Abs(z-c.z) > 2e-6 {
			t.Errorf("quantile(%g) = %.6f, the table has %.6f", c.p, z, c.z)
		}
	}
	for p := 0.4; p > 1e-299; p /= 7 {
		if back := phi(quantile(p)); math.Abs(back/p-1) > 1e-9 {
			t.Errorf("%g comes back as %g", p, back)
		}
	}
}

func TestAboveKeepsRankAndFloor(t *testing.T) {
	// Nearly all of it under the floor, which a rank of few digits does not tell apart.
	if x, y := above(-0.5625, -0.75, 0.125, 0), above(-0.34375, -0.75, 0.125, 0); !(0 < x && x < y && y < 0.2) {
		t.Errorf("become %g and %g", x, y)
	}
	if x := above(100, -29, 1, 0); math.IsNaN(x) || x < 0 {
		t.Errorf("far over a far floor: %g", x)
	}
	rapid.Check(t, func(r *rapid.T) {
		mean, sd := rapid.Float64Range(-1, 5).Draw(r, "mean"), rapid.Float64Range(0.01, 3).Draw(r, "sd")
		a := mean + sd*rapid.Float64Range(-4, 4).Draw(r, "a")
		b := a + sd*rapid.Float64Range(0, 2).Draw(r, "more")
		x, y := above(a, mean, sd, 0), above(b, mean, sd, 0)
		if x < 0 || y < x-1e-9 || math.IsNaN(x+y) || math.IsInf(y, 1) {
			r.Fatalf("%g and %g become %g and %g", a, b, x, y)
		}
	})
}

// TestPourStaysBetween: a change leaves every mean between what was there and what was poured, and two
// halves of a change bring it as far as one that takes as much of what was there.
func TestPourStaysBetween(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		n := notes{}
		n.add(day0, plain)
		n.add(day0, hardTap)
		litres := rapid.Float64Range(1, 60).Draw(r, "litres")
		w := begin(n.lines, book.MainWater, day0.Add(time.Hour))
		for _, l := range n.lines {
			if f, ok := l.Body.(interface {
				Kind() string
				Key() string
			}); ok {
				w.accept(f, l.At)
			}
		}
		twice := *w
		twice.g = w.g
		in := func(x float64) []book.Poured { return []book.Poured{{Source: "tap", Litres: quantity.Litres(x)}} }
		before := w.g.mean
		tap := w.brews["tap"].mean
		w.pour(litres, in(litres), nil, 0)
		// (1-h)^2 = 1-f
		half := w.box.litres * (1 - math.Sqrt(1-litres/w.box.litres))
		twice.pour(half, in(half), nil, 0)
		twice.pour(half, in(half), nil, 0)
		for slot := nitrate; slot <= chloride; slot++ {
			if !w.known[slot] || slot == chloride {
				continue
			}
			lo, hi := min(before[slot], tap[slot]), max(before[slot], tap[slot])
			if x := w.g.mean[slot]; x < lo-1e-9 || x > hi+1e-9 {
				r.Fatalf("slot %d: %.3f is not between %.3f and %.3f", slot, x, lo, hi)
			}
			if d := w.g.mean[slot] - twice.g.mean[slot]; math.Abs(d) > 1e-9*(1+hi) {
				r.Fatalf("slot %d: one change %.6f, two halves %.6f", slot, w.g.mean[slot], twice.g.mean[slot])
			}
			if w.g.cov[slot][slot] < 0 {
				r.Fatalf("slot %d: variance %g", slot, w.g.cov[slot][slot])
			}
		}
	})
}

func TestPoolKeepsItsChances(t *testing.T) {
	var p pool
	p.begin(day0)
	whole := func(when string) {
		sum := 0.0
		for u := range usuals {
			for c := range cells {
				if p.p[u][c] < 0 {
					t.Fatalf("%s: a chance of %g", when, p.p[u][c])
				}
				sum += p.p[u][c]
			}
		}
		if math.Abs(sum-1) > 1e-9 {
			t.Errorf("%s: chances add up to %.9f", when, sum)
		}
	}
	whole("at first")
	p.elapse(day0.AddDate(0, 0, 30))
	whole("after a month")
	iv, err := tanCard.Read("1", day0)
	if err != nil {
		t.Fatal(err)
	}
	p.read(seen{Model: tanCard.Error(day0)}, iv, day0.AddDate(0, 0, 30))
	whole("after a reading")
	high := p.band().Median
	p.mix(day0.AddDate(0, 0, 30), 0.5, 0)
	whole("after a change")
	if now := p.band().Median; math.Abs(now/high-0.5) > 0.03 {
		t.Errorf("half changed with pure water: %.3f of %.3f left", now, high)
	}
	p.bump = 0.3
	p.elapse(day0.AddDate(0, 0, 60))
	whole("after a bump")
	if later := p.band().Median; later > 0.3*high {
		t.Errorf("a month later still %.3f", later)
	}
}
