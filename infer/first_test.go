package infer_test

import (
	"testing"
	"time"

	"halfwater/book"
	"halfwater/enclosure"
	"halfwater/infer"
	"halfwater/kit"
	"halfwater/quantity"
	"halfwater/water"
)

// One reading of a card, and nothing else: the middle of the belief lies in the class that was
// shown, and P(truth <= 40) after "20" is about 0.957 (a flat logarithmic prior blurred by sd ln 0.35:
// the reference's own arithmetic, which pins the method and proves nothing about a card).
func TestTheFirstColourIsNotDrawnOut(t *testing.T) {
	card := kit.Kit{Name: "card", Of: quantity.OfNO3, Form: kit.Card, Unit: "mg/L", Basis: quantity.AsNO3, Steps: []float64{0, 5, 10, 20, 40, 80, 160}}
	at := time.Date(2026, 3, 10, 10, 0, 0, 0, time.UTC)
	tap := enclosure.SourceWater{Name: "tap", Analysis: water.Analysis{
		GH: water.Stated[quantity.Hardness](8), KH: water.Stated[quantity.Alkalinity](5), NO3: water.Stated(quantity.NitrateAsNO3(30)),
	}}
	for _, shown := range []string{"10", "20", "40"} {
		iv, err := card.Read(shown, at)
		if err != nil {
			t.Fatal(err)
		}
		fact := func(id string, b book.Body) book.Line {
			return book.Line{ID: book.ID(id), At: at.AddDate(0, 0, -1), Recorded: at.AddDate(0, 0, -1), Body: b}
		}
		window := infer.Window{At: at, Recorded: at, Seed: 1, Lines: []book.Line{
			fact("1", enclosure.Basin{Length: 800, Width: 400, Height: 400, FullMark: 300}), fact("2", tap), fact("3", card),
			{ID: "4", At: at, Recorded: at, Water: book.MainWater, Body: book.Reading{
				Of: card.Of, Kit: card.Name, Shown: shown, Unit: card.Unit, Basis: card.Basis, Lo: iv.Lo, Hi: iv.Hi,
			}},
		}}
		b, err := infer.Believe(window)
		if err != nil {
			t.Fatal(err)
		}
		band, ok := b.Band(quantity.OfNO3)
		if !ok || band.Median < iv.Lo || band.Median > iv.Hi {
			t.Errorf("shown %s: about %.0f, outside its class %.0f to %.0f mg/L as NO3", shown,
				quantity.Nitrate(band.Median).AsNO3(), quantity.Nitrate(iv.Lo).AsNO3(), quantity.Nitrate(iv.Hi).AsNO3())
		}
		if shown == "20" { // by the first look, which knows no doubt about the lot and none of what was before
			first, err := infer.Glance(window)
			if err != nil {
				t.Fatal(err)
			}
			p := first.Chance(func(d infer.Draw) bool { return d.NO3.AsNO3() <= 40 })
			if p < 0.93 {
				t.Errorf("P(truth <= 40) after 20 is %.3f, about 0.957 by the flat logarithmic prior", p)
			}
		}
	}
}
