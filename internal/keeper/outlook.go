package keeper

import (
	"context"
	"time"

	"halfwater/book"
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

// KeepShown keeps an outlook as it was shown, once a day, so that it can be scored later.
func (k *Keeper) KeepShown(ctx context.Context, enclosureID string, look Look, o plan.Outlook, version string) error {
	if look.OutlookKept() {
		return nil
	}
	_, err := k.Write(ctx, enclosureID, Entry{At: look.At, Water: look.Water, Body: o.Shown(version)})
	return err
}

// OutlookKept reports whether the outlook of the look's day is in the book.
func (l Look) OutlookKept() bool {
	for _, line := range l.Lines {
		if _, ok := line.Body.(book.ShownOutlook); ok && line.At.In(l.At.Location()).Format(time.DateOnly) == l.At.Format(time.DateOnly) {
			return true
		}
	}
	return false
}
