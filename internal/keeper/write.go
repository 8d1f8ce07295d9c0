package keeper

import (
	"context"
	"errors"
	"slices"
	"time"

	"halfwater/book"
	"halfwater/internal/say"
)

// Entry is one thing to be written down, before it has a name.
type Entry struct {
	At    time.Time // zero: now
	Water string    // "": the main water body
	Batch string
	By    book.By // "": the keeper
	Body  book.Body
}

// Write checks one entry and keeps it as a line. Nothing is kept of an entry that is refused.
func (k *Keeper) Write(ctx context.Context, enclosureID string, e Entry) (book.Line, error) {
	lines, err := k.Lines(ctx, enclosureID)
	if err != nil {
		return book.Line{}, err
	}
	l, err := k.line(lines, e)
	if err != nil {
		return book.Line{}, err
	}
	if err := k.Append(ctx, enclosureID, l); err != nil {
		return book.Line{}, err
	}
	return l, nil
}

// line makes a checked line of an entry, given the lines already in the book.
func (k *Keeper) line(lines []book.Line, e Entry) (book.Line, error) {
	now := k.now()
	l := book.Line{ID: NewID(), At: e.At, Recorded: now, Water: e.Water, Batch: e.Batch, By: e.By, Body: e.Body}
	if l.At.IsZero() {
		l.At = now
	}
	if l.Water == "" {
		l.Water = book.WaterOf(e.Body)
	}
	if l.By == "" {
		l.By = book.Keeper
	}
	if err := l.Check(now); err != nil {
		return l, bad(err)
	}
	facts := book.FactsAt(lines, l.Water, l.At, known(lines, now))
	has := func(id book.ID) bool { return slices.ContainsFunc(lines, func(h book.Line) bool { return h.ID == id }) }
	if err := l.Refers(facts, has); err != nil {
		return l, bad(err)
	}
	if err := l.Fits(facts); err != nil {
		return l, bad(err)
	}
	return l, nil
}

// bad is a fault of what was typed, with the field when the error names one.
func bad(err error) *Fault {
	f := &Fault{Kind: Bad, Say: say.Error(err), Err: err}
	var one book.Fault
	if errors.As(err, &one) {
		f.Field = one.Field
		if one.Likely != "" {
			f.Likely = []string{one.Likely}
		}
	}
	return f
}
