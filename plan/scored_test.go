package plan_test

import (
	"fmt"
	"math/rand/v2"
	"testing"
	"time"

	"halfwater/book"
	"halfwater/enclosure"
	"halfwater/kit"
	"halfwater/plan"
	"halfwater/quantity"
)

// shown are 20 weeks of outlooks for KH, each with a band as wide as claimed times the real doubt, and of
// readings by drops or by a fine pen.
func shown(seed uint64, claimed float64, k kit.Kit) plan.Scored {
	r := rand.New(rand.NewPCG(seed, 3))
	var lines []book.Line
	add := func(at time.Time, body book.Body) {
		lines = append(lines, book.Line{ID: book.ID(fmt.Sprintf("%d-%04d", seed, len(lines))), At: at, Recorded: at, Water: book.MainWater, By: book.Keeper, Body: body})
	}
	const doubt = 1.0
	err := k.Error(sunday)
	for wk := range 20 {
		at := sunday.AddDate(0, 0, 7*wk)
		middle := 8 + 2*r.Float64()
		half := claimed * doubt * 1.2815515655446004
		add(at, book.ShownOutlook{Bands: []book.ShownBand{{Of: quantity.OfKH, On: at.AddDate(0, 0, 7), Lo: middle - half, Median: middle, Hi: middle + half}}})
		truth := middle + doubt*r.NormFloat64()
		at = at.AddDate(0, 0, 7).Add(-time.Hour)
		text := k.Shows(truth + err.SD*r.NormFloat64())
		iv, fault := k.Read(text, at)
		if fault != nil {
			panic(fault)
		}
		add(at, book.Reading{Of: k.Of, Kit: k.Name, Shown: text, Unit: k.Unit, Lo: iv.Lo, Hi: iv.Hi})
	}
	return plan.ScoreShown(lines, enclosure.Facts{Kits: []kit.Kit{k}}, sunday.AddDate(0, 0, 200))
}

// TestOutlooksThatDoNotHoldWiden halves the doubt on purpose: a band of half the width holds the truth 48 % of
// the time (normal; a little more with the error of the drops counted in), so within 20 readings it is mostly
// found out; an honest band is widened about once in a hundred times (binomial).
func TestOutlooksThatDoNotHoldWiden(t *testing.T) {
	const books = 200
	for _, k := range []kit.Kit{
		{Name: "fine drops", Of: quantity.OfKH, Form: kit.Drops, Unit: "dKH", PerDrop: 0.1},
		{Name: "drops", Of: quantity.OfKH, Form: kit.Drops, Unit: "dKH", PerDrop: 0.5},
	} {
		halved, honest, held := 0, 0, 0
		for seed := range uint64(books) {
			if shown(seed, 0.5, k).Wider() > 1 {
				halved++
			}
			s := shown(seed, 1, k)
			if s.N != 20 {
				t.Fatalf("%d readings counted", s.N)
			}
			held += s.Held
			if s.Wider() > 1 {
				honest++
			}
		}
		t.Logf("%s: widened %d of %d halved, %d of %d honest; honest bands held %.0f %%", k.Name, halved, books, honest, books, 100*float64(held)/(20*books))
		if halved < books/2 {
			t.Errorf("%s: only %d of %d halved outlooks widen", k.Name, halved, books)
		}
		if honest > books/20 {
			t.Errorf("%s: %d of %d honest outlooks widen", k.Name, honest, books)
		}
		if share := float64(held) / (20 * books); share < 0.78 || share > 0.82 { // three standard errors
			t.Errorf("%s: honest bands hold %.3f of readings, want 0.8", k.Name, share)
		}
	}
}

// TestScoreNothing: without an outlook nothing is scored and nothing widens.
func TestScoreNothing(t *testing.T) {
	if s := plan.ScoreShown(nil, enclosure.Facts{}, sunday); s.N != 0 || s.Wider() != 1 {
		t.Error(s)
	}
}
