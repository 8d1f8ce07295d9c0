package keeper

import (
	"context"
	"fmt"
	"hash/fnv"
	"time"

	"halfwater/book"
	"halfwater/enclosure"
	"halfwater/infer"
	"halfwater/internal/say"
	"halfwater/plan"
	"halfwater/quantity"
)

// Standing is what stands in the book of one water body at one moment: all that is had without working anything out.
type Standing struct {
	Enclosure string // its id
	Water     string
	At        time.Time
	Facts     enclosure.Facts
	Lines     []book.Line // in the order of the book

	as edition
}

// edition tells one state of a book from another: lines are only ever added.
type edition struct {
	lines int
	last  book.ID
}

func editionOf(lines []book.Line) edition { return edition{len(lines), lines[len(lines)-1].ID} }

// Name is what people call the enclosure; its id when it has no name yet.
func (s Standing) Name() string {
	if s.Facts.About.Name != "" {
		return s.Facts.About.Name
	}
	return s.Enclosure
}

// Look is everything that a page or a sheet of one water body shows at one moment.
type Look struct {
	Standing
	Belief infer.Belief
	Sheet  plan.Sheet
}

// Standing opens the book of the main water body now.
func (k *Keeper) Standing(ctx context.Context, enclosureID string) (Standing, error) {
	lines, err := k.written(ctx, enclosureID)
	if err != nil {
		return Standing{}, err
	}
	return standing(lines, enclosureID, book.MainWater, k.now()), nil
}

// written are the lines of a book that has some.
func (k *Keeper) written(ctx context.Context, enclosureID string) ([]book.Line, error) {
	lines, err := k.Lines(ctx, enclosureID)
	if err == nil && len(lines) == 0 {
		err = &Fault{Kind: Missing, Say: say.Sentence("door.empty-book", enclosureID)}
	}
	return lines, err
}

func standing(lines []book.Line, enclosureID, waterBody string, now time.Time) Standing {
	in := book.Standing(lines, known(lines, now))
	return Standing{
		Enclosure: enclosureID, Water: waterBody, At: now, Lines: in, as: editionOf(lines),
		Facts: book.FactsAt(in, waterBody, now, known(lines, now)),
	}
}

// Today looks at the main water body now. The look is kept until the book gains a line. Looks may take seconds: several
// who wait for the same one share it, progress and all, and when the last of them goes away it is ended and forgotten.
func (k *Keeper) Today(ctx context.Context, enclosureID string, progress Progress) (Look, error) {
	return k.LookAt(ctx, enclosureID, book.MainWater, progress)
}

// LookAt looks at one water body now.
func (k *Keeper) LookAt(ctx context.Context, enclosureID, waterBody string, progress Progress) (Look, error) {
	lines, err := k.written(ctx, enclosureID)
	if err != nil {
		return Look{}, err
	}
	now, as := k.now(), editionOf(lines)
	key := enclosureID + "\x00" + waterBody
	if look, ok := k.seenBefore(key, as, now); ok {
		return look, nil
	}
	return wait(ctx, k.jobs, fmt.Sprint("look\x00", key, as), progress, func(ctx context.Context, progress Progress) (Look, error) {
		if look, ok := k.seenBefore(key, as, now); ok { // somebody else has looked meanwhile
			return look, nil
		}
		k.mu.Lock()
		before := k.seen[key].Belief
		k.mu.Unlock()
		look, err := lookAt(ctx, lines, enclosureID, waterBody, now, &before, progress)
		if err != nil {
			return Look{}, err
		}
		k.mu.Lock()
		k.seen[key] = look
		k.mu.Unlock()
		return look, nil
	})
}

// seenBefore is the last look, when it was at the same lines a short while ago.
func (k *Keeper) seenBefore(key string, as edition, now time.Time) (Look, bool) {
	k.mu.Lock()
	defer k.mu.Unlock()
	have, ok := k.seen[key]
	return have, ok && have.as == as && now.Sub(have.At).Abs() < 10*time.Minute
}

// lookAt is the pure road from lines to sheet; the belief before only makes it shorter.
func lookAt(ctx context.Context, lines []book.Line, enclosureID, waterBody string, now time.Time, before *infer.Belief, progress Progress) (Look, error) {
	window := infer.Window{Lines: lines, Water: waterBody, At: now, Recorded: known(lines, now), Now: now, Seed: Seed(enclosureID), Before: before}
	belief, err := infer.BelieveContext(ctx, window, progress)
	if err != nil {
		return Look{}, &Fault{Kind: Refused, Say: say.Error(err), Err: err}
	}
	look := Look{Standing: standing(lines, enclosureID, waterBody, now), Belief: belief}
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
