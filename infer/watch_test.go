package infer

import (
	"context"
	"errors"
	"fmt"
	"reflect"
	"testing"
	"time"

	"halfwater/book"
)

// long is the window of a book that has half years before its window, and moments ahead of it.
func long(t *testing.T) (w Window, ahead []time.Time) {
	t.Helper()
	e := newTruth(11, "plain")
	e.keep(60)
	at := day0.AddDate(0, 0, 7*60+3)
	for week := range 4 {
		ahead = append(ahead, at.AddDate(0, 0, 7*(week+1)))
	}
	return Window{Lines: e.lines, At: at, Recorded: at, Seed: 1}, ahead
}

// waits are the works of this package that somebody waits for.
func waits(t *testing.T) map[string]func(context.Context, func(float64)) (any, error) {
	w, ahead := long(t)
	less := w
	less.Lines = w.Lines[:len(w.Lines)-1]
	before, err := Believe(less)
	if err != nil {
		t.Fatal(err)
	}
	more := w
	more.Before = &before
	glance, err := Glance(w)
	if err != nil {
		t.Fatal(err)
	}
	from := func(b Belief) func(context.Context, func(float64)) (any, error) {
		return func(ctx context.Context, p func(float64)) (any, error) {
			out, err := ForeseeContext(ctx, b, nil, ahead, p)
			var draws [][]Draw
			for _, x := range out {
				draws = append(draws, x.Draws)
			}
			return draws, err
		}
	}
	believe := func(w Window) func(context.Context, func(float64)) (any, error) {
		return func(ctx context.Context, p func(float64)) (any, error) {
			b, err := BelieveContext(ctx, w, p)
			return []any{b.Draws, b.Contradictions}, err
		}
	}
	return map[string]func(context.Context, func(float64)) (any, error){
		"a belief": believe(w), "a belief of one line more": believe(more), "an outlook": from(before), "an outlook from the first look": from(glance),
		"what was learnt": func(ctx context.Context, p func(float64)) (any, error) { return LearnContext(ctx, w, p) },
	}
}

// TestWaited: who waits is told more and more up to all; who goes away at any stage, the half years before the window
// among them, gets the error of the context and nothing else; and asked again the same comes as if nothing had been.
func TestWaited(t *testing.T) {
	for name, work := range waits(t) {
		var told []float64
		want, err := work(context.Background(), func(share float64) { told = append(told, share) })
		if err != nil {
			t.Fatal(name, err)
		}
		for i := range told {
			if i > 0 && told[i] < told[i-1] {
				t.Errorf("%s went back from %g to %g", name, told[i-1], told[i])
			}
		}
		if len(told) == 0 || told[len(told)-1] != 1 {
			t.Fatalf("%s told %v", name, told)
		}
		for _, at := range []float64{0, 0.3, 0.7} {
			if len(told) < 2 || at > told[len(told)-2] {
				break // after that nothing is told but the end
			}
			ctx, leave := context.WithCancel(context.Background())
			left := 0
			_, err := work(ctx, func(share float64) {
				if share >= at {
					leave()
					left++
				}
			})
			if !errors.Is(err, context.Canceled) || left != 1 {
				t.Errorf("%s left at %g: %v, told %d times more", name, at, err, left-1)
			}
		}
		ctx, leave := context.WithCancel(context.Background())
		leave()
		if _, err := work(ctx, nil); !errors.Is(err, context.Canceled) {
			t.Errorf("%s began for nobody: %v", name, err)
		}
		if again, err := work(context.Background(), nil); err != nil || fmt.Sprint(again) != fmt.Sprint(want) {
			t.Errorf("%s is another after it was left: %v", name, err)
		}
	}
}

// TestALateStop: a deadline is told from a stop.
func TestALateStop(t *testing.T) {
	w, _ := long(t)
	ctx, leave := context.WithTimeout(context.Background(), time.Nanosecond)
	defer leave()
	<-ctx.Done()
	b, err := BelieveContext(ctx, w, nil)
	if !errors.Is(err, context.DeadlineExceeded) || !reflect.DeepEqual(b, Belief{}) {
		t.Errorf("%v, with %d draws", err, len(b.Draws))
	}
}

// TestNothingToWaitFor: where there is nothing to find histories by, there is the first look.
func TestNothingToWaitFor(t *testing.T) {
	at := day0
	last := 0.0
	b, err := BelieveContext(context.Background(), Window{Lines: []book.Line{}, At: at, Recorded: at}, func(share float64) { last = share })
	if err != nil || !b.Rough || last != 1 {
		t.Errorf("%v, rough %v, told %g", err, b.Rough, last)
	}
}
