package infer

import (
	"context"
	"fmt"

	"halfwater/infer/fit"
)

// patience is what LearnExactly spends: half a million runs at most, minutes for 26 weeks.
var patience = fit.Patience{Chains: 8, Warm: 100, Rounds: 150, Every: 1, Goal: fit.Settled, Longest: 3}

// LearnExactly is [Learn] by the slow sampler ([fit.Problem.Sample]), which rests on no likeness to a normal and
// on nothing that the fast one found. It takes minutes and ends early with the error of its context. Progress may be
// nil; of may grow when the chains have not come together. Learnt.Sure says whether they have; no other account
// is kept apart, because all are in the draws. Further error: [BasisOpen].
func LearnExactly(ctx context.Context, w Window, progress func(done, of int)) (Learnt, error) {
	b, v, lines, err := believe(w)
	if err != nil {
		return Learnt{}, err
	}
	q, err := v.whole(lines, b.window, watched(ctx, nil))
	if err != nil {
		return Learnt{}, stoppedBy(ctx, err)
	}
	if len(q.open) > 0 {
		return Learnt{}, BasisOpen{q.open[0].kit}
	}
	with := patience
	with.Progress = progress
	s, err := q.Sample(ctx, with, w.Seed)
	if err != nil {
		return Learnt{}, err
	}
	post := s.Posterior()
	return q.learnt(b.Water, q.Course.From, w.At, &post), nil
}

// BasisOpen is a kit of whose numbers nobody said what they count: the slow way takes one meaning at a time.
type BasisOpen struct{ Kit string }

func (e BasisOpen) Error() string {
	if e.Kit == "" {
		return "some numbers were typed without a kit, and nobody said what they count; say so, or ask without exact"
	}
	return fmt.Sprintf("nobody said whether the mg/L of kit %q count nitrogen or the ion; say so in the kit's line, or ask without exact", e.Kit)
}
