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
// as the look behind it is, and waited for like it.
func (k *Keeper) Outlook(ctx context.Context, enclosureID string, weeks int, progress Progress) (Look, plan.Outlook, error) {
	reached := 0.0
	look, err := k.Today(ctx, enclosureID, func(share float64) {
		reached = looking * share
		progress.tell(reached)
	})
	if err != nil {
		return Look{}, plan.Outlook{}, err
	}
	key := aheadKey(enclosureID, weeks)
	if o, ok := k.aheadBefore(key, look); ok {
		return look, o, nil
	}
	o, err := wait(ctx, k.jobs, fmt.Sprint("ahead\x00", key, look.as, look.At.UnixNano()), progress.from(reached), func(ctx context.Context, progress Progress) (plan.Outlook, error) {
		if o, ok := k.aheadBefore(key, look); ok { // somebody else has looked meanwhile
			return o, nil
		}
		o, err := look.ahead(ctx, weeks, progress)
		if err != nil {
			return plan.Outlook{}, err
		}
		k.mu.Lock()
		k.ahead[key] = ahead{look, o}
		k.mu.Unlock()
		return o, nil
	})
	return look, o, err
}

// looking is the share of the work that the look is, where look and outlook are both to be worked out.
const looking = 0.8

// ahead is an outlook with the look that it was made from.
type ahead struct {
	look    Look
	outlook plan.Outlook
}

func aheadKey(enclosureID string, weeks int) string { return fmt.Sprint(enclosureID, "\x00", weeks) }

// aheadBefore is the last outlook, when it was made from this look.
func (k *Keeper) aheadBefore(key string, look Look) (plan.Outlook, bool) {
	k.mu.Lock()
	defer k.mu.Unlock()
	have, ok := k.ahead[key]
	return have.outlook, ok && have.look.sameAs(look)
}

// LastOutlook is the outlook that was last worked out on this day, with its look, if the book has gained no line since;
// nothing is worked out for it.
func (k *Keeper) LastOutlook(ctx context.Context, enclosureID string, weeks int) (Look, plan.Outlook, bool, error) {
	lines, err := k.written(ctx, enclosureID)
	if err != nil {
		return Look{}, plan.Outlook{}, false, err
	}
	k.mu.Lock()
	defer k.mu.Unlock()
	have, ok := k.ahead[aheadKey(enclosureID, weeks)]
	ok = ok && have.look.as == editionOf(lines) && have.look.onDay(k.now())
	return have.look, have.outlook, ok, nil
}

// ahead is the pure road from a look to its outlook.
func (l Look) ahead(ctx context.Context, weeks int, progress Progress) (plan.Outlook, error) {
	o, err := plan.AheadContext(ctx, plan.Input{Belief: l.Belief, Facts: l.Facts, Lines: l.Lines, Now: l.At}, weeks, progress)
	if err != nil {
		return plan.Outlook{}, &Fault{Kind: Refused, Say: say.Error(err), Err: err}
	}
	return o, nil
}

// KeepShown keeps an outlook as it was shown, once a day, so that it can be scored later. The line says nothing of the water: look
// and outlook go on for the book with it.
func (k *Keeper) KeepShown(ctx context.Context, enclosureID string, look Look, o plan.Outlook, version string) error {
	if look.OutlookKept() {
		return nil
	}
	if _, err := k.Write(ctx, enclosureID, Entry{At: look.At, Water: look.Water, Body: o.Shown(version)}); err != nil {
		return err
	}
	lines, err := k.Lines(ctx, enclosureID)
	if err != nil || len(lines) != look.as.lines+1 { // others have written too: all is looked at anew
		return err
	}
	k.mu.Lock()
	defer k.mu.Unlock()
	longer := look
	longer.Standing = standing(lines, enclosureID, look.Water, look.At)
	for key, have := range k.seen {
		if have.sameAs(look) {
			k.seen[key] = longer
		}
	}
	for key, have := range k.ahead {
		if have.look.sameAs(look) {
			have.look = longer
			k.ahead[key] = have
		}
	}
	return nil
}

// sameAs reports whether two looks are one: of the same book at the same moment.
func (l Look) sameAs(other Look) bool {
	return l.Enclosure == other.Enclosure && l.Water == other.Water && l.as == other.as && l.At.Equal(other.At)
}

// onDay reports whether a moment is of the day of the look.
func (s Standing) onDay(at time.Time) bool {
	return at.In(s.At.Location()).Format(time.DateOnly) == s.At.Format(time.DateOnly)
}

// OutlookKept reports whether the outlook of the day is in the book.
func (s Standing) OutlookKept() bool {
	for _, line := range s.Lines {
		if _, ok := line.Body.(book.ShownOutlook); ok && s.onDay(line.At) {
			return true
		}
	}
	return false
}
