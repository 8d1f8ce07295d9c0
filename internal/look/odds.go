package look

import (
	"fmt"
	"math"
)

// Odds is a chance in words. Full of Of strokes may follow the words; Of is 0 when none do.
type Odds struct {
	Words    string
	Full, Of int
}

// phrases are the only chances that are ever printed, the smallest first. Each is about as far
// from its neighbours as a person can tell: judgement, no source.
var phrases = [...]struct{ a, b int }{
	{1, 100},
	{1, 50},
	{1, 20},
	{1, 12},
	{1, 10},
	{1, 8},
	{1, 6},
	{1, 5},
	{1, 4},
	{1, 3},
	{1, 2},
	{2, 3},
	{3, 4},
	{4, 5},
	{5, 6},
	{9, 10},
	{19, 20},
}

const (
	strokesAtMost = 12  // a longer row is not counted by eye
	runsPerChance = 6   // with n runs nothing finer than 1 in n/6 is said
	fewer         = 1.5 // under 1/(1.5 N) we say "fewer than 1 in N"
)

// Unsaid is the phrase when nothing can be said of a chance.
const Unsaid = "we do not know"

// OddsOf words the chance p (0 to 1) as the nearest phrase in log-odds. Under 1 in 150 it says
// "fewer than 1 in 100", above 149 in 150 "all but certain". A p that is no chance gives [Unsaid].
func OddsOf(p float64) Odds { return word(p, math.Inf(1)) }

// OddsFromRuns words a chance counted in seeded runs: hits of runs. It prints nothing finer than
// 1 in runs/6, so that no phrase rests on fewer than about six runs; under 12 runs it says that
// we do not know. With 500 runs and no hit it says "fewer than 1 in 50".
func OddsFromRuns(hits, runs int) Odds {
	if runs < 2*runsPerChance || hits < 0 || hits > runs {
		return Odds{Words: Unsaid}
	}
	return word(float64(hits)/float64(runs), float64(runs)/runsPerChance)
}

// word picks among the phrases that are no finer than 1 in finest, at either end.
func word(p, finest float64) Odds {
	if math.IsNaN(p) || p < 0 || p > 1 {
		return Odds{Words: Unsaid}
	}
	first, last := 0, len(phrases)-1
	for float64(phrases[first].b) > finest {
		first++
	}
	for float64(phrases[last].b) > finest {
		last--
	}
	if low := phrases[first].b; p < 1/(fewer*float64(low)) {
		return Odds{Words: fmt.Sprintf("fewer than 1 in %d", low)}
	}
	if finest >= 100 {
		if p > 1-1/150. {
			return Odds{Words: "all but certain"}
		}
	} else if high := phrases[last]; 1-p < 1/(fewer*float64(high.b)) {
		return Odds{Words: fmt.Sprintf("more than %d in %d", high.a, high.b)}
	}
	best, least := phrases[first], math.Inf(1)
	for _, f := range phrases[first : last+1] {
		if d := math.Abs(logit(float64(f.a)/float64(f.b)) - logit(p)); d < least {
			best, least = f, d
		}
	}
	o := Odds{Words: fmt.Sprintf("%d in %d", best.a, best.b)}
	if best.b <= strokesAtMost {
		o.Full, o.Of = best.a, best.b
	}
	return o
}

func logit(p float64) float64 { return math.Log(p / (1 - p)) }
