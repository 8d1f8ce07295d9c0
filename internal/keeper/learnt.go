package keeper

import (
	"context"

	"halfwater/book"
	"halfwater/infer"
	"halfwater/internal/say"
)

// Learnt fits whole histories to the book of an enclosure's main water: what its readings say of its own
// constants. It takes seconds.
func (k *Keeper) Learnt(ctx context.Context, enclosureID string) (infer.Learnt, error) {
	lines, err := k.Lines(ctx, enclosureID)
	if err != nil {
		return infer.Learnt{}, err
	}
	if len(lines) == 0 {
		return infer.Learnt{}, &Fault{Kind: Missing, Say: say.Sentence("door.empty-book", enclosureID)}
	}
	now := k.now()
	l, err := infer.Learn(infer.Window{Lines: lines, Water: book.MainWater, At: now, Recorded: now, Seed: Seed(enclosureID)})
	if err != nil {
		return infer.Learnt{}, &Fault{Kind: Refused, Say: say.Sentence("learnt.none", err), Err: err}
	}
	return l, nil
}
