package keeper

import (
	"context"
	"fmt"
	"runtime/debug"
	"sync"
)

// Progress is told the share of a work that is done, 0 to 1, never less than before. It must not block, nor ask the
// keeper anything. Nil is who does not want to know.
type Progress func(share float64)

func (p Progress) tell(share float64) {
	if p != nil {
		p(share)
	}
}

// from is the progress of what is left of a work of which a share is done.
func (p Progress) from(done float64) Progress {
	return func(share float64) { p.tell((1-share)*done + share) }
}

// jobs are the works under way, each done once for all who wait for it at the same time. One is worked at a time,
// the others wait for their turn.
type jobs struct {
	mu    sync.Mutex
	byKey map[string]*job
	turn  chan struct{}
}

func newJobs() *jobs { return &jobs{byKey: map[string]*job{}, turn: make(chan struct{}, 1)} }

// job is one work under way.
type job struct {
	waiting map[*Progress]bool // those who wait; the last to leave ends it
	share   float64            // done
	end     context.CancelFunc
	ended   chan struct{}
	found   any
	err     error
	mistake *mistake
}

// mistake is one of the program's own in a work, for all who waited for it.
type mistake struct {
	what  any
	stack []byte
}

func (m *mistake) Error() string { return fmt.Sprintf("%v\n\n%s", m.what, m.stack) }

// wait does a work, or joins those who wait for the same one, until it is done or the context ends.
func wait[T any](ctx context.Context, js *jobs, key string, progress Progress, work func(context.Context, Progress) (T, error)) (T, error) {
	var none T
	if ctx.Err() != nil {
		return none, ctx.Err()
	}
	j := js.join(ctx, key, &progress, func(ctx context.Context, p Progress) (any, error) { return work(ctx, p) })
	select {
	case <-ctx.Done():
		js.leave(key, j, &progress)
		return none, ctx.Err()
	case <-j.ended:
	}
	if j.mistake != nil {
		panic(j.mistake)
	}
	if j.err != nil {
		return none, j.err
	}
	return j.found.(T), nil
}

func (js *jobs) join(ctx context.Context, key string, progress *Progress, work func(context.Context, Progress) (any, error)) *job {
	js.mu.Lock()
	defer js.mu.Unlock()
	j := js.byKey[key]
	if j == nil {
		j = &job{waiting: map[*Progress]bool{}, ended: make(chan struct{})}
		ctx, j.end = context.WithCancel(context.WithoutCancel(ctx))
		js.byKey[key] = j
		go js.run(ctx, key, j, work)
	}
	j.waiting[progress] = true
	if j.share > 0 {
		progress.tell(j.share)
	}
	return j
}

// leave ends a job when nobody else waits for it; who asks after that begins another.
func (js *jobs) leave(key string, j *job, progress *Progress) {
	js.mu.Lock()
	defer js.mu.Unlock()
	delete(j.waiting, progress)
	if len(j.waiting) == 0 {
		j.end()
		js.forget(key, j)
	}
}

func (js *jobs) forget(key string, j *job) {
	if js.byKey[key] == j {
		delete(js.byKey, key)
	}
}

func (js *jobs) run(ctx context.Context, key string, j *job, work func(context.Context, Progress) (any, error)) {
	defer func() {
		if what := recover(); what != nil {
			j.mistake = &mistake{what, debug.Stack()}
		}
		js.mu.Lock()
		js.forget(key, j)
		js.mu.Unlock()
		j.end()
		close(j.ended)
	}()
	select {
	case <-ctx.Done():
		j.err = ctx.Err()
		return
	case js.turn <- struct{}{}:
	}
	defer func() { <-js.turn }()
	j.found, j.err = work(ctx, func(share float64) {
		js.mu.Lock()
		defer js.mu.Unlock()
		j.share = share
		for p := range j.waiting {
			p.tell(share)
		}
	})
}
