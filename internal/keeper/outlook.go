package keeper

import (
	"context"
	"fmt"
	"time"

	"halfwater/book"
	"halfwater/internal/say"
	"halfwater/plan"
)

// Outlook is what comes over some weeks when the routine of an enclosure's main water is kept. It is kept as long
// as the look behind it is.
func (k *Keeper) Outlook(ctx context.Context, enclosureID string, weeks int) (Look, plan.Outlook, error) {
	look, err := k.Today(ctx, enclosureID)
	if err != nil {
		return Look{}, plan.Outlook{}, err
	}
	key := fmt.Sprint(enclosureID, "\x00", weeks)
	if o, ok := k.aheadBefore(key, look); ok {
		return look, o, nil
	}
	k.work.Lock()
	defer k.work.Unlock()
	if o, ok := k.aheadBefore(key, look); ok { // somebody else has looked meanwhile
		return look, o, nil
	}
	o, err := look.ahead(weeks)
	if err != nil {
		return Look{}, plan.Outlook{}, err
	}
	k.mu.Lock()
	k.ahead[key] = ahead{at: look.At, lines: len(look.Lines), outlook: o}
	k.mu.Unlock()
	return look, o, nil
}

// ahead is an outlook with the look that it was made from.
type ahead struct {
	at      time.Time
	lines   int
	outlook plan.Outlook
}

// aheadBefore is the last outlook, when it was made from this look.
func (k *Keeper) aheadBefore(key string, look Look) (plan.Outlook, bool) {
	k.mu.Lock()
	defer k.mu.Unlock()
	have, ok := k.ahead[key]
	return have.outlook, ok && have.at.Equal(look.At) && have.lines == len(look.Lines)
}

// ahead is the pure road from a look to its outlook.
func (l Look) ahead(weeks int) (plan.Outlook, error) {
	o, err := plan.Ahead(plan.Input{Belief: l.Belief, Facts: l.Facts, Lines: l.Lines, Now: l.At}, weeks)
	if err != nil {
		return plan.Outlook{}, &Fault{Kind: Refused, Say: say.Error(err), Err: err}
	}
	return o, nil
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
