package change_test

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"halfwater/change"
	"halfwater/husbandry"
	"halfwater/quantity"
)

// "Tank is GH 9, want 6 with pure RO; 80 L." One change would be a third, 26.7 L. With crustaceans
// or amphibian larvae steps of 8 %: five days of 7.8 %, 31.2 L in all; otherwise steps of 15 %:
// three days of 12.6 %, 30.3 L. Worked by hand, 1 - (2/3)^(1/n).
func ExampleStaged() {
	x, _ := change.ShareToReach[quantity.Hardness](9, 6, 0)
	fmt.Printf("at once %.1f L\n", 80*float64(x))
	for _, limit := range []quantity.Share{0.08, 0.15} {
		p, _ := change.Staged[quantity.Hardness](9, 6, 0, limit)
		fmt.Printf("%d days of %.1f %%, %.1f L in all\n", p.Days, 100*float64(p.Share), float64(p.Litres(80)))
	}
	// Output:
	// at once 26.7 L
	// 5 days of 7.8 %, 31.2 L in all
	// 3 days of 12.6 %, 30.3 L in all
}

// Every step of a path keeps its limit, the path arrives, and one day less would not do.
func TestStagedKeepsItsLimit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		now := rapid.Float64Range(0.5, 30).Draw(t, "now")
		source := rapid.Float64Range(0, 30).Draw(t, "source")
		part := rapid.Float64Range(0.05, 0.95).Draw(t, "part of the way")
		limit := rapid.SampledFrom([]quantity.Share{0.08, 0.15}).Draw(t, "limit")
		target := now + part*(source-now)
		p, ok := change.Staged(now, target, source, limit)
		if math.Abs(source-now) < 1e-6 {
			return
		}
		if !ok {
			if x := 1 - math.Pow(1-part, 1./60); x*math.Abs(source-now)/now <= float64(limit) {
				t.Fatalf("no path from %v to %v with %v", now, target, source)
			}
			return // it would take more than two months
		}
		c := now
		for range p.Days {
			next := change.After(c, source, p.Share, 1)
			if math.Abs(next-c) > float64(limit)*c*(1+1e-9) {
				t.Fatalf("a step from %v to %v passes %v", c, next, limit)
			}
			c = next
		}
		if math.Abs(c-target) > 1e-9*(1+target) {
			t.Fatalf("arrives at %v, not %v", c, target)
		}
		if p.Days > 1 {
			x := 1 - math.Pow((target-source)/(now-source), 1/float64(p.Days-1))
			if first := math.Abs(x * (source - now) / now); first <= float64(limit) {
				t.Fatalf("%d days would have done", p.Days-1)
			}
		}
	})
}

// The greatest share sits on a limit: a little more is refused, itself is not.
func TestGreatestShareSitsOnItsLimit(t *testing.T) {
	limits := husbandry.StepLimits{GH: 0.15, EC: 0.15, KH: 0.15, LeastKH: 0.5, Temperature: 2}
	level := func(t *rapid.T, name string) change.Levels {
		f := func(of string, lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(t, name+of) }
		return change.Levels{
			GH: quantity.Hardness(f(" gh", 1, 25)), KH: quantity.Alkalinity(f(" kh", 0, 20)),
			EC: quantity.Conductivity(f(" ec", 20, 1500)), Temp: quantity.Celsius(f(" temp", 5, 30)),
		}
	}
	over := func(now, with change.Levels, x quantity.Share) bool {
		for _, s := range change.StepCheck(now, now.Poured(with, x), limits) {
			if s.Over() {
				return true
			}
		}
		return false
	}
	rapid.Check(t, func(t *rapid.T) {
		now, with := level(t, "now"), level(t, "with")
		x, of := change.GreatestShare(now, with, limits)
		if over(now, with, x) {
			t.Fatalf("%v is itself too much", x)
		}
		if of != "" && !over(now, with, x*1.001) {
			t.Fatalf("%v is not the greatest: %s does not bind", x, of)
		}
	})
	now := change.Levels{GH: 8, KH: quantity.Alkalinity(math.NaN()), EC: quantity.Conductivity(math.NaN()), Temp: quantity.Celsius(math.NaN())}
	if x, of := change.GreatestShare(now, change.Levels{GH: 16}, limits); of != quantity.OfGH || math.Abs(float64(x)-0.15) > 1e-12 {
		t.Errorf("with only GH known: %v by %q", x, of)
	}
}

// A cut change replaces as much of the old water as the one it was cut from.
func TestDaysReplaceAsMuch(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		share := quantity.Share(rapid.Float64Range(0, 0.9).Draw(t, "share"))
		most := quantity.Share(rapid.Float64Range(0.05, 0.9).Draw(t, "most"))
		p, ok := change.Days(share, most)
		if !ok || p.Share > most*(1+1e-9) {
			t.Fatalf("%+v %v for %v within %v", p, ok, share, most)
		}
		if old := change.After(1., 0, p.Share, p.Days); math.Abs(old-(1-float64(share))) > 1e-9 {
			t.Fatalf("%+v leaves %v of the old water, not %v", p, old, 1-share)
		}
	})
}
