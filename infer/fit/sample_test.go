package fit

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"reflect"
	"testing"

	"gonum.org/v1/gonum/mat"

	"halfwater/dynamics"
)

// linear is a problem whose posterior is normal: what is read on the first morning is a sum of the scores of
// the start, of the bias of a lot that drifts and of a departure. It gives the effects of all scores on the
// readings beside it.
func linear(readings int) (p Problem, effects *mat.Dense) {
	p = fed()
	c := *p.Course
	c.Days, c.Events, c.Changes = 1, nil, 0
	p.Course = &c
	p.Starts = []string{"a", "b", "c"}
	p.Start = func(own *dynamics.Params, z []float64) dynamics.State {
		s := c.Fill(own, dynamics.Water{Ca: 1, Alk: 2, DIC: 2.1, Temp: 25})
		s.Ca, s.Mg, s.Na = s.Volume*(50+z[0]), s.Volume*(50+2*z[1]), s.Volume*(50+z[2])
		return s
	}
	p.Lots = []Lot{{SD: 0.7, Walk: 0.3}, {SD: 1.1}}
	p.Wanders = []Wander{{Name: "w", SD: 0.5, Phi: 0.6}}
	l := p.layout()
	effects = mat.NewDense(readings, l.n, nil)
	rnd := rand.New(rand.NewPCG(5, 6))
	for i := range readings {
		a := [3]float64{rnd.NormFloat64(), rnd.NormFloat64(), rnd.NormFloat64()}
		r := Reading{SD: 0.3 + rnd.Float64(), Point: true, Classes: 1, Lot: i%3 - 1, Wander: i%2 - 1}
		r.See = func(s *dynamics.State) float64 {
			return a[0]*(s.Ca/s.Volume-50) + a[1]*(s.Mg/s.Volume-50) + a[2]*(s.Na/s.Volume-50)
		}
		effects.Set(i, l.starts, a[0])
		effects.Set(i, l.starts+1, 2*a[1])
		effects.Set(i, l.starts+2, a[2])
		if r.Lot >= 0 {
			effects.Set(i, l.lots+r.Lot, p.Lots[r.Lot].SD)
		}
		if r.Lot == 0 {
			effects.Set(i, l.drifts[0], p.Lots[0].Walk)
		}
		if r.Wander >= 0 {
			effects.Set(i, l.wanders, p.Wanders[0].SD)
		}
		x := 3 * rnd.NormFloat64()
		r.Lo, r.Hi = x, x
		p.Readings = append(p.Readings, r)
	}
	return p, effects
}

// TestSampleOfANormal holds the chains to the closed form, means and deviations within five standard errors by
// the effective draws that they claim.
func TestSampleOfANormal(t *testing.T) {
	p, a := linear(9)
	n := a.RawMatrix().Cols
	h := mat.NewSymDense(n, nil)
	slope := mat.NewVecDense(n, nil)
	for j := range n {
		h.SetSym(j, j, 1)
	}
	for i := range p.Readings {
		r := &p.Readings[i]
		row := mat.NewVecDense(n, append([]float64(nil), a.RawRowView(i)...))
		h.SymRankOne(h, 1/(r.SD*r.SD), row)
		slope.AddScaledVec(slope, r.Lo/(r.SD*r.SD), row)
	}
	var cov mat.Dense
	if err := cov.Inverse(h); err != nil {
		t.Fatal(err)
	}
	var mean mat.VecDense
	mean.MulVec(&cov, slope)

	e := Patience{Chains: 8, Warm: 100, Rounds: 600, Every: 1}
	got, err := p.Sample(context.Background(), e, 1)
	if err != nil {
		t.Fatal(err)
	}
	t.Logf("%d runs, worst %+v", got.Runs, got.Worst)
	if got.Worst.RHat > 1.02 || got.Worst.Bulk < 800 {
		t.Errorf("chains that should be easy do not mix: %+v", got.Worst)
	}
	for j := range n {
		m := got.Scores[j]
		sum, squares, draws := 0.0, 0.0, 0.0
		sd := math.Sqrt(cov.At(j, j))
		square := func(h *History) float64 { d := (h.Z[j] - mean.AtVec(j)) / sd; return d * d }
		for _, c := range got.Chains {
			for k := range c {
				sum += (c[k].Z[j] - mean.AtVec(j)) / sd
				squares += square(&c[k])
				draws++
			}
		}
		if off := sum / draws; math.Abs(off) > 5/math.Sqrt(m.Bulk) {
			t.Errorf("score %d: mean off by %.3f sd with %.0f effective draws", j, off, m.Bulk)
		}
		worth := got.Mixing(square).Bulk
		if ratio := squares / draws; math.Abs(ratio-1) > 5*math.Sqrt(2/worth) {
			t.Errorf("score %d: variance %.3f of the closed form with %.0f effective draws", j, ratio, worth)
		}
	}
}

// TestMovesLeaveThePosterior takes a truth from the prior, readings from the truth, and moves the truth once
// by each kind of move, with guides that fit badly. The truth is a draw of the posterior of its readings, so what
// comes of the move must be one too (Geweke 2004): over many truths the scores are still standard normal, and
// neither the chance of the readings nor how a score goes with a reading changes on average.
func TestMovesLeaveThePosterior(t *testing.T) {
	const truths = 3000
	p, _ := linear(6)
	classes := []float64{-2, -0.5, 0.3, 1.5}
	for i := range p.Readings {
		r := &p.Readings[i]
		r.Odd, r.Classes, r.Point = 0.1, len(classes)+1, false
	}
	b := newBench(&p)
	rnd := rand.New(rand.NewPCG(11, 12))
	some := func(first, directions int) informed { // orthonormal, of no sense
		var d informed
		for len(d.rows) < directions {
			row := make([]float64, b.n)
			for j := first; j < b.n; j++ {
				row[j] = rnd.NormFloat64()
			}
			d.across(row)
			for k, size := 0, math.Sqrt(dot(row, row)); k < b.n; k++ {
				row[k] /= size
			}
			d.rows, d.told = append(d.rows, row), append(d.told, 3)
		}
		return d
	}
	all, plain := some(0, 4), some(b.runs, 3)
	all.rows[0] = make([]float64, b.n) // one that the readings know of
	all.rows[0][b.starts] = 1
	for k := 1; k < 4; k++ {
		x := dot(all.rows[k], all.rows[0])
		all.rows[k][b.starts] -= x
		for m := range k {
			by := dot(all.rows[k], all.rows[m])
			for j := range b.n {
				all.rows[k][j] -= by * all.rows[m][j]
			}
		}
		size := math.Sqrt(dot(all.rows[k], all.rows[k]))
		for j := range b.n {
			all.rows[k][j] /= size
		}
	}
	g := &guide{centre: []float64{0.7, -0.4, 0.2, 0}, root: [][]float64{{0.6}, {0.2, 0.8}, {0.1, 0, 1.2}, {0, 0, 0.3, 0.9}}}
	others := make([]link, 5)
	for i := range others {
		others[i].z = make([]float64, b.n)
		for j := range others[i].z {
			others[i].z[j] = rnd.NormFloat64()
		}
	}
	moves := []struct {
		name string
		move func(c *link)
	}{
		{"some", func(c *link) { c.turnSome(b, &all, []int{0, 2}) }},
		{"across", func(c *link) { c.turnAcross(b, &all) }},
		{"plain", func(c *link) { c.turnPlain(b, &plain) }},
		{"guided", func(c *link) { c.turnGuided(b, &all, g) }},
		{"step", func(c *link) { c.step(b, &all, others) }},
	}
	for _, m := range moves {
		t.Run(m.name, func(t *testing.T) {
			c := &link{rnd: rand.New(rand.NewPCG(13, 14)), try: make([]float64, b.n)}
			var was, is, told, goes, moved []float64
			for range truths {
				c.z = c.normals(b.n)
				b.live(c.z, &c.run)
				for i := range p.Readings {
					show(&p.Readings[i], b.asKit(i, c.z, c.run.seen[i]), classes, c.rnd)
				}
				c.told = b.toldBy(c.z, &c.run)
				z0, told0 := c.z[b.starts+1], c.told
				y := p.Readings[0].Lo + p.Readings[1].Lo
				if math.IsInf(y, 0) {
					y = -4
				}
				m.move(c)
				var r run
				b.live(c.z, &r)
				if again := b.toldBy(c.z, &r); math.Abs(again-c.told) > 1e-9 {
					t.Fatalf("the chain says %g of its end, which is %g", c.told, again)
				}
				if z0 != c.z[b.starts+1] {
					moved = append(moved, 1)
				}
				was, is = append(was, z0), append(is, c.z[b.starts+1])
				told = append(told, c.told-told0)
				goes = append(goes, (c.z[b.starts+1]-z0)*y)
			}
			if m.name != "plain" && len(moved) < truths/20 { // how often hangs on the guides; fewer would show little
				t.Errorf("moved only %d of %d times", len(moved), truths)
			}
			none(t, "score", is)
			none(t, "log chance", told)
			none(t, "score with a reading", goes)
			for i := range is {
				is[i] = is[i]*is[i] - was[i]*was[i]
			}
			none(t, "square of the score", is)
		})
	}
}

// show sets a reading to a class in which its kit may show g.
func show(r *Reading, g float64, borders []float64, rnd *rand.Rand) {
	seen := g + r.SD*rnd.NormFloat64()
	k := 0
	for k < len(borders) && seen > borders[k] {
		k++
	}
	if rnd.Float64() < r.Odd {
		k = rnd.IntN(len(borders) + 1)
	}
	r.Lo, r.Hi = math.Inf(-1), math.Inf(1)
	if k > 0 {
		r.Lo = borders[k-1]
	}
	if k < len(borders) {
		r.Hi = borders[k]
	}
}

// none asks that a mean be nought within four and a half standard errors.
func none(t *testing.T, what string, x []float64) {
	t.Helper()
	n, sum, squares := float64(len(x)), 0.0, 0.0
	for _, v := range x {
		sum += v
		squares += v * v
	}
	if mean, se := sum/n, math.Sqrt(squares)/n; math.Abs(mean) > 4.5*se {
		t.Errorf("%s: %.4f on average, standard error %.4f", what, mean, se)
	}
}

func TestSampleIsPureAndStops(t *testing.T) {
	p, _ := linear(4)
	e := Patience{Chains: 6, Warm: 40, Rounds: 8, Every: 2}
	one, err := p.Sample(context.Background(), e, 3)
	if err != nil {
		t.Fatal(err)
	}
	two, _ := p.Sample(context.Background(), e, 3)
	if !reflect.DeepEqual(one, two) {
		t.Error("the same problem and seed gave other chains")
	}
	if three, _ := p.Sample(context.Background(), e, 4); reflect.DeepEqual(one.Told, three.Told) {
		t.Error("another seed gave the same chains")
	}
	ctx, stop := context.WithCancel(context.Background())
	rounds := 0
	e.Progress = func(done, of int) {
		if rounds++; done != rounds || of != 48 {
			t.Errorf("progress %d of %d after %d rounds", done, of, rounds)
		}
		if done == 5 {
			stop()
		}
	}
	if _, err := p.Sample(ctx, e, 3); !errors.Is(err, context.Canceled) || rounds != 5 {
		t.Errorf("%v after %d rounds", err, rounds)
	}
	e.Progress, e.Goal, e.Longest = nil, Mixing{RHat: 1.0001, Bulk: 1e6}, 2 // never met
	long, err := p.Sample(context.Background(), e, 3)
	if err != nil {
		t.Fatal(err)
	}
	if n := len(long.Chains[0]); n != 8 { // of 8+8+16 rounds the last 16, each second one
		t.Errorf("%d draws of a chain after going on twice", n)
	}
	post := long.Posterior()
	if len(post.Draws) != 6*8 || len(post.Mode) != len(long.Scores) || len(post.Spread) != len(long.Scores) || post.Sure {
		t.Errorf("%d draws, %d scores, sure %v", len(post.Draws), len(post.Mode), post.Sure)
	}
	for _, h := range post.Draws {
		if h.weight > post.Weight {
			t.Error("a draw is likelier than the likeliest")
		}
	}
	var hasty TooHasty
	if _, err := p.Sample(context.Background(), Patience{Chains: 5, Warm: 100, Rounds: 100, Every: 1}, 1); !errors.As(err, &hasty) {
		t.Error(err)
	}
	p.Readings[0].See = func(*dynamics.State) float64 { return math.NaN() }
	if _, err := p.Sample(context.Background(), Patience{Chains: 6, Warm: 40, Rounds: 8, Every: 2}, 1); !errors.Is(err, ErrNoHistory) {
		t.Error(err)
	}
}

// TestMixing: chains of known worth. An autoregression of phi has n(1-phi)/(1+phi) effective draws.
func TestMixing(t *testing.T) {
	rnd := rand.New(rand.NewPCG(1, 1))
	ar := func(phi, shift float64) []float64 {
		out := make([]float64, 4000)
		x := rnd.NormFloat64()
		for i := range out {
			x = phi*x + math.Sqrt(1-phi*phi)*rnd.NormFloat64()
			out[i] = math.Exp(2 * (x + shift)) // ranks do not mind
		}
		return out
	}
	for _, phi := range []float64{0, 0.5, 0.9} {
		m := Mixed([][]float64{ar(phi, 0), ar(phi, 0), ar(phi, 0), ar(phi, 0)})
		want := 16000 * (1 - phi) / (1 + phi)
		if math.Abs(m.Bulk/want-1) > 0.25 || m.RHat > 1.01 || m.Tail < want/2 {
			t.Errorf("phi %g: %+v, want %.0f effective", phi, m, want)
		}
	}
	if m := Mixed([][]float64{ar(0, 0), ar(0, 0), ar(0, 0), ar(0, 1)}); m.RHat < 1.05 {
		t.Errorf("a chain elsewhere passes: %+v", m)
	}
	wide := ar(0, 0)
	for i := range wide {
		wide[i] = math.Pow(wide[i], 3)
	}
	if m := Mixed([][]float64{ar(0, 0), ar(0, 0), ar(0, 0), wide}); m.RHat < 1.05 {
		t.Errorf("a chain of another width passes: %+v", m)
	}
	still := []float64{1, 1, 1, 1, 1, 1}
	if m := Mixed([][]float64{still, still}); m.RHat != 1 {
		t.Errorf("%+v", m)
	}
	if m := Mixed([][]float64{still, {2, 2, 2, 2, 2, 2}}); !math.IsInf(m.RHat, 1) || m.Bulk != 0 {
		t.Errorf("%+v", m)
	}
}
