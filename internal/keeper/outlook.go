package keeper

import (
	"context"

	"halfwater/internal/say"
	"halfwater/plan"
)

// Outlook is what comes over some weeks when the routine of an enclosure's main water is kept.
func (k *Keeper) Outlook(ctx context.Context, enclosureID string, weeks int) (Look, plan.Outlook, error) {
	look, err := k.Today(ctx, enclosureID)
	if err != nil {
		return Look{}, plan.Outlook{}, err
	}
	o, err := plan.Ahead(plan.Input{Belief: look.Belief, Facts: look.Facts, Lines: look.Lines, Now: look.At}, weeks, Seed(enclosureID))
	if err != nil {
		return Look{}, plan.Outlook{}, &Fault{Kind: Refused, Say: say.Error(err), Err: err}
	}
	return look, o, nil
}
