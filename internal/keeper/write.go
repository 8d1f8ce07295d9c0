package keeper

import (
	"context"
	"errors"
	"time"

	"halfwater/book"
	"halfwater/enclosure"
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
		l.Water = book.MainWater
	}
	if l.By == "" {
		l.By = book.Keeper
	}
	if l.At.After(now) {
		return l, &Fault{Kind: Bad, Field: "at", Say: say.Sentence("door.future", FutureTime{l.At, now}), Err: FutureTime{l.At, now}}
	}
	if c, ok := e.Body.(book.Checker); ok {
		if err := c.Check(); err != nil {
			return l, bad(err)
		}
	}
	facts := book.FactsAt(lines, l.Water, l.At, now)
	if err := Refers(lines, facts, e.Body); err != nil {
		return l, bad(err)
	}
	return l, nil
}

// FutureTime is a line that says it happened later than now.
type FutureTime struct{ At, Now time.Time }

func (f FutureTime) Error() string {
	return "the time " + say.Clock(f.At) + " lies in the future: a line is of something that has happened"
}

// bad is a fault of what was typed, with the field when the error names one.
func bad(err error) *Fault {
	f := &Fault{Kind: Bad, Say: say.Error(err), Err: err}
	var bf book.Fault
	if errors.As(err, &bf) {
		f.Field = bf.Field
	}
	var u Unknown
	if errors.As(err, &u) {
		f.Field = u.Field
	}
	return f
}

// Unknown is a name that no fact in force bears.
type Unknown struct {
	Field, Name string
	Have        []string
}

// Code is the code of the sentence.
func (Unknown) Code() string { return "door.unknown-name" }

func (u Unknown) Error() string {
	return u.Field + ": there is no " + u.Name + " in force at that time"
}

// Refers checks that every name a body uses is that of a fact in force, or of a line in the book.
func Refers(lines []book.Line, f enclosure.Facts, b book.Body) error {
	source := func(name string) error {
		if _, ok := f.Source(name); !ok {
			return Unknown{"source water", name, names(f.Sources)}
		}
		return nil
	}
	switch v := b.(type) {
	case book.Change:
		for _, p := range v.In {
			if err := source(p.Source); err != nil {
				return err
			}
		}
	case book.TopUp:
		return source(v.Source)
	case book.Reading:
		if _, ok := f.Kit(v.Kit); !ok && v.Kit != "" {
			return Unknown{"kit", v.Kit, names(f.Kits)}
		}
	case book.Service:
		return named("stage", v.Stage, names(f.Stages))
	case book.TimedJug:
		return named("stage", v.Stage, names(f.Stages))
	case book.TimedLitre:
		return named("fitting", v.Fitting, names(f.Fittings))
	case book.Withdraw:
		return inBook(lines, v.Line)
	case book.SetAside:
		return inBook(lines, v.Line)
	}
	return nil
}

func named(field, name string, have []string) error {
	for _, h := range have {
		if h == name {
			return nil
		}
	}
	return Unknown{field, name, have}
}

func names[F enclosure.Fact](have []F) []string {
	var out []string
	for _, h := range have {
		out = append(out, h.Key())
	}
	return out
}

func inBook(lines []book.Line, id book.ID) error {
	for _, l := range lines {
		if l.ID == id {
			return nil
		}
	}
	return Unknown{"line", string(id), nil}
}
