package fit

import (
	"math"
	"testing"

	"halfwater/dynamics"
)

// TestShares are problems whose answers are known: the truth is 5, 7 was read with an error of sd 1, and half of a
// bias of sd 1 is in it: the bias is 0.5*2/(0.25+1) = 0.8, with sd 1/sqrt(1.25). The same for a doubt of a
// source, which also has a pour that does nothing here.
func TestShares(t *testing.T) {
	p := fed()
	five := func(*dynamics.State) float64 { return 5 }
	p.Lots = []Lot{{SD: 1}}
	p.Slants = []Slant{{Name: "tap", Pour: make([]dynamics.Water, len(p.Course.Events))}}
	half := []Share{{Of: 0, By: 0.5}}
	seven := Reading{Day: 3, See: five, Lo: 7, Hi: 7, SD: 1, Classes: 1, Point: true, Lot: -1, Wander: -1}
	l := p.layout()
	for name, of := range map[string]struct {
		r  Reading
		at int
	}{
		"lot": {Reading{Also: half}, l.lots}, "source": {Reading{Slanted: half}, l.slants},
	} {
		r := seven
		r.Also, r.Slanted = of.r.Also, of.r.Slanted
		p.Readings = []Reading{r}
		post, err := p.Solve(Effort{Draws: 600, Scouts: 2}, 1)
		if err != nil {
			t.Fatal(err)
		}
		if x := post.Mode[of.at]; math.Abs(x-0.8) > 1e-3 {
			t.Errorf("%s: bias %g, want 0.8", name, x)
		}
		if sd := post.Spread[of.at]; math.Abs(sd-1/math.Sqrt(1.25)) > 0.1 { // four standard errors of 600 draws
			t.Errorf("%s: sd of the bias %g", name, sd)
		}
	}
}

// TestEvidence: the chance of a point reading of 7 beside a truth of 5, an error and a bias of sd 1 each,
// is normal with variance 2; of two problems that differ in the reading the evidence differs as that does.
func TestEvidence(t *testing.T) {
	p := fed()
	five := func(*dynamics.State) float64 { return 5 }
	p.Lots = []Lot{{SD: 1}}
	at := func(shown float64) float64 {
		p.Readings = []Reading{{Day: 3, See: five, Lo: shown, Hi: shown, SD: 1, Classes: 1, Point: true, Lot: 0, Wander: -1}}
		post, err := p.Solve(Effort{Draws: 1, Scouts: 2}, 1)
		if err != nil {
			t.Fatal(err)
		}
		return post.Evidence
	}
	if d, want := at(7)-at(5), -2.*2/4; math.Abs(d-want) > 1e-3 {
		t.Errorf("evidence differs by %g, want %g", d, want)
	}
}

// TestOwnConstant: a reading of an own constant moves it by the rule of two normals.
func TestOwnConstant(t *testing.T) {
	p := fed()
	stone := func(own *dynamics.Params, _ *dynamics.State) float64 { return own[dynamics.Stone] }
	sd := p.Priors[dynamics.Stone].SD
	p.Readings = []Reading{{Day: 40, Own: stone, Lo: 2 * sd, Hi: 2 * sd, SD: sd, Classes: 1, Point: true, Lot: -1, Wander: -1}}
	post, err := p.Solve(Effort{Draws: 400, Scouts: 2}, 1)
	if err != nil {
		t.Fatal(err)
	}
	if z := post.Mode[dynamics.Stone]; math.Abs(z-1) > 0.01 {
		t.Errorf("stone at %g sd of its prior, want 1", z)
	}
	if s := post.Spread[dynamics.Stone]; math.Abs(s-math.Sqrt2/2) > 0.1 {
		t.Errorf("sd %g of its prior, want 0.71", s)
	}
}

// TestWays: ten was read with an error of 5 % and a bias of ln 0.1. It means 10 in one way, and 10/4.43 in the
// other. Where the truth is 10 or 10/4.43 the way is known; midway, at 10/2.105, it is not, and half of the
// draws are of each.
func TestWays(t *testing.T) {
	p := fed()
	p.Lots = []Lot{{SD: 0.1}}
	const ratio = 4.43
	ways := func(truth float64) []Way {
		x := func(*dynamics.State) float64 { return truth }
		as := func(shown float64) []Reading {
			return []Reading{{Day: 3, See: x, Lo: shown, Hi: shown, Log: true, SD: 0.05, Classes: 1, Point: true, Lot: 0, Wander: -1}}
		}
		return []Way{{as(10), 0.5}, {as(10 / ratio), 0.5}}
	}
	e := Effort{Draws: 100, Scouts: 2}
	for truth, want := range map[float64]float64{10: 1, 10 / ratio: 0, 10 / math.Sqrt(ratio): 0.5} {
		post, odds, err := p.SolveWays(ways(truth), func(_ int, p *Problem) (Posterior, error) { return p.Solve(e, 1) })
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(odds[0]-want) > 0.01 || math.Abs(odds[0]+odds[1]-1) > 1e-12 {
			t.Errorf("truth %.3g: odds %v, want %g for the first", truth, odds, want)
		}
		l, high := p.layout(), 0
		for _, h := range post.Draws {
			if h.Z[l.lots] > 0 {
				high++
			}
		}
		if want == 0.5 && high != 50 {
			t.Errorf("%d of 100 draws are of the first way", high)
		}
	}
}

// TestTold: a number that is standard normal beforehand, read n times with an error of sd 1 each, is known with
// precision 1 + n, of which n are its readings': a half by one, three quarters by three. Of two that tell the same,
// one being another quantity's, the own one is a third.
func TestTold(t *testing.T) {
	p := fed()
	sd := p.Priors[dynamics.Stone].SD
	score := func(p *dynamics.Params, _ *dynamics.State) float64 { return p[dynamics.Stone] / sd }
	read := Reading{Day: 3, Own: score, Lo: 0.2, Hi: 0.2, SD: 1, Classes: 1, Point: true, Lot: -1, Wander: -1}
	for _, c := range []struct {
		all  int
		own  []int
		want float64
	}{{1, []int{0}, 0.5}, {3, []int{0, 1, 2}, 0.75}, {2, []int{1}, 1. / 3}} {
		p.Readings = nil
		for range c.all {
			p.Readings = append(p.Readings, read)
		}
		post, err := p.Solve(Effort{Draws: 1, Scouts: 2}, 1)
		if err != nil {
			t.Fatal(err)
		}
		if got := p.Told(&post, [][]int{c.own})[0]; math.Abs(got-c.want) > 1e-3 {
			t.Errorf("%d of %d readings: %.4f, want %.4f", len(c.own), c.all, got, c.want)
		}
	}
}
