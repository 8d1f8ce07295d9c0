package infer

import (
	"context"
	"errors"
	"testing"

	"halfwater/book"
	"halfwater/kit"
	"halfwater/quantity"
)

// TestLearnExactlyStops: it tells how far it is, ends when told to, and refuses a book that means two things. What
// comes of it is tried in the long tests.
func TestLearnExactlyStops(t *testing.T) {
	e := newTruth(21, "plain")
	e.keep(3)
	at := day0.AddDate(0, 0, 22)
	w := Window{Lines: e.lines, At: at, Recorded: at, Seed: 1}
	ctx, stop := context.WithCancel(context.Background())
	told := 0
	_, err := LearnExactly(ctx, w, func(done, of int) {
		if told++; done != told || of != patience.Warm+patience.Rounds {
			t.Errorf("round %d of %d, told %d times", done, of, told)
		}
		if done == 2 {
			stop()
		}
	})
	if !errors.Is(err, context.Canceled) || told != 2 {
		t.Errorf("%v after %d rounds", err, told)
	}

	e.write(at, kit.Kit{Name: "old card", Of: quantity.OfNO3, Form: kit.Card, Unit: "mg/L", Basis: quantity.NotStated, Steps: []float64{0, 5, 10, 25, 50}})
	e.write(at, book.Reading{Of: quantity.OfNO3, Kit: "old card", Shown: "10", Unit: "mg/L", Basis: quantity.NotStated, Lo: 1, Hi: 16})
	w.Lines = e.lines
	var open BasisOpen
	if _, err := LearnExactly(context.Background(), w, nil); !errors.As(err, &open) || open.Kit != "old card" {
		t.Error(err)
	}
}
