//go:build long

package infer

import "testing"

// enclosures is how many of each kind are simulated.
const enclosures = 60

// Bounds of what bands hold.
const (
	least, most, leastOfKind = 0.7, 0.95, 0.6

	enclosuresAhead = 30 // of each kind
	leaksOfKind     = 12
	leastAhead      = 0.7 // of bands hold the truth
)

// TestAheadAtAGlance scores the first look where TestAhead scores what Believe says: what whole histories
// gain over one pass. It asserts only that there are numbers.
func TestAheadAtAGlance(t *testing.T) {
	foretell(t, "at a glance", Glance)
}

// TestLongBooks: at the end of three years bands still hold as often as after half a year.
func TestLongBooks(t *testing.T) {
	for k, s := range foretellLong(t, 50) {
		if share := float64(s.hit) / float64(s.n); share < least {
			t.Errorf("%s: %.0f %% of 80 %% bands hold the truth", foretold[k].Label(), 100*share)
		}
	}
}

// foretellLong scores what is believed at the end of three years of record, of which the last 26 to 39 weeks
// are fitted.
func foretellLong(t *testing.T, n int) []tally {
	scores := make([]tally, len(foretold))
	for i := range n {
		e := newTruth(firstAhead+500+uint64(i), aheadKinds[i%len(aheadKinds)])
		e.foretell(t, 156, 1+i%4, Believe, scores)
	}
	report(t, "three years", scores)
	return scores
}
