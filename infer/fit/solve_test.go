package fit

import (
	"math"
	"math/rand/v2"
	"reflect"
	"testing"
	"time"

	"gonum.org/v1/gonum/mat"

	"halfwater/dynamics"
)

// fed is eight weeks of an enclosure of 100 L with a change every week, and no reading.
func fed() Problem {
	c := &dynamics.Course{
		From: time.Date(2026, 3, 1, 0, 0, 0, 0, time.UTC), Days: 56, Held: 100, Surface: 0.25, Pressure: 1, Stages: []string{"sponge"},
		Pieces: []dynamics.Piece{{To: 56, TAN: 12, Labile: 6, Slow: 4, Temp: 25, Evaporation: 0.5}},
	}
	tap := dynamics.Water{Ca: 1, Mg: 0.3, Na: 0.6, Cl: 0.6, SO4: 0.3, Alk: 2, DIC: 2.1, Oxygen: 9, Volume: 1, Temp: 20}
	for day := 7.5; day < 56; day += 7 {
		c.Changes++
		c.Events = append(c.Events, dynamics.Event{Day: day, Out: 20, In: 20, ToMark: true, Pour: tap, Tap: tap, Mulm: 0.3, Change: c.Changes})
	}
	p := Problem{Course: c, Pace: dynamics.Quick, Power: 1, Starts: []string{"nitrate"}}
	for u := range p.Priors {
		p.Priors[u] = dynamics.Unknown(u).Prior()
	}
	p.Start = func(own *dynamics.Params, z []float64) dynamics.State {
		w := tap
		w.NO3 = 3 * math.Exp(0.5*z[0])
		return c.Mature(own, w, 0.2, 0.5)
	}
	return p
}

func nitrate(s *dynamics.State) float64 { return float64(s.Nitrate()) }

// TestKernel holds the road over the readings to the plain inverse, and draws to its covariance.
func TestKernel(t *testing.T) {
	const n, m = 7, 4
	r := rand.New(rand.NewPCG(1, 2))
	effects, weight := make([][]float64, m), make([]float64, m)
	for i := range effects {
		effects[i] = make([]float64, n)
		for j := range effects[i] {
			effects[i][j] = r.NormFloat64()
		}
		weight[i] = 1 + r.Float64()
	}
	const prior = 1.3
	h := mat.NewSymDense(n, nil)
	for a := range n {
		for b := range n {
			x := 0.0
			if a == b {
				x = prior
			}
			for i := range effects {
				x += weight[i] * weight[i] * effects[i][a] * effects[i][b]
			}
			h.SetSym(a, b, x)
		}
	}
	slope := make([]float64, n)
	for j := range slope {
		slope[j] = r.NormFloat64()
	}
	var want mat.VecDense
	if err := want.SolveVec(h, mat.NewVecDense(n, slope)); err != nil {
		t.Fatal(err)
	}
	scaled := make([]float64, n)
	for j := range scaled {
		scaled[j] = slope[j] / prior
	}
	for j, x := range kernelOf(effects, weight, prior).shrink(scaled, nil) {
		if math.Abs(x-want.AtVec(j)) > 1e-12 {
			t.Errorf("%d: %g, by the inverse %g", j, x, want.AtVec(j))
		}
	}

	for j := range n {
		h.SetSym(j, j, h.At(j, j)+1-prior)
	}
	var cov mat.Dense
	if err := cov.Inverse(h); err != nil {
		t.Fatal(err)
	}
	k := kernelOf(effects, weight, 1)
	const draws = 40000
	var sums [n][n]float64
	for range draws {
		xi, noise := make([]float64, n), make([]float64, m)
		for j := range xi {
			xi[j] = r.NormFloat64()
		}
		for j := range noise {
			noise[j] = r.NormFloat64()
		}
		d := k.shrink(xi, noise)
		for a := range n {
			for b := range n {
				sums[a][b] += d[a] * d[b] / draws
			}
		}
	}
	for a := range n {
		for b := range n { // five standard errors
			se := math.Sqrt((cov.At(a, a)*cov.At(b, b) + cov.At(a, b)*cov.At(a, b)) / draws)
			if math.Abs(sums[a][b]-cov.At(a, b)) > 5*se {
				t.Errorf("cov %d %d: %g, want %g", a, b, sums[a][b], cov.At(a, b))
			}
		}
	}
}

// TestLotAlone is a problem whose answer is known: the truth is 5, a lot with a bias of sd 1 read 7 with
// an error of sd 1. The bias is 1 with sd 0.71; where the pen drifts by 1 in the first fortnight as well, bias
// and drift share two thirds of the 2.
func TestLotAlone(t *testing.T) {
	p := fed()
	five := func(*dynamics.State) float64 { return 5 }
	p.Readings = []Reading{{Day: 3, See: five, Lo: 7, Hi: 7, SD: 1, Classes: 1, Point: true, Lot: 0, Wander: -1}}
	p.Lots = []Lot{{SD: 1}}
	post, err := p.Solve(Effort{Draws: 600, Scouts: 2}, 1)
	if err != nil {
		t.Fatal(err)
	}
	l := p.layout()
	if x := post.Mode[l.lots]; math.Abs(x-1) > 1e-3 {
		t.Errorf("bias %g, want 1", x)
	}
	if sd := post.Spread[l.lots]; math.Abs(sd-math.Sqrt2/2) > 0.08 { // four standard errors of 600 draws
		t.Errorf("sd of the bias %g", sd)
	}
	p.Lots = []Lot{{SD: 1, Walk: 1}}
	post, err = p.Solve(Effort{Draws: 1, Scouts: 2}, 1)
	if err != nil {
		t.Fatal(err)
	}
	l = p.layout()
	if a, b := post.Mode[l.lots], post.Mode[l.drifts[0]]; math.Abs(a-2./3) > 1e-3 || math.Abs(b-2./3) > 1e-3 {
		t.Errorf("bias %g, drift %g, want 2/3 each", a, b)
	}
}

// TestRunFromAWeek: what acts late is run from the state of its week and gives what a whole run gives.
func TestRunFromAWeek(t *testing.T) {
	p := fed()
	for day := 4.0; day < 56; day += 5 {
		p.Readings = append(p.Readings, Reading{Day: day, See: nitrate, Lo: 1, Hi: 2, SD: 1, Lot: -1, Wander: -1})
	}
	b := newBench(&p)
	base, whole, late := run{}, run{}, run{}
	z := make([]float64, b.n)
	b.live(z, &base)
	for j := b.feed; j < b.runs; j++ {
		z := make([]float64, b.n)
		z[j] = 1
		b.live(z, &whole)
		b.liveFrom(z, b.from[j], &base, &late)
		for i := range whole.seen {
			if math.Abs(whole.seen[i]-late.seen[i]) > 1e-9*whole.seen[i] {
				t.Fatalf("unknown %d, reading %d: %g whole, %g from day %g", j, i, whole.seen[i], late.seen[i], b.from[j])
			}
		}
	}
}

// TestLearnsTheLoad: weekly nitrate good to a few per cent, made with nearly twice the load of the book.
func TestLearnsTheLoad(t *testing.T) {
	p := fed()
	b := newBench(&p)
	truth := make([]float64, b.n)
	truth[dynamics.Load], truth[b.starts] = 1.5, 0.7
	for day := 2.0; day < 56; day += 3 {
		p.Readings = append(p.Readings, Reading{Day: day, See: nitrate, Log: true, Shift: 0.01, SD: 0.03, Classes: 1, Point: true, Lot: -1, Wander: -1})
	}
	var r run
	newBench(&p).live(truth, &r)
	for i := range p.Readings {
		p.Readings[i].Lo, p.Readings[i].Hi = r.seen[i], r.seen[i]
	}
	post, err := p.Solve(Effort{Draws: 100, Moves: 2, Scouts: 8}, 1)
	if err != nil {
		t.Fatal(err)
	}
	if !post.Sure {
		t.Error("did not come to rest")
	}
	off := 0.0
	for _, h := range post.Draws {
		off += math.Abs(math.Log(float64(h.End.Nitrate())/nitrate(&r.end))) / 100
	}
	if off > 0.1 {
		t.Errorf("nitrate at the end off by %.0f %%", 100*off)
	}
	if x := post.Mode[dynamics.Load]; x < 0.3 {
		t.Errorf("load learnt as %g sd from the book, made with 1.5", x)
	}
	if !(post.Moved > 0.1) {
		t.Errorf("only %.0f %% of moves taken", 100*post.Moved)
	}
	again, _ := p.Solve(Effort{Draws: 100, Moves: 2, Scouts: 8}, 1)
	if !reflect.DeepEqual(post.Mode, again.Mode) || !reflect.DeepEqual(post.Draws, again.Draws) {
		t.Error("the same problem and seed gave another answer")
	}
}
