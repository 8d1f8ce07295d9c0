package keeper

import (
	"context"
	"errors"
	"strings"
	"sync/atomic"
	"testing"
)

// bench is one work in the hands of a test: it begins, is moved on by shares, and is done or ended.
type bench struct {
	js            *jobs
	begun         atomic.Int64
	begin         chan struct{}
	on            chan float64
	done, stopped chan struct{}
}

func newBench() *bench {
	return &bench{js: newJobs(), begin: make(chan struct{}, 9), on: make(chan float64), done: make(chan struct{}), stopped: make(chan struct{}, 9)}
}

func (b *bench) work(ctx context.Context, progress Progress) (string, error) {
	b.begun.Add(1)
	b.begin <- struct{}{}
	for {
		select {
		case <-ctx.Done():
			b.stopped <- struct{}{}
			return "", ctx.Err()
		case share := <-b.on:
			progress(share)
		case <-b.done:
			return "found", nil
		}
	}
}

// waiter is one who waits for the work.
type waiter struct {
	told  chan float64
	leave context.CancelFunc
	found string
	err   error
	ended chan struct{}
}

func (b *bench) waits(key string) *waiter {
	ctx, leave := context.WithCancel(context.Background())
	w := &waiter{told: make(chan float64, 99), leave: leave, ended: make(chan struct{})}
	go func() {
		defer close(w.ended)
		w.found, w.err = wait(ctx, b.js, key, func(share float64) { w.told <- share }, b.work)
	}()
	return w
}

// Several who wait for the same work share it and its progress, who comes later is told how far it is, and one who
// leaves ends it for nobody else.
func TestOneLeavesAndTheWorkGoesOn(t *testing.T) {
	b := newBench()
	first := b.waits("look")
	<-b.begin
	b.on <- 0.25
	if got := <-first.told; got != 0.25 {
		t.Errorf("the first is told %g", got)
	}
	second := b.waits("look")
	if got := <-second.told; got != 0.25 {
		t.Errorf("who joins is told %g", got)
	}
	first.leave()
	<-first.ended
	if !errors.Is(first.err, context.Canceled) {
		t.Errorf("who left has %v", first.err)
	}
	b.on <- 0.5
	if got := <-second.told; got != 0.5 {
		t.Errorf("the second is told %g", got)
	}
	close(b.done)
	<-second.ended
	if second.found != "found" || second.err != nil || b.begun.Load() != 1 || len(first.told) != 0 {
		t.Errorf("found %q, %v, begun %d times, who left was told %d times more", second.found, second.err, b.begun.Load(), len(first.told))
	}
	if len(b.js.byKey) != 0 {
		t.Error("a work that is done is still under way")
	}
}

// The last to leave ends the work; who asks after that begins another, and does not get the ended one.
func TestAllLeaveAndTheWorkEnds(t *testing.T) {
	b := newBench()
	first := b.waits("look")
	<-b.begin
	b.on <- 0.25
	<-first.told
	second := b.waits("look")
	<-second.told
	first.leave()
	<-first.ended
	second.leave()
	<-second.ended
	<-b.stopped
	third := b.waits("look")
	<-b.begin
	close(b.done)
	<-third.ended
	if third.found != "found" || third.err != nil || b.begun.Load() != 2 {
		t.Errorf("found %q, %v, begun %d times", third.found, third.err, b.begun.Load())
	}
}

// One thing is worked at a time; who waits for a turn can leave too.
func TestTurns(t *testing.T) {
	b := newBench()
	first := b.waits("look")
	<-b.begin
	second := b.waits("outlook")
	third := b.waits("another")
	second.leave()
	<-second.ended
	if n := b.begun.Load(); n != 1 {
		t.Errorf("%d works at a time", n)
	}
	close(b.done)
	<-first.ended
	<-third.ended
	if !errors.Is(second.err, context.Canceled) || third.err != nil || b.begun.Load() > 3 {
		t.Errorf("%v, %v, begun %d times", second.err, third.err, b.begun.Load())
	}
}

// A mistake of the program's own comes out where it was waited for, with where it was made, and holds up no other work.
func TestAMistakeComesOutWhereItWasWaitedFor(t *testing.T) {
	js := newJobs()
	func() {
		defer func() {
			err, _ := recover().(error)
			if err == nil || !strings.Contains(err.Error(), "made for the test") || !strings.Contains(err.Error(), "job_test.go") {
				t.Errorf("came out as %v", err)
			}
		}()
		_, _ = wait(context.Background(), js, "look", nil, func(context.Context, Progress) (int, error) { panic("made for the test") })
	}()
	if x, err := wait(context.Background(), js, "look", nil, func(context.Context, Progress) (int, error) { return 7, nil }); x != 7 || err != nil {
		t.Errorf("after it %d, %v", x, err)
	}
}
