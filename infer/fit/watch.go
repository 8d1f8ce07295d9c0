package fit

import (
	"errors"
	"sync"
	"sync/atomic"
)

// ErrStopped says that a work was ended before it was done. There is no answer then, not even half of one.
var ErrStopped = errors.New("stopped before it was done")

// Watch is how a long work is watched from outside: it may be stopped, and tells how far it is. The zero value lets it
// run to its end in silence. What the work finds does not hang on it.
type Watch struct {
	Done <-chan struct{} // once it is closed the work ends soon, with [ErrStopped]
	// Progress is told the share of the work that is done: never less than before, 1 at the end, nothing more once
	// Done is closed. It is called by one worker at a time, which waits for it.
	Progress func(share float64)
}

// Part is the watch over a part of the work: from one share of it to another.
func (w Watch) Part(from, to float64) Watch {
	if tell := w.Progress; tell != nil {
		w.Progress = func(share float64) { tell((1-share)*from + share*to) }
	}
	return w
}

// Stopped reports whether the work is to end.
func (w Watch) Stopped() bool {
	select {
	case <-w.Done:
		return true
	default:
		return false
	}
}

// count gives what is to be called after each of so many equal steps, by whichever worker took it.
func (w Watch) count(steps int) (step func()) {
	if w.Progress == nil {
		return func() {}
	}
	var mu sync.Mutex
	done := 0
	return func() {
		mu.Lock()
		defer mu.Unlock()
		if done++; w.Stopped() {
			return
		}
		w.Progress(float64(done) / float64(steps))
	}
}

// Each calls do for 0 to n-1, by two workers, each whatever comes next, until the work is stopped. What do
// writes must belong to its index: then the result does not hang on who was first.
func (w Watch) Each(n int, do func(i int)) { w.each(n, func(i int, _ *run) { do(i) }) }

// each is Each with a run for each worker to work in.
func (w Watch) each(n int, do func(i int, r *run)) {
	const workers = 2
	step := w.count(n)
	var next atomic.Int64
	var wg sync.WaitGroup
	for range workers {
		wg.Go(func() {
			var r run
			for i := int(next.Add(1)) - 1; i < n && !w.Stopped(); i = int(next.Add(1)) - 1 {
				do(i, &r)
				step()
			}
		})
	}
	wg.Wait()
}

// each is that of a work that nobody watches.
func each(n int, do func(i int, r *run)) { Watch{}.each(n, do) }

// together does something with every mode at the same time; each hangs on itself alone.
func (w Watch) together(modes []mode, do func(i int, m mode) mode) {
	step := w.count(len(modes))
	var wg sync.WaitGroup
	for i := range modes {
		wg.Go(func() {
			modes[i] = do(i, modes[i])
			step()
		})
	}
	wg.Wait()
}
