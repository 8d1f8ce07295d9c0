package keeper

import (
	"context"

	"halfwater/book"
	"halfwater/infer"
	"halfwater/internal/say"
)

// Learnt fits whole histories to the book of an enclosure's main water: what its readings say of its own
// constants. It takes seconds.
func (k *Keeper) Learnt(ctx context.Context, enclosureID string, progress Progress) (infer.Learnt, error) {
	return k.learnt(ctx, enclosureID, func(w infer.Window) (infer.Learnt, error) { return infer.LearnContext(ctx, w, progress) })
}

// LearntExactly is the same by the slow sampler, in minutes. Progress is told rounds done, of how many.
func (k *Keeper) LearntExactly(ctx context.Context, enclosureID string, progress func(done, of int)) (infer.Learnt, error) {
	return k.learnt(ctx, enclosureID, func(w infer.Window) (infer.Learnt, error) {
		return infer.LearnExactly(ctx, w, progress)
	})
}

func (k *Keeper) learnt(ctx context.Context, enclosureID string, learn func(infer.Window) (infer.Learnt, error)) (infer.Learnt, error) {
	lines, err := k.written(ctx, enclosureID)
	if err != nil {
		return infer.Learnt{}, err
	}
	now := k.now()
	l, err := learn(infer.Window{Lines: lines, Water: book.MainWater, At: now, Recorded: known(lines, now), Seed: Seed(enclosureID)})
	if err := ctx.Err(); err != nil {
		return infer.Learnt{}, err // stopped: that is no fault of the book
	}
	if err != nil {
		return infer.Learnt{}, &Fault{Kind: Refused, Say: say.Sentence("learnt.none", err), Err: err}
	}
	return l, nil
}
