package enclosure

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"

	"halfwater/internal/published"
	"halfwater/quantity"
)

func mustTable(t testing.TB, b Basin, tests ...LevelTest) LevelTable {
	t.Helper()
	table, err := NewLevelTable(b, tests)
	if err != nil {
		t.Fatal(err)
	}
	return table
}

// S10-020: a triangular pool, V = W z^2 run/(2 rise), arithmetic.
func TestTriangularPool(t *testing.T) {
	b := Basin{Length: 600, Width: 500, Height: 350, FullMark: 250, Profile: []Point{{0, 300}, {600, 0}}}
	table := mustTable(t, b)
	published.Check(t, "S10-020", float64(table.Litres(200)))
	if got := float64(table.Level(20)); math.Abs(got-200) > 0.01 {
		t.Errorf("20 L stand at %g mm", got)
	}
}

// A bed sloped from h1 to h2: V = L W (z - (h1+h2)/2) over it, arithmetic; its pores hold 0.38.
func TestSlopedBed(t *testing.T) {
	b := Basin{Length: 1000, Width: 400, Height: 500, FullMark: 400, BedFront: 40, BedBack: 100}
	table := mustTable(t, b)
	if got, want := float64(table.Litres(300)), 0.4*(300-70)+0.38*0.4*70; math.Abs(got-want) > 1e-6 {
		t.Errorf("%g L at 300 mm, want %g", got, want)
	}
	b.StoneKg, b.WoodKg = 26, 11 // 10 L each
	if got, want := float64(mustTable(t, b).Litres(400)), 0.4*330-20+0.38*0.4*70; math.Abs(got-want) > 1e-6 {
		t.Errorf("with stone and wood %g L, want %g", got, want)
	}
}

// Question of the keeper: 120 x 50 cm with 35 % land, the level fell 26 mm: 0.39 m2 x 26 mm =
// 10.1 L, to about 6 %.
func TestLevelFellHowManyLitres(t *testing.T) {
	b := Basin{Length: 1200, Width: 500, Height: 500, FullMark: 300, LandShare: 0.35}
	table := mustTable(t, b)
	fell := table.Fell(300, 274)
	if math.Abs(float64(fell.Median)-10.14) > 0.01 {
		t.Errorf("26 mm are %v L", fell.Median)
	}
	if sd := table.FellSD(300, 274); sd < 0.05 || sd > 0.08 {
		t.Errorf("known to %g", sd)
	}
	// Two tests say how the foot of the land slopes: the table follows, and is better known.
	tests := []LevelTest{{10, 300, 274}, {10, 200, 168}, {5, 90, 71}}
	with := mustTable(t, b, tests...)
	if with.Tests != 3 || with.FellSD(300, 274) > 0.6*table.FellSD(300, 274) {
		t.Errorf("%d tests, known to %g", with.Tests, with.FellSD(300, 274))
	}
	for _, l := range tests {
		got, sd := float64(with.Fell(l.From, l.To).Median), 0.04
		if math.Abs(math.Log(got/float64(l.Litres))) > 2*sd {
			t.Errorf("test of %g L from %g to %g mm: the table says %g", l.Litres, l.From, l.To, got)
		}
	}
	// A slip of a bucket ten times too large is left out and named.
	slip := mustTable(t, b, append(tests, LevelTest{100, 250, 224})...)
	if len(slip.Odd) != 1 || slip.Tests != 3 || slip.Odd[0].Litres != 100 {
		t.Errorf("a slip: %d used, %v left out", slip.Tests, slip.Odd)
	}
}

func boxes(t *rapid.T) Basin {
	b := Basin{
		Length: quantity.Millimetres(rapid.IntRange(300, 2000).Draw(t, "length")),
		Width:  quantity.Millimetres(rapid.IntRange(200, 900).Draw(t, "width")),
		Height: quantity.Millimetres(rapid.Float64Range(200, 900).Draw(t, "height")),
	}
	b.FullMark = b.Height * quantity.Millimetres(rapid.Float64Range(0.4, 0.95).Draw(t, "full"))
	if rapid.Bool().Draw(t, "has profile") {
		x := 0.0
		for x < float64(b.Length) {
			b.Profile = append(b.Profile, Point{quantity.Millimetres(x), b.Height * quantity.Millimetres(rapid.Float64Range(0, 1).Draw(t, "z"))})
			x += rapid.Float64Range(0, 400).Draw(t, "dx") + 0.1
		}
		b.Profile = append(b.Profile, Point{b.Length, 0})
	} else {
		b.LandShare = quantity.Share(rapid.Float64Range(0, 0.8).Draw(t, "land"))
	}
	b.BedFront = quantity.Millimetres(rapid.Float64Range(0, 80).Draw(t, "front"))
	b.BedBack = quantity.Millimetres(rapid.Float64Range(0, 200).Draw(t, "back"))
	b.FalseBottom = rapid.Bool().Draw(t, "false bottom")
	return b
}

// The table never falls, is never negative, and its inverse comes back, whatever the level tests say.
func TestTableRisesAndInverts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := boxes(t)
		var tests []LevelTest
		for range rapid.IntRange(0, 3).Draw(t, "tests") {
			from := rapid.Float64Range(50, float64(b.Height)).Draw(t, "from")
			tests = append(tests, LevelTest{
				quantity.Litres(rapid.Float64Range(0.5, 30).Draw(t, "litres")),
				quantity.Millimetres(from), quantity.Millimetres(from - rapid.Float64Range(3, 45).Draw(t, "fall")),
			})
		}
		table, err := NewLevelTable(b, tests)
		if err != nil {
			var f Fault
			if !errors.As(err, &f) {
				t.Fatal(err)
			}
			t.Skip("no such box")
		}
		last := quantity.HeldLitres(0)
		for z := quantity.Millimetres(-5); z < b.Height+10; z += 3.7 {
			v := table.Litres(z)
			if v < last || v < 0 || math.IsNaN(float64(v)) {
				t.Fatalf("%g L at %g mm after %g", v, z, last)
			}
			last = v
			if back := table.Litres(table.Level(v)); math.Abs(float64(back-v)) > 1e-6*(1+float64(v)) {
				t.Fatalf("%g L stand at %g mm, which holds %g", v, table.Level(v), back)
			}
		}
		if gross := b.Gross(b.Height); len(tests) == 0 && float64(last) > float64(gross)+1e-6 {
			t.Fatalf("%g L in a box of %g", last, gross)
		}
		mark := table.MarkAfter(b.FullMark, 5)
		if !(mark.Low <= mark.Lo && mark.Lo <= mark.Median && mark.Median <= mark.Hi && mark.Hi <= mark.High && mark.High <= b.FullMark) {
			t.Fatalf("mark after 5 L: %+v", mark)
		}
	})
}

// The correction is calibrated: when the factor truly wanders as its prior says, and marks and jugs
// err as stated, the 80 % band of a fall holds the truth in about 80 of 100.
func TestFellIsCalibrated(t *testing.T) {
	b := Basin{Length: 1000, Width: 400, Height: 450, FullMark: 300, LandShare: 0.3}
	r := newRand(7)
	prior := mustTable(t, b)
	inside, n := 0, 600
	for range n {
		truth := drawTrue(prior, r)
		var tests []LevelTest
		for _, from := range []float64{298, 220, 140} {
			to := from - 26
			litres := truth.at(from) - truth.at(to)
			mark := func(z float64) quantity.Millimetres { return quantity.Millimetres(z + 0.5*r.NormFloat64()) }
			tests = append(tests, LevelTest{quantity.Litres(litres * math.Exp(0.02*r.NormFloat64())), mark(from), mark(to)})
		}
		got := mustTable(t, b, tests...).Fell(quantity.Millimetres(290+0.5*r.NormFloat64()), quantity.Millimetres(190+0.5*r.NormFloat64()))
		if is := quantity.Litres(truth.at(290) - truth.at(190)); got.Lo <= is && is <= got.Hi {
			inside++
		}
	}
	if share := float64(inside) / float64(n); share < 0.76 || share > 0.84 {
		t.Errorf("the 80 %% band held the truth in %.1f %%", 100*share)
	}
}

func TestWarningsComeBeforeTheMark(t *testing.T) {
	b := Basin{Length: 900, Width: 400, Height: 450, FullMark: 300, PumpIntake: 120, HeaterLine: 160}
	if at, by := b.Stop(); at != 180 || by != HeaterLine {
		t.Errorf("stop at %g by %s", at, by)
	}
	if w := b.Warnings(170); len(w) != 1 || w[0].By != HeaterLine || w[0].Passed {
		t.Errorf("at 170 mm: %v", w)
	}
	if w := b.Warnings(119); len(w) != 2 || !w[0].Passed || !w[1].Passed {
		t.Errorf("at 119 mm: %v", w)
	}
	if w := b.Warnings(250); len(w) != 0 {
		t.Errorf("at 250 mm: %v", w)
	}
}

func BenchmarkLevelTable(b *testing.B) {
	box := Basin{Length: 1200, Width: 500, Height: 500, FullMark: 300, Profile: []Point{{0, 400}, {400, 250}, {500, 60}, {1200, 40}}}
	tests := []LevelTest{{10, 300, 274}, {10, 200, 168}, {5, 120, 101}}
	for b.Loop() {
		if _, err := NewLevelTable(box, tests); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkLevelInverse(b *testing.B) {
	table := mustTable(b, Basin{Length: 1200, Width: 500, Height: 500, FullMark: 300, LandShare: 0.35})
	for b.Loop() {
		table.Level(61.3)
	}
}
