package keeper_test

import (
	"context"
	"slices"
	"strings"
	"testing"

	"halfwater/enclosure"
	"halfwater/internal/keeper"
	"halfwater/internal/say"
	"halfwater/kit"
	"halfwater/quantity"
)

// Why a pen counts for less is said with the reading; a fresh one has nothing said of it.
func TestNotesOfAReading(t *testing.T) {
	k, s := night()
	pen := kit.Kit{Name: "pen", Of: quantity.OfPH, Form: kit.Meter, Unit: "pH", Accuracy: 0.1, Digit: 0.01}
	fresh := pen
	fresh.Name, fresh.Calibrated = "fresh pen", nightfall.AddDate(0, 0, -5)
	s["home"] = append(s["home"], fact(pen), fact(fresh), fact(enclosure.About{Name: "Riverbank"}))
	for name, want := range map[string][]kit.Note{"pen": {kit.NeverCalibrated}, "fresh pen": nil} {
		got, err := k.Reading(context.Background(), "home", keeper.ReadingEntry{Kit: name, Shown: "6,9"})
		if err != nil || !slices.Equal(got.Notes, want) {
			t.Errorf("%s: %v, %v", name, err, got.Notes)
		}
		again, err := k.Kept(context.Background(), "home", got.Line.ID)
		if err != nil || !slices.Equal(again.Notes, want) {
			t.Errorf("%s again: %v, %v", name, err, again.Notes)
		}
		for _, n := range got.Notes {
			if text := say.Sentence(string(n), got.Line.Body); !strings.Contains(text, "as far as the book knows, so it counts wider") {
				t.Error(text)
			}
		}
	}
	for _, n := range []kit.Note{kit.OutOfDate, kit.CalibrationOld, kit.NeverCalibrated, kit.CoarseStrip, kit.WithoutKit, kit.FactorNotPrinted, kit.BasisNotStated} {
		if !say.Has(string(n)) {
			t.Errorf("%s has no sentence", n)
		}
	}
}

// A level above the glass is refused with what was meant.
func TestLevelAboveTheGlass(t *testing.T) {
	k, _ := night()
	_, err := k.Reading(context.Background(), "home", keeper.ReadingEntry{Of: quantity.OfLevel, Unit: "cm", Shown: "235"})
	f, ok := err.(*keeper.Fault)
	if !ok || f.Field != "shown" || !slices.Equal(f.Likely, []string{"23.5"}) {
		t.Errorf("%+v", err)
	}
}
