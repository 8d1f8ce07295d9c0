package husbandry

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"

	"halfwater/quantity"
)

func kept(t testing.TB, names ...string) []Kept {
	t.Helper()
	var out []Kept
	for _, n := range names {
		s, err := Lookup(n)
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, Grown(s))
	}
	return out
}

var noChloride = Maybe[quantity.MgPerL]{}

// The lines as they stand in the program's one table; judgement, so this only holds them still.
func TestLinesOfOrdinaryStock(t *testing.T) {
	l := LinesOf(kept(t, "Theloderma corticale", "Oryzias latipes", "Neocaridina davidi"), noChloride)
	if l.Class != Ordinary {
		t.Fatalf("class %s", l.Class)
	}
	no3 := func(x float64) float64 { return float64(quantity.NitrateAsNO3(x)) }
	for _, c := range []struct {
		of                Watched
		carry, watch, act float64
		emergency         float64 // NaN: none
	}{
		{FreeAmmonia, 0.009, 0.01, 0.03, 0.05},
		{AmmoniaShare, 0.49, 0.5, 1, 2.5},
		{NitriteLine, 0.059, 0.06, 0.2, 2},
		{OxygenLine, 6.1, 6, 5, 3},
		{OxygenSaturation, 0.81, 0.8, math.NaN(), math.NaN()},
		{KHLine, 3.1, 3, 1, 0.5},
		{NitrateLine, no3(19.9), no3(20), no3(50), math.NaN()}, // the frog's own ceiling sets the watch line
		{CopperShare, 0.49, 0.5, 1, math.NaN()},
	} {
		if s := l.At(c.of, c.carry); s != (Standing{}) {
			t.Errorf("%s at %g: %v", c.of, c.carry, s)
		}
		if s := l.At(c.of, c.watch); s != (Standing{Tier: Watch}) {
			t.Errorf("%s at %g: %v", c.of, c.watch, s)
		}
		if s := l.At(c.of, c.act); !math.IsNaN(c.act) && s != (Standing{Tier: ActNow}) {
			t.Errorf("%s at %g: %v", c.of, c.act, s)
		}
		if s := l.At(c.of, c.emergency); !math.IsNaN(c.emergency) && s != (Standing{ActNow, true}) {
			t.Errorf("%s at %g: %v", c.of, c.emergency, s)
		}
	}
}

func TestNitrateByClass(t *testing.T) {
	for _, c := range []struct {
		stock      []Kept
		class      Class
		why        Code
		watch, act float64 // mg NO3/L
	}{
		{kept(t, "guppy"), Ordinary, WhyTable, 25, 50},
		{kept(t, "pond slider"), ReptilesOnly, WhyReptilesOnly, 50, 100},
		{kept(t, "pond slider", "Java moss"), ReptilesOnly, WhyReptilesOnly, 50, 100},
		{kept(t, "alpine newt", "hornwort"), Sensitive, WhyNewt, 15, 25},
		{[]Kept{{kept(t, "marsh frog")[0].Species, Larva}}, Sensitive, WhyLarvae, 15, 25},
		{kept(t, "bee shrimp"), Sensitive, WhySoftWater, 9, 15},
		{kept(t, "bee shrimp", "guppy"), Sensitive, WhySoftWater, 9, 15},
		{kept(t, "mata mata"), Sensitive, WhySoftWater, 24, 40}, // follows its own range
		{nil, Sensitive, WhyNobodyKnown, 15, 25},
		{kept(t, "Java moss"), Sensitive, WhyNobodyKnown, 15, 25},
	} {
		l := LinesOf(c.stock, noChloride)
		line, _ := l.Of(NitrateLine)
		watch, act := quantity.Nitrate(line.Watch.Or(0)).AsNO3(), quantity.Nitrate(line.Act.Or(0)).AsNO3()
		if l.Class != c.class || l.Why.Code != c.why {
			t.Errorf("%v: %s because %s", c.stock, l.Class, l.Why.Code)
		}
		if math.Abs(watch-c.watch) > 1e-9 || math.Abs(act-c.act) > 1e-9 {
			t.Errorf("%s, %s: watch %g act %g, not %g %g", c.class, c.why, watch, act, c.watch, c.act)
		}
	}
}

func TestSoftWaterStockHasItsOwnKH(t *testing.T) {
	soft, _ := LinesOf(kept(t, "bee shrimp", "cardinal tetra"), noChloride).Of(KHLine)
	if soft.Act.Known() || soft.Emergency.Known() || soft.Watch.Known() {
		t.Errorf("soft-water stock that bears KH 0 has KH lines: %+v", soft)
	}
	if soft.Why[0].Code != WhySoftWater {
		t.Errorf("reason %v", soft.Why)
	}
	mixed, _ := LinesOf(kept(t, "bee shrimp", "guppy"), noChloride).Of(KHLine)
	if mixed.Act.Or(0) != 1 {
		t.Errorf("mixed stock lost its KH line: %+v", mixed)
	}
}

func TestNitriteAndChloride(t *testing.T) {
	fish, frogs := kept(t, "guppy"), kept(t, "guppy", "marsh frog")
	for _, c := range []struct {
		stock    []Kept
		chloride Maybe[quantity.MgPerL]
		act      float64
	}{
		{fish, noChloride, 0.2},
		{fish, Known(quantity.MgPerL(40)), 0.2},
		{fish, Known(quantity.MgPerL(41)), 0.5},
		{frogs, Known(quantity.MgPerL(400)), 0.2},
		{nil, Known(quantity.MgPerL(400)), 0.2},
	} {
		line, _ := LinesOf(c.stock, c.chloride).Of(NitriteLine)
		if line.Act.Or(0) != c.act {
			t.Errorf("%d kinds, chloride %v: act %v, not %g", len(c.stock), c.chloride, line.Act, c.act)
		}
	}
}

func TestOxygenOnlyForWaterBreathers(t *testing.T) {
	if _, ok := LinesOf(kept(t, "pond slider"), noChloride).Of(OxygenLine); ok {
		t.Error("a turtle has an oxygen line")
	}
	for _, stock := range [][]Kept{nil, kept(t, "guppy"), {{kept(t, "marsh frog")[0].Species, Larva}}} {
		if _, ok := LinesOf(stock, noChloride).Of(OxygenLine); !ok {
			t.Errorf("%v has no oxygen line", stock)
		}
	}
}

func TestAmmoniaTakesTheWorse(t *testing.T) {
	l := LinesOf(kept(t, "guppy"), noChloride)
	for _, c := range []struct {
		free        quantity.FreeAmmonia
		total, crit quantity.TotalAmmonia
		want        Standing
	}{
		{0.005, 0.1, 1.9, Standing{}},
		{0.005, 1.0, 1.9, Standing{Tier: Watch}},
		{0.005, 5, 1.9, Standing{ActNow, true}},
		{0.04, 0.1, 1.9, Standing{Tier: ActNow}},
		{0.005, 5, 0, Standing{}}, // no criterion known
	} {
		if got := l.Ammonia(c.free, c.total, c.crit); got != c.want {
			t.Errorf("%v: %v", c, got)
		}
	}
}

func TestOverrides(t *testing.T) {
	l := LinesOf(kept(t, "guppy"), noChloride)
	tight, err := l.With(Override{NitrateLine, ActLine, 4}, Override{OxygenLine, ActLine, 7})
	if err != nil {
		t.Fatal(err)
	}
	no3, _ := tight.Of(NitrateLine)
	if no3.Act.Or(0) != 4 || no3.Watch.Or(0) != 4 {
		t.Errorf("nitrate %+v: the watch line should have moved with the act line", no3)
	}
	if o, _ := tight.Of(OxygenLine); o.Watch.Or(0) != 7 {
		t.Errorf("oxygen %+v", o)
	}
	if before, _ := l.Of(NitrateLine); before.Act.Or(0) == 4 {
		t.Error("the lines given in were changed")
	}
	if loose, err := l.With(Override{KHLine, WatchLine, 2}); err != nil {
		t.Error(err)
	} else if line, _ := loose.Of(KHLine); line.Why[len(line.Why)-1].Code != WhyKeeperLooser {
		t.Error("a looser KH line does not say so")
	}
	for _, o := range []Override{
		{FreeAmmonia, ActLine, 0.04},
		{AmmoniaShare, ActLine, 2},
		{NitriteLine, EmergencyLine, 5},
		{OxygenLine, ActLine, 4},
		{OxygenSaturation, WatchLine, 0.5},
		{CopperShare, ActLine, 1.5},
	} {
		var loose LooserThanTable
		if _, err := l.With(o); !errors.As(err, &loose) {
			t.Errorf("%v: %v", o, err)
		}
	}
	for _, o := range []Override{{NitrateLine, EmergencyLine, 40}, {"smell", ActLine, 1}, {KHLine, "worry", 1}, {KHLine, ActLine, math.NaN()}} {
		var none NoSuchLine
		if _, err := l.With(o); !errors.As(err, &none) {
			t.Errorf("%v: %v", o, err)
		}
	}
}

// Whatever is asked, a line of a poison or of oxygen never ends looser, and lines keep their order.
func TestOverridesNeverLoosenPoison(t *testing.T) {
	base := LinesOf(kept(t, "guppy"), noChloride)
	rapid.Check(t, func(t *rapid.T) {
		l := base
		for range rapid.IntRange(1, 5).Draw(t, "n") {
			o := Override{
				Of:    rapid.SampledFrom([]Watched{FreeAmmonia, NitriteLine, OxygenLine, KHLine, NitrateLine, CopperShare}).Draw(t, "of"),
				Grade: rapid.SampledFrom([]Grade{WatchLine, ActLine, EmergencyLine}).Draw(t, "grade"),
				Value: rapid.Float64Range(0, 20).Draw(t, "value"),
			}
			if moved, err := l.With(o); err == nil {
				l = moved
			}
		}
		for i, line := range l.All {
			was := base.All[i]
			for _, pair := range [][2]Maybe[float64]{{was.Watch, line.Watch}, {was.Act, line.Act}, {was.Emergency, line.Emergency}} {
				a, ok := pair[0].Get()
				if b := pair[1].Or(0); ok && line.Of.Poison() && line.tighter(a, b) {
					t.Fatalf("%s loosened from %g to %g", line.Of, a, b)
				}
			}
			if a, ok := line.Act.Get(); ok && line.tighter(a, line.Watch.Or(a)) {
				t.Fatalf("%s: act %g is passed before watch %v", line.Of, a, line.Watch)
			}
		}
	})
}

func TestStepLimits(t *testing.T) {
	larvae := []Kept{{kept(t, "marsh frog")[0].Species, Larva}}
	for _, c := range []struct {
		name  string
		stock []Kept
		share quantity.Share
		temp  quantity.CelsiusDiff
	}{
		{"fish", kept(t, "guppy"), 0.15, 2},
		{"shrimp", kept(t, "guppy", "cherry shrimp"), 0.08, 2},
		{"crab", kept(t, "vampire crab"), 0.08, 2},
		{"newt", kept(t, "alpine newt"), 0.15, 1},
		{"larvae", larvae, 0.08, 1},
		{"frogs", kept(t, "marsh frog"), 0.15, 2},
		{"unknown", nil, 0.08, 1},
	} {
		s := StepLimitsOf(c.stock)
		if s.GH != c.share || s.EC != c.share || s.KH != c.share || s.Temperature != c.temp {
			t.Errorf("%s: %+v", c.name, s)
		}
	}
	s := StepLimitsOf(kept(t, "guppy"))
	if s.StepKH(2) != 0.5 || math.Abs(float64(s.StepKH(10)-1.5)) > 1e-12 {
		t.Errorf("KH steps %g and %g", s.StepKH(2), s.StepKH(10))
	}
	if got, err := s.Tightened(OwnSteps{EC: Known(quantity.Share(0.1))}); err != nil || got.EC != 0.1 || got.GH != 0.15 {
		t.Errorf("%+v, %v", got, err)
	}
	for _, own := range []OwnSteps{
		{GH: Known(quantity.Share(0.2))},
		{KH: Known(quantity.Share(-0.1))},
		{Temperature: Known(quantity.CelsiusDiff(3))},
		{EC: Known(quantity.Share(math.NaN()))},
	} {
		var loose LooserThanTable
		if _, err := s.Tightened(own); !errors.As(err, &loose) {
			t.Errorf("%+v: %v", own, err)
		}
	}
}
