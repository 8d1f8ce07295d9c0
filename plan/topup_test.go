package plan_test

import (
	"slices"
	"strings"
	"testing"
	"time"

	"halfwater/book"
	"halfwater/enclosure"
	"halfwater/husbandry"
	"halfwater/infer"
	"halfwater/internal/say"
	"halfwater/plan"
	"halfwater/quantity"
)

// 240 mm is full. At 200 a sixth or so is gone: GH 7.5 where 7 is borne is 6.3 at the full mark, so
// the top-up comes first and GH stays quiet. Under the stop line (140) it is to be acted on.
func TestTopUpComesBeforeWhatItThickens(t *testing.T) {
	f := riverbank()
	f.Wanted = []enclosure.RangeWanted{wants(quantity.OfGH, 4, 6.8)}
	f.Sources[0] = likeTank()
	d := about()
	d.GH = 7.6
	for level, tier := range map[float64]husbandry.Tier{240: 0, 200: husbandry.Watch, 120: husbandry.ActNow} {
		lines := []book.Line{{ID: "1", At: sunday.Add(-time.Hour), Water: "main", Body: book.Reading{Of: quantity.OfLevel, Lo: level - 0.5, Hi: level + 0.5}}}
		s := plan.Write(plan.Input{Belief: exactly(d), Facts: f, Lines: lines, Now: sunday})
		c, ok := concern(s, "plan.top-up-first")
		if ok != (tier > 0) || c.Tier != tier {
			t.Fatalf("at %v mm: %+v", level, s.Concerns)
		}
		high, is := concern(s, "plan.out-high")
		if !is || (high.DependsOn == "plan.top-up-first") != ok {
			t.Errorf("at %v mm GH: %+v", level, high)
		}
		if ok && (s.Concerns[0].Code != c.Code || c.Source != "RO" || !strings.Contains(say.Sentence(c.Code, c), "Top up with RO")) {
			t.Errorf("at %v mm first: %+v", level, s.Concerns[0])
		}
	}
}

// spreadNO2 is a belief in which one draw in n is far past the act line.
func spreadNO2(n int, last time.Time) infer.Belief {
	b := exactly(about())
	for i := range b.Draws {
		if i%n == 0 {
			b.Draws[i].NO2 = 2
		}
	}
	b.Evidence = map[quantity.Measurand]infer.Evidence{quantity.OfNO2: {Last: last}}
	return b
}

// A nitrite read a month ago whose chance has crept past 1 in 20 asks for a test; read last week, or
// with greater odds, it stays the alarm that it was.
func TestOldReadingAsksForATest(t *testing.T) {
	old, lately := sunday.AddDate(0, 0, -30), sunday.AddDate(0, 0, -6)
	for _, c := range []struct {
		n    int
		last time.Time
		want bool
	}{{13, old, true}, {13, lately, false}, {4, old, false}} {
		s := write(spreadNO2(c.n, c.last), riverbank())
		got, ok := concern(s, "plan.stale-test")
		if _, alarm := concern(s, "plan.nitrite-act"); ok != c.want || alarm == c.want {
			t.Fatalf("1 in %d of %v: %+v", c.n, c.last, s.Concerns)
		}
		if ok && (got.Tier != husbandry.Watch || !got.Last.Equal(old) || !strings.Contains(say.Sentence(got.Code, got), "Test nitrite today: last read Friday 23 October")) {
			t.Errorf("%+v: %s", got, say.Sentence(got.Code, got))
		}
	}
}

// Within a tier the greater odds come first.
func TestConcernsStandByTheirOdds(t *testing.T) {
	s := write(spreadNO2(13, sunday.AddDate(0, 0, -30)), riverbank())
	if !slices.IsSortedFunc(s.Concerns, func(a, b plan.Concern) int { return int(b.Tier) - int(a.Tier) }) {
		t.Fatalf("tiers: %+v", s.Concerns)
	}
	for i := 1; i < len(s.Concerns); i++ {
		a, b := s.Concerns[i-1], s.Concerns[i]
		if a.Tier == b.Tier && a.Chance < b.Chance {
			t.Errorf("%s (%v) stands before %s (%v)", a.Code, a.Chance, b.Code, b.Chance)
		}
	}
}

// Low KH and high pH: more KH is asked for, so nobody is told to pour less of it; and when today's mix
// raises KH the sheet says to what.
func TestLowKHAsksForOneThing(t *testing.T) {
	f := riverbank()
	f.Basin = nil
	f.Wanted = []enclosure.RangeWanted{wants(quantity.OfPH, 6.5, 7)}
	d := about()
	d.KH, d.PH, d.TAN = 1.5, 8, 0
	s := write(exactly(d), f)
	low, ok := concern(s, "plan.kh-low-watch")
	high, is := concern(s, "plan.ph-high")
	if !ok || !is || high.DependsOn != low.Code {
		t.Fatalf("KH %+v, pH %+v", low, high)
	}
	if after := effect(t, s.Effects, quantity.OfKH, false).After.Median; low.Raised != after || !strings.Contains(say.Sentence(low.Code, low), "Today's mix raises it to") {
		t.Errorf("raised to %v, the mix brings %v: %s", low.Raised, after, say.Sentence(low.Code, low))
	}
}
