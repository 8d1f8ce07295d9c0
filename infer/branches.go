package infer

import (
	"cmp"
	"math"
	"slices"

	"halfwater/quantity"
)

// Branch is one of the accounts between which the readings leave the choice: those where alkalinity has run
// out and nitrification stands still, and where it goes on, may both fit.
type Branch struct {
	Odds  float64 // those of all branches sum to 1
	Draws []Draw  // of the belief
}

// branches shares draws out by the branch that each is of; nil when there is one, or when no quantity that a
// keeper reads tells them apart.
func (a *account) branches(draws []Draw) []Branch {
	if len(a.post.Branches) < 2 || len(a.question.tried) > 0 {
		return nil
	}
	var out []Branch
	for _, b := range a.post.Branches {
		out = append(out, Branch{b.Odds, draws[:b.Draws]})
		draws = draws[b.Draws:]
	}
	if len(ToldApart(out)) == 0 {
		return nil
	}
	return out
}

// ToldApart are the quantities by which a reading would tell which of two branches holds, the one that tells most
// first: the middle of neither lies in the 80 % band of the other.
func ToldApart(branches []Branch) []quantity.Measurand {
	type gap struct {
		of   quantity.Measurand
		wide float64 // of the gap between the middles against the bands on that side
	}
	var gaps []gap
	if len(branches) < 2 {
		return nil
	}
	for _, m := range wandering {
		a, aKnown := Belief{Draws: branches[0].Draws}.Band(m)
		b, bKnown := Belief{Draws: branches[1].Draws}.Band(m)
		if !aKnown || !bKnown {
			continue
		}
		if a.Median > b.Median {
			a, b = b, a
		}
		if a.Hi < b.Median && a.Median < b.Lo {
			gaps = append(gaps, gap{m, (b.Median - a.Median) / math.Max(a.Hi-a.Median+b.Median-b.Lo, 1e-9)})
		}
	}
	slices.SortStableFunc(gaps, func(a, b gap) int { return cmp.Compare(b.wide, a.wide) })
	var out []quantity.Measurand
	for _, g := range gaps {
		out = append(out, g.of)
	}
	return out
}
