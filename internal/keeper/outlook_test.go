package keeper_test

import (
	"context"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"halfwater/book"
	"halfwater/internal/keeper"
)

// TestOutlookIsWorkedOutOnce: asked by several at once, one look and one outlook are worked out and all get them; a
// line more makes another.
func TestOutlookIsWorkedOutOnce(t *testing.T) {
	ctx := context.Background()
	_, s := night()
	var asked atomic.Int64 // each look at the clock is a moment later, so that two looks have two moments
	k := keeper.New(s, func() time.Time { return nightfall.Add(time.Duration(asked.Add(1)) * time.Second) })
	moments := make([]time.Time, 8)
	var wait sync.WaitGroup
	for i := range moments {
		wait.Add(1)
		go func() {
			defer wait.Done()
			look, o, err := k.Outlook(ctx, "home", 4, nil)
			if err != nil || len(o.Eves) == 0 || !o.From.Equal(look.At) {
				t.Errorf("%d: %v, from %v, look of %v", i, err, o.From, look.At)
			}
			moments[i] = look.At
		}()
	}
	wait.Wait()
	for _, at := range moments {
		if !at.Equal(moments[0]) {
			t.Errorf("looks of %v and of %v", moments[0], at)
		}
	}
	if _, err := k.Write(ctx, "home", keeper.Entry{Body: book.Note{Text: "seen at dusk"}}); err != nil {
		t.Fatal(err)
	}
	look, o, err := k.Outlook(ctx, "home", 4, nil)
	if err != nil || look.At.Equal(moments[0]) || !o.From.Equal(look.At) {
		t.Errorf("after one more line: %v, from %v, look of %v", err, o.From, look.At)
	}
	if look.OutlookKept() {
		t.Error("an outlook was kept that nobody asked to keep")
	}
	for range 2 { // twice on a day is once
		if err := k.KeepShown(ctx, "home", look, o, "test"); err != nil {
			t.Fatal(err)
		}
		at := look.At
		if look, _, err = k.Outlook(ctx, "home", 4, nil); err != nil || !look.OutlookKept() {
			t.Fatalf("%v, kept %v", err, look.OutlookKept())
		}
		if !look.At.Equal(at) {
			t.Errorf("that it was kept made all of %v be worked out again", at)
		}
	}
	n := 0
	for _, l := range look.Lines {
		if _, ok := l.Body.(book.ShownOutlook); ok {
			n++
		}
	}
	if n != 1 {
		t.Errorf("%d outlooks are kept", n)
	}
}
