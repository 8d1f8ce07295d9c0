package look_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"halfwater/internal/look"
	"halfwater/quantity"
)

func ExampleValue() {
	fmt.Println(look.Value{Middle: 22.4, Lo: 15.2, Hi: 29.7, Unit: "mg/L as NO3", Finest: 1})
	fmt.Println(look.Value{Middle: 2.13, Lo: 1.58, Hi: 2.62, Unit: "°dKH", Finest: .1})
	fmt.Println(look.Value{Middle: .0004, Lo: 0, Hi: .0037, Unit: "mg/L as N", Finest: .001})
	// Output:
	// about 22 mg/L as NO3, could be 15 to 30
	// about 2.1 °dKH, could be 1.6 to 2.6
	// under 0.004 mg/L as N
}

func ExampleOddsOf() {
	fmt.Println(look.OddsOf(.17).Words)
	fmt.Println(look.OddsOf(.001).Words)
	fmt.Println(look.OddsFromRuns(0, 500).Words)
	// Output:
	// 1 in 6
	// fewer than 1 in 100
	// fewer than 1 in 50
}

func TestOdds(t *testing.T) {
	for _, c := range []struct {
		p        float64
		words    string
		full, of int
	}{
		{0, "fewer than 1 in 100", 0, 0},
		{1. / 151, "fewer than 1 in 100", 0, 0},
		{1. / 149, "1 in 100", 0, 0},
		{.5, "1 in 2", 1, 2},
		{.49, "1 in 2", 1, 2},
		{2. / 3, "2 in 3", 2, 3},
		{.083, "1 in 12", 1, 12},
		{.05, "1 in 20", 0, 0},
		{.9, "9 in 10", 9, 10},
		{.96, "19 in 20", 0, 0},
		{1 - 1./149, "19 in 20", 0, 0},
		{1 - 1./151, "all but certain", 0, 0},
		{1, "all but certain", 0, 0},
		{-.1, look.Unsaid, 0, 0},
		{1.1, look.Unsaid, 0, 0},
		{math.NaN(), look.Unsaid, 0, 0},
	} {
		if got := look.OddsOf(c.p); got != (look.Odds{Words: c.words, Full: c.full, Of: c.of}) {
			t.Errorf("%g: %+v, want %q", c.p, got, c.words)
		}
	}
}

func TestOddsFromRuns(t *testing.T) {
	for _, c := range []struct {
		hits, runs int
		words      string
	}{
		{0, 600, "fewer than 1 in 100"},
		{6, 600, "1 in 100"},
		{600, 600, "all but certain"},
		{0, 500, "fewer than 1 in 50"},
		{500, 500, "more than 19 in 20"},
		{1, 60, "fewer than 1 in 10"},
		{6, 60, "1 in 10"},
		{30, 60, "1 in 2"},
		{60, 60, "more than 9 in 10"},
		{12, 12, "more than 1 in 2"},
		{0, 11, look.Unsaid},
		{3, 2, look.Unsaid},
		{-1, 600, look.Unsaid},
		{0, 0, look.Unsaid},
	} {
		if got := look.OddsFromRuns(c.hits, c.runs).Words; got != c.words {
			t.Errorf("%d of %d: %q, want %q", c.hits, c.runs, got, c.words)
		}
	}
}

// TestOddsRise: a larger chance is never told as a smaller one, and no phrase is finer than the
// runs behind it.
func TestOddsRise(t *testing.T) {
	rank := func(words string) float64 {
		var a, b float64
		switch {
		case words == "all but certain":
			return 1
		case strings.HasPrefix(words, "fewer than "):
			return 0
		case strings.HasPrefix(words, "more than "):
			return .999
		}
		if _, err := fmt.Sscanf(words, "%g in %g", &a, &b); err != nil {
			t.Fatalf("%q is no phrase: %v", words, err)
		}
		return a / b
	}
	rapid.Check(t, func(t *rapid.T) {
		runs := rapid.IntRange(12, 4000).Draw(t, "runs")
		a := rapid.IntRange(0, runs).Draw(t, "a")
		b := rapid.IntRange(a, runs).Draw(t, "b")
		if x, y := look.OddsFromRuns(a, runs).Words, look.OddsFromRuns(b, runs).Words; rank(x) > rank(y) {
			t.Fatalf("of %d: %d is %q, %d is %q", runs, a, x, b, y)
		}
		words := look.OddsFromRuns(a, runs).Words
		var n, d int
		at := strings.IndexAny(words, "0123456789")
		if at < 0 {
			return
		}
		if _, err := fmt.Sscanf(words[at:], "%d in %d", &n, &d); err != nil || d*6 > runs {
			t.Fatalf("%d runs say %q", runs, words)
		}
	})
}

func TestValue(t *testing.T) {
	inf, nan := math.Inf(1), math.NaN()
	for _, c := range []struct {
		v    look.Value
		want string
	}{
		{look.Value{Middle: 254.7, Lo: 246.2, Hi: 263.9, Unit: "µS/cm at 25 °C", Finest: 1}, "about 255 µS/cm at 25 °C, could be 246 to 264"},
		{look.Value{Middle: 20.83, Lo: 20.52, Hi: 21.1, Unit: "°C", Finest: .1}, "about 20.8 °C, could be 20.5 to 21.1"},
		{look.Value{Middle: 7.08, Lo: 6.8, Hi: 7.42, Finest: .1}, "about 7.1, could be 6.8 to 7.4"},
		{look.Value{Middle: 2.4, Lo: 1, Hi: 6, Unit: "°dKH", Finest: .1}, "about 2.5 °dKH, could be 1.0 to 6.0"},
		{look.Value{Middle: 61, Lo: 36, Hi: 84, Unit: "mg/L as NO3", Finest: 1}, "about 60 mg/L as NO3, could be 35 to 85"},
		// A card with steps of 25 carries no single milligrams.
		{look.Value{Middle: 21.7, Lo: 19.1, Hi: 24.2, Unit: "mg/L as NO3", Step: 25}, "about 22 mg/L as NO3, could be 19 to 24"},
		{look.Value{Middle: 21.7, Lo: 18.1, Hi: 24.2, Unit: "mg/L as NO3", Step: 50}, "about 20 mg/L as NO3, could be 20 to 25"},
		{look.Value{Middle: 20.8, Lo: 20.79, Hi: 20.81, Finest: .1}, "about 20.8, could be 20.7 to 20.9"},
		{look.Value{Middle: 66, Lo: 66, Hi: 66, Unit: "cm"}, "about 66.0 cm"},
		{look.Value{Middle: 0, Lo: -.4, Hi: .4, Unit: "°C", Finest: .1}, "about 0.0 °C, could be -0.4 to 0.4"},
		{look.Value{Middle: nan, Lo: 1, Hi: 2}, look.Unsaid},
		{look.Value{Middle: 1, Lo: 1, Hi: inf}, look.Unsaid},
		{look.Value{Middle: 1, Lo: 2, Hi: 1}, look.Unsaid},
	} {
		if got := c.v.String(); got != c.want {
			t.Errorf("%+v:\n got %q\nwant %q", c.v, got, c.want)
		}
	}
}

// TestValueKeepsItsDoubt: what is printed lies within a step of what is meant, in order.
func TestValueKeepsItsDoubt(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lo := rapid.Float64Range(0, 500).Draw(t, "lo")
		w := rapid.Float64Range(.01, 200).Draw(t, "width")
		v := look.Value{Middle: lo + w*rapid.Float64Range(0, 1).Draw(t, "where"), Lo: lo, Hi: lo + w, Finest: .01}
		var a, b float64
		if c := v.Could(); c != "" {
			if _, err := fmt.Sscanf(c, "could be %g to %g", &a, &b); err != nil {
				t.Fatalf("%q: %v", c, err)
			}
			if a >= b || math.Abs(a-lo) > w/6+.01 || math.Abs(b-v.Hi) > w/6+.01 {
				t.Fatalf("%g to %g is told as %q", lo, v.Hi, c)
			}
		}
		if s := v.String(); strings.Contains(s, "-") || strings.Contains(s, "e+") {
			t.Fatalf("%q", s)
		}
	})
}

func TestNumber(t *testing.T) {
	for _, c := range []struct {
		x, r float64
		want string
	}{
		{2.14, .1, "2.1"},
		{37, 5, "35"},
		{-.01, .1, "0.0"},
		{-3.26, .1, "-3.3"},
		{.0374, .001, "0.037"},
		{1234.4, 1, "1234"},
		{20, 0, "20"},
		{2.5, .5, "2.5"},
		{3, .25, "3.00"},
		{1e300, .1, "1e+300"},
		{math.NaN(), 1, look.Unsaid},
	} {
		if got := look.Number(c.x, c.r); got != c.want {
			t.Errorf("%g in %g: %q, want %q", c.x, c.r, got, c.want)
		}
	}
}

func TestLitres(t *testing.T) {
	for l, want := range map[float64]string{2: "2 L", 2.5: "2½ L", .5: "½ L", 2.3: "2.3 L", 0: "0 L", 10: "10 L", 2.49999999: "2½ L", math.Inf(1): look.Unsaid} {
		if got := look.Litres(l); got != want {
			t.Errorf("%g: %q, want %q", l, got, want)
		}
	}
}

// TestPrints holds that every measurand can be shown, on a basis that it allows, and that nitrate
// is told as NO3: 1 mg N/L is 4.427 mg NO3/L (IUPAC 2021 abridged weights: 62.004/14.007).
func TestPrints(t *testing.T) {
	for _, m := range []quantity.Measurand{
		quantity.OfGH, quantity.OfKH, quantity.OfPH, quantity.OfEC, quantity.OfTAN, quantity.OfNO2, quantity.OfNO3, quantity.OfPO4,
		quantity.OfOxygen, quantity.OfChlorine, quantity.OfChloride, quantity.OfCopper, quantity.OfTDS, quantity.OfWaterTemp,
		quantity.OfAirTemp, quantity.OfBaskingTemp, quantity.OfHumidity, quantity.OfUVI, quantity.OfLevel,
	} {
		p, ok := look.PrintOf(m)
		if !ok || p.Name == "" || p.Finest <= 0 || p.Lo >= p.Hi {
			t.Errorf("%s is not shown: %+v", m, p)
		}
		if need := m.Bases(); (len(need) > 0) != (p.Basis != quantity.NoBasis) {
			t.Errorf("%s is shown on %q, allowed are %v", m, p.Basis, need)
		}
		if x := look.Shown(m, 1); math.IsNaN(x) {
			t.Errorf("%s has no way to be shown", m)
		}
	}
	if x := look.Shown(quantity.OfNO3, 1); math.Abs(x-4.427) > .0005 {
		t.Errorf("1 mg N/L of nitrate is shown as %g mg/L as NO3", x)
	}
	if x := look.Shown(quantity.OfLevel, 208); x != 20.8 {
		t.Errorf("208 mm is shown as %g cm", x)
	}
	if p, _ := look.PrintOf(quantity.OfNO3); p.Words() != "mg/L as NO3" {
		t.Errorf("unit of nitrate: %q", p.Words())
	}
	if _, ok := look.PrintOf("mood"); ok {
		t.Error("an unknown measurand is shown")
	}
}

func TestMarks(t *testing.T) {
	for i, want := range []string{"carry on", "watch", "act now"} {
		if m := look.Marks()[i]; m.Word() != want || int(m) != i {
			t.Errorf("tier %d is %q", i, m.Word())
		}
	}
}

func BenchmarkValue(b *testing.B) {
	v := look.Value{Middle: 22.4, Lo: 15.2, Hi: 29.7, Unit: "mg/L as NO3", Finest: 1}
	b.ReportAllocs()
	for b.Loop() {
		_ = v.String()
	}
}
