package keeper

import (
	"context"
	"time"

	"halfwater/book"
	"halfwater/infer"
	"halfwater/internal/say"
	"halfwater/kit"
	"halfwater/quantity"
)

// ReadingEntry is a reading as a person gives it: a kit and what it showed, or a number with its
// measurand, unit and basis.
type ReadingEntry struct {
	At    time.Time // zero: now
	Water string
	By    book.By
	Kit   string
	Shown string
	Of    quantity.Measurand // without a kit
	Unit  string             // without a kit
	Basis quantity.Basis     // without a kit
	Place string
	Light string
}

// Kept is a reading that was kept, and how it compares with what was expected before anyone looked.
type Kept struct {
	Line     book.Line
	Expected *Expected // nil when nothing was expected
	// Notes say why the kit counts for less than it might: old reagents, a pen never calibrated.
	Notes []kit.Note
}

// Expected is what the kit was expected to show before anyone looked.
type Expected struct {
	Of   quantity.Measurand
	Band quantity.Band[float64] // canonical unit
	Fits bool                   // the reading and the band have a value in common
	Code string                 // of its sentence: "door.fits" or "door.fits-not"
	High bool                   // it does not fit because it is higher
	Form kit.Form               // of the kit: what to try it by
}

// Reading turns what was shown into an interval by the kit in force at that time, keeps it, and
// only then says what had been expected.
func (k *Keeper) Reading(ctx context.Context, enclosureID string, e ReadingEntry) (Kept, error) {
	lines, err := k.Lines(ctx, enclosureID)
	if err != nil {
		return Kept{}, err
	}
	if e.At.IsZero() {
		e.At = k.now()
	}
	if e.Water == "" {
		e.Water = book.MainWater
	}
	facts := book.FactsAt(lines, e.Water, e.At, known(lines, k.now()))
	r, err := interval(facts.Kit, e)
	if err != nil {
		return Kept{}, err
	}
	l, err := k.line(lines, Entry{At: e.At, Water: e.Water, By: e.By, Body: r})
	if err != nil {
		return Kept{}, err
	}
	return k.keep(ctx, enclosureID, lines, l)
}

// Keep keeps one line that is already checked and named, and says what had been expected when it is
// a reading.
func (k *Keeper) Keep(ctx context.Context, enclosureID string, l book.Line) (Kept, error) {
	lines, err := k.Lines(ctx, enclosureID)
	if err != nil {
		return Kept{}, err
	}
	return k.keep(ctx, enclosureID, lines, l)
}

func (k *Keeper) keep(ctx context.Context, enclosureID string, before []book.Line, l book.Line) (Kept, error) {
	if err := k.Append(ctx, enclosureID, l); err != nil {
		return Kept{}, err
	}
	return Kept{Line: l, Expected: k.expected(enclosureID, before, l), Notes: notes(before, l, known(before, k.now()))}, nil
}

// notes are those of the kit on the day of the reading; none without a kit.
func notes(before []book.Line, l book.Line, now time.Time) []kit.Note {
	r, ok := l.Body.(book.Reading)
	if !ok || r.Kit == "" {
		return nil
	}
	t, ok := book.FactsAt(before, l.Water, l.At, now).Kit(r.Kit)
	if !ok {
		return nil
	}
	iv, err := t.Read(r.Shown, l.At)
	if err != nil {
		return nil // kept as it came, with an interval of its own
	}
	return iv.Notes
}

// Kept finds a line again that was kept before, with what had been expected of it then.
func (k *Keeper) Kept(ctx context.Context, enclosureID string, id book.ID) (Kept, error) {
	lines, err := k.Lines(ctx, enclosureID)
	if err != nil {
		return Kept{}, err
	}
	var before []book.Line
	var found *book.Line
	for i, l := range lines {
		switch {
		case l.ID == id:
			found = &lines[i]
		case found == nil || l.Recorded.Before(found.Recorded):
			before = append(before, l)
		}
	}
	if found == nil {
		return Kept{}, &Fault{Kind: Missing, Field: "line", Say: say.Sentence("door.no-line", nil), Err: book.Unknown{Ref: book.Ref{To: "line", Name: string(id)}}}
	}
	return Kept{Line: *found, Expected: k.expected(enclosureID, before, *found), Notes: notes(before, *found, known(before, k.now()))}, nil
}

// expected is what a reading was expected to show from the lines before it; nil when it is no
// reading, or when there was nothing to expect it from.
func (k *Keeper) expected(enclosureID string, before []book.Line, l book.Line) *Expected {
	r, ok := l.Body.(book.Reading)
	if !ok || r.Beside() {
		return nil
	}
	b, err := infer.Glance(infer.Window{Lines: before, Water: l.Water, At: l.At, Recorded: known(before, k.now()), Seed: Seed(enclosureID)})
	if err != nil {
		return nil
	}
	facts := book.FactsAt(before, l.Water, l.At, known(before, k.now()))
	if _, poured := facts.Source(r.Place); poured { // of a source water nothing is expected here
		return nil
	}
	if t, ok := facts.Kit(r.Kit); ok {
		if band, ok := infer.Expected(b, t); ok {
			return compare(r, band, t.Form)
		}
	}
	return nil
}

func interval(kitByName func(string) (kit.Kit, bool), e ReadingEntry) (book.Reading, error) {
	r := book.Reading{Kit: e.Kit, Shown: e.Shown, Place: e.Place, Light: e.Light}
	if e.Kit != "" {
		t, ok := kitByName(e.Kit)
		if !ok {
			return r, withField(bad(book.Unknown{Ref: book.Ref{To: "kit", Field: "kit", Name: e.Kit}}), "kit")
		}
		iv, err := t.Read(e.Shown, e.At)
		if err != nil {
			return r, shownFault(err, e.Shown)
		}
		r.Of, r.Unit, r.Basis, r.Lo, r.Hi = t.Of, t.Unit, t.Basis, iv.Lo, iv.Hi
		return r, nil
	}
	iv, err := kit.Bare(e.Of, e.Shown, e.Unit, e.Basis)
	if err != nil {
		return r, shownFault(err, e.Shown)
	}
	r.Of, r.Unit, r.Basis, r.Lo, r.Hi = e.Of, e.Unit, e.Basis, iv.Lo, iv.Hi
	return r, nil
}

func compare(r book.Reading, band quantity.Band[float64], form kit.Form) *Expected {
	e := Expected{Of: r.Of, Band: band, Fits: r.Lo <= band.High && band.Low <= r.Hi, Code: "door.fits", Form: form}
	if !e.Fits {
		e.Code, e.High = "door.fits-not", r.Lo > band.High
	}
	return &e
}
