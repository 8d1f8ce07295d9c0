package keeper_test

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"testing"
	"time"

	"halfwater/book"
	"halfwater/demo"
	"halfwater/internal/files"
	"halfwater/internal/keeper"
)

// riverbank is a keeper of the invented enclosure, whose beliefs take long enough to be left.
func riverbank(t *testing.T) *keeper.Keeper {
	t.Helper()
	n := 0
	o := files.Options{Now: demo.Clock(), Zone: time.Local, NewID: func() book.ID { n++; return book.ID(fmt.Sprintf("%06d", n)) }}
	lines, err := files.ReadPair(bytes.NewReader(demo.Enclosure), bytes.NewReader(demo.Book), o)
	if err != nil {
		t.Fatal(err)
	}
	return keeper.New(shelf{"home": lines}, demo.Clock)
}

// An outlook that is left while the look or what lies ahead is worked out is not remembered as found, and comes
// afterwards as if nobody had left; progress goes from nothing to all over both.
func TestAnOutlookThatIsLeft(t *testing.T) {
	if testing.Short() {
		t.Skip("works a whole book out four times: a minute under the race detector")
	}
	want, o, err := riverbank(t).Outlook(context.Background(), "home", 4, nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, at := range []float64{0.3, 0.85} {
		k := riverbank(t)
		ctx, leave := context.WithCancel(context.Background())
		_, _, err := k.Outlook(ctx, "home", 4, func(share float64) {
			if share >= at {
				leave()
			}
		})
		if leave(); !errors.Is(err, context.Canceled) {
			t.Errorf("left at %g: %v", at, err)
		}
		if _, _, had, err := k.LastOutlook(context.Background(), "home", 4); had || err != nil {
			t.Errorf("left at %g, and yet it is at hand (%v)", at, err)
		}
		told := []float64{-1}
		look, again, err := k.Outlook(context.Background(), "home", 4, func(share float64) { told = append(told, share) })
		if err != nil || fmt.Sprint(look.Belief.Draws, again) != fmt.Sprint(want.Belief.Draws, o) {
			t.Errorf("after it was left at %g another comes: %v", at, err)
		}
		for i := 1; i < len(told); i++ {
			if told[i] < told[i-1] {
				t.Errorf("went back from %g to %g", told[i-1], told[i])
			}
		}
		if told[len(told)-1] != 1 {
			t.Errorf("ends at %g", told[len(told)-1])
		}
		if _, _, had, err := k.LastOutlook(context.Background(), "home", 4); !had || err != nil {
			t.Errorf("it is not at hand (%v)", err)
		}
	}
}
