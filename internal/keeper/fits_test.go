package keeper_test

import (
	"context"
	"strings"
	"testing"
	"time"

	"halfwater/book"
	"halfwater/enclosure"
	"halfwater/internal/keeper"
	"halfwater/internal/say"
	"halfwater/kit"
	"halfwater/quantity"
	"halfwater/water"
)

// TestWhatToTryAKitBy: ammonia that is higher than expected is acted on, lower is not believed; each kind of kit is tried by what it can be.
func TestWhatToTryAKitBy(t *testing.T) {
	for _, c := range []struct {
		e          keeper.Expected
		says, lack string
	}{
		{keeper.Expected{Of: quantity.OfTAN, Form: kit.Card, High: true}, "act as if it were right", "go by what"},
		{keeper.Expected{Of: quantity.OfTAN, Form: kit.Card}, "go by what was expected", "act as if"},
		{keeper.Expected{Of: quantity.OfNO3, Form: kit.Card, High: true}, "must show 0", "act as if"},
		{keeper.Expected{Of: quantity.OfKH, Form: kit.Drops}, "first drop must turn", "show 0"},
		{keeper.Expected{Of: quantity.OfPH, Form: kit.Strip}, "whose pH is known", "RO"},
		{keeper.Expected{Of: quantity.OfWaterTemp, Form: kit.Meter}, "a second one", "RO"},
	} {
		got := say.Sentence("door.fits-not", c.e)
		if !strings.Contains(got, c.says) || strings.Contains(got, c.lack) {
			t.Errorf("%s by %s, high %v: %s", c.e.Of.Label(), c.e.Form, c.e.High, got)
		}
	}
}

// TestOtherWaterIsNotExpected: a reading of the RO or of a bucket is not held against the tank; one of its cool end is.
func TestOtherWaterIsNotExpected(t *testing.T) {
	_, s := night()
	k := keeper.New(s, func() time.Time { return nightfall })
	drops := kit.Kit{Name: "KH drops", Of: quantity.OfKH, Form: kit.Drops, Unit: "dKH", PerDrop: 1}
	for _, fact := range []book.Body{drops, enclosure.SourceWater{Name: "RO", Analysis: water.Analysis{Kind: water.RO}}} {
		if _, err := k.Write(context.Background(), "home", keeper.Entry{Body: fact, At: nightfall.Add(-2 * time.Hour)}); err != nil {
			t.Fatal(err)
		}
	}
	read := func(place string) bool {
		kept, err := k.Reading(context.Background(), "home", keeper.ReadingEntry{Kit: drops.Name, Shown: "4", Place: place})
		if err != nil {
			t.Fatal(err)
		}
		return kept.Expected != nil
	}
	read("") // from now on something is expected
	for place, expected := range map[string]bool{"": true, "tank": true, "cool end": true, "bucket": false, "RO": false} {
		if got := read(place); got != expected {
			t.Errorf("of %q something is expected: %v", place, got)
		}
	}
}
