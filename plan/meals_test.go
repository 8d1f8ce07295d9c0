package plan

import (
	"math"
	"testing"
	"time"

	"halfwater/book"
	"halfwater/husbandry"
	"halfwater/infer"
	"halfwater/quantity"
)

// TestMealsGoOn: meals of the last four weeks that were written one by one go on as their mean a day; those of before, of another water, and a
// habit that is in the book, do not; a habit of the same food is not ended by them.
func TestMealsGoOn(t *testing.T) {
	now := time.Date(2026, 5, 24, 18, 0, 0, 0, time.UTC)
	v := &visit{Input: Input{Now: now, Belief: infer.Belief{Water: book.MainWater}}, on: now}
	add := func(days int, water string, f book.Feed) {
		v.Lines = append(v.Lines, book.Line{At: now.AddDate(0, 0, -days), Water: water, Body: f})
	}
	add(60, book.MainWater, book.Feed{What: "worms", Grams: 50})
	add(50, book.MainWater, book.Feed{What: "dry", Grams: 0.2, PerDay: true, InWater: true})
	for _, d := range []int{27, 20, 13, 6} {
		add(d, book.MainWater, book.Feed{What: "worms", Grams: 3.5, InWater: true})
	}
	add(5, "other tank", book.Feed{What: "worms", Grams: 100})
	add(4, book.MainWater, book.Feed{What: "dry", Grams: 1.4, InWater: true})
	got := map[string]book.Feed{}
	for _, l := range v.mealsAhead() {
		f := l.Body.(book.Feed)
		got[f.What] = f
	}
	if w, d := got["worms"], got["dry"]; len(got) != 2 || !w.PerDay || math.Abs(float64(w.Grams)-0.5) > 1e-9 || math.Abs(float64(d.Grams)-0.25) > 1e-9 || !w.InWater {
		t.Errorf("%+v", got)
	}
}

// TestMealsOfAYoungBook: two meals in a book of ten days are not spread over four weeks.
func TestMealsOfAYoungBook(t *testing.T) {
	now := time.Date(2026, 5, 24, 18, 0, 0, 0, time.UTC)
	v := &visit{Input: Input{Now: now, Belief: infer.Belief{Water: book.MainWater}}, on: now}
	for _, d := range []int{10, 3} {
		v.Lines = append(v.Lines, book.Line{At: now.AddDate(0, 0, -d), Water: book.MainWater, Body: book.Feed{What: "worms", Grams: 5}})
	}
	if out := v.mealsAhead(); len(out) != 1 || math.Abs(float64(out[0].Body.(book.Feed).Grams)-1) > 1e-9 {
		t.Errorf("%+v", out)
	}
}

// TestReadAgainFirst: a last reading that lies far from what was expected is to be made again before anything else; an older one, or one that
// says nothing, is not spoken of. Tests after the visit are no later than a concern asks.
func TestReadAgainFirst(t *testing.T) {
	now := time.Date(2026, 5, 24, 18, 0, 0, 0, time.UTC)
	far := func(of quantity.Measurand, line book.ID, lo, hi float64) infer.Doubtful {
		return infer.Doubtful{Of: of, Line: line, Code: "infer.reading-far", Shown: quantity.Range[float64]{Lo: lo, Hi: hi}, Expected: quantity.Band[float64]{Lo: 1, Median: 1.5, Hi: 2}}
	}
	v := &visit{Input: Input{Now: now, Belief: infer.Belief{
		Doubtful: []infer.Doubtful{far(quantity.OfWaterTemp, "t", 32.9, 33.1), far(quantity.OfKH, "old", 0, 1), far(quantity.OfTAN, "a", 2.2, 100)},
		Evidence: map[quantity.Measurand]infer.Evidence{
			quantity.OfWaterTemp: {Readings: []book.ID{"t"}}, quantity.OfKH: {Readings: []book.ID{"new", "old"}}, quantity.OfTAN: {Readings: []book.ID{"a"}},
		},
	}}, on: now}
	out := v.readAgain()
	if len(out) != 2 || out[0].Code != "plan.read-again" || out[0].Of != quantity.OfWaterTemp || out[0].Tier != husbandry.Watch ||
		out[1].Code != "plan.read-again-now" || out[1].Value != 2.2 {
		t.Errorf("%+v", out)
	}
	if weight(out[0]) <= weight(Concern{Tier: husbandry.ActNow}) {
		t.Error("it does not come first")
	}
	soon := now.Add(12 * time.Hour)
	s := Sheet{Siphon: &Siphon{}, Concerns: []Concern{{Of: quantity.OfNO2, Tier: husbandry.ActNow, LookAgain: soon}}}
	for _, d := range v.tests(&s) {
		if d.Of == quantity.OfNO2 && !d.At.Equal(soon) {
			t.Errorf("nitrite is tested %s, to be looked at again %s", d.At, soon)
		}
	}
}

// TestSourIsTold: a pH that is low because KH is stays quiet beside it, but not where nitrification all but stops.
func TestSourIsTold(t *testing.T) {
	for ph, quietly := range map[float64]bool{6.8: true, 5.5: false} {
		list := []Concern{{Code: "plan.kh-low-act", Of: quantity.OfKH}, {Code: "plan.ph-low", Of: quantity.OfPH, Value: ph}}
		quiet(list)
		if got := list[1].DependsOn != ""; got != quietly {
			t.Errorf("pH %.1f stays quiet: %v", ph, got)
		}
	}
}
