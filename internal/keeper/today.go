package keeper

import (
	"context"
	"hash/fnv"
	"time"

	"halfwater/book"
	"halfwater/enclosure"
	"halfwater/infer"
	"halfwater/internal/say"
	"halfwater/plan"
	"halfwater/quantity"
)

// Look is everything that a page or a sheet of one water body shows at one moment.
type Look struct {
	Enclosure string // its id
	Water     string
	At        time.Time
	Facts     enclosure.Facts
	Lines     []book.Line // standing, in the order of the book
	Belief    infer.Belief
	Sheet     plan.Sheet
}

// Name is what people call the enclosure; its id when it has no name yet.
func (l Look) Name() string {
	if l.Facts.About.Name != "" {
		return l.Facts.About.Name
	}
	return l.Enclosure
}

// Today looks at the main water body now. The look is kept until the book gains a line.
func (k *Keeper) Today(ctx context.Context, enclosureID string) (Look, error) {
	return k.LookAt(ctx, enclosureID, book.MainWater)
}

// LookAt looks at one water body now.
func (k *Keeper) LookAt(ctx context.Context, enclosureID, waterBody string) (Look, error) {
	lines, err := k.Lines(ctx, enclosureID)
	if err != nil {
		return Look{}, err
	}
	if len(lines) == 0 {
		return Look{}, &Fault{Kind: Missing, Say: say.Sentence("door.empty-book", enclosureID)}
	}
	now := k.now()
	key := enclosureID + "\x00" + waterBody
	if look, ok := k.seenBefore(key, lines, now); ok {
		return look, nil
	}
	k.work.Lock()
	defer k.work.Unlock()
	if look, ok := k.seenBefore(key, lines, now); ok { // somebody else has looked meanwhile
		return look, nil
	}
	k.mu.Lock()
	before := k.seen[key].look.Belief
	k.mu.Unlock()
	look, err := lookAt(lines, enclosureID, waterBody, now, &before)
	if err != nil {
		return Look{}, err
	}
	k.mu.Lock()
	k.seen[key] = today{last: lines[len(lines)-1].ID, n: len(lines), at: now, look: look}
	k.mu.Unlock()
	return look, nil
}

// seenBefore is the last look, when it was at the same lines a short while ago.
func (k *Keeper) seenBefore(key string, lines []book.Line, now time.Time) (Look, bool) {
	k.mu.Lock()
	defer k.mu.Unlock()
	have, ok := k.seen[key]
	return have.look, ok && have.n == len(lines) && have.last == lines[len(lines)-1].ID && now.Sub(have.at).Abs() < 10*time.Minute
}

// lookAt is the pure road from lines to sheet; the belief before only makes it shorter.
func lookAt(lines []book.Line, enclosureID, waterBody string, now time.Time, before *infer.Belief) (Look, error) {
	belief, err := infer.Believe(infer.Window{Lines: lines, Water: waterBody, At: now, Recorded: known(lines, now), Now: now, Seed: Seed(enclosureID), Before: before})
	if err != nil {
		return Look{}, &Fault{Kind: Refused, Say: say.Error(err), Err: err}
	}
	standing := book.Standing(lines, known(lines, now))
	facts := book.FactsAt(standing, waterBody, now, known(lines, now))
	look := Look{Enclosure: enclosureID, Water: waterBody, At: now, Facts: facts, Lines: standing, Belief: belief}
	look.Sheet = look.SheetFor(0)
	return look, nil
}

// SheetFor is the work sheet of a change of so much of the held water, as the keeper wants it; with 0
// the change is sized from the plateau.
func (l Look) SheetFor(share quantity.Share) plan.Sheet {
	return plan.Write(plan.Input{Belief: l.Belief, Facts: l.Facts, Lines: l.Lines, Now: l.At, Share: share})
}

// Seed is the seed of an enclosure: the same book gives the same advice.
func Seed(enclosureID string) uint64 {
	h := fnv.New64a()
	h.Write([]byte(enclosureID))
	return h.Sum64()
}
