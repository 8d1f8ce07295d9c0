package infer

import (
	"context"
	"errors"
	"fmt"

	"halfwater/book"
	"halfwater/infer/fit"
)

// The shares of a belief's work: two cores, books of 26 weeks and of three years.
const (
	lookedBack = 0.5  // at which the half years before the window are done, where they are looked at
	found      = 0.95 // at which its histories are; what is left is to see what does not fit
	ranOn      = 0.85 // of an outlook's, at which its histories have been run on
)

// watched is the watch of a context; progress may be nil.
func watched(ctx context.Context, progress func(share float64)) fit.Watch {
	return fit.Watch{Done: ctx.Done(), Progress: progress}
}

// spent is an effort under a watch.
func spent(e fit.Effort, w fit.Watch) fit.Effort {
	e.Watch = w
	return e
}

// stoppedBy is the error of a work that its context ended: the context's own, with what was done with it.
func stoppedBy(ctx context.Context, err error) error {
	if errors.Is(err, fit.ErrStopped) {
		return fmt.Errorf("%w: %w", err, ctx.Err())
	}
	return err
}

// end tells that all is done.
func end(w fit.Watch) {
	if w.Progress != nil && !w.Stopped() {
		w.Progress(1)
	}
}

// stages parts the work of a window: looking at what was before it, where it must be looked at, and the window itself.
func (w *walk) stages(lines []book.Line, win Window, all fit.Watch) (before, window fit.Watch) {
	from := w.epoch(lines)
	at := 0.0
	if from.After(w.first(lines)) && w.pastBy(win.Before, lines, from) == nil {
		at = lookedBack
	}
	return all.Part(0, at), all.Part(at, 1)
}
