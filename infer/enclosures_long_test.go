//go:build long

package infer

import "testing"

// enclosures is how many of each kind are simulated.
const enclosures = 60

// Bounds of what bands hold.
const (
	least, most, leastOfKind = 0.7, 0.95, 0.6

	enclosuresAhead = 30  // of each kind
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
		kind := aheadKinds[i%len(aheadKinds)]
		e := newTruth(firstAhead+500+uint64(i), kind)
		e.keep(156)
		e.untested = true
		weeks := 1 + i%4
		e.keep(weeks)
		when := day0.AddDate(0, 0, 7*(156+weeks))
		b, err := Believe(Window{Lines: e.lines, At: when, Recorded: when, Seed: 1})
		if err != nil {
			t.Fatal(err)
		}
		s := e.state(0.2 * e.r.NormFloat64())
		for k, m := range foretold {
			last, trend := e.plainly(m, when)
			if last == nil {
				continue
			}
			draws := make([]float64, 0, len(b.Draws))
			for _, d := range b.Draws {
				x, _ := d.Of(m)
				draws = append(draws, x)
			}
			scores[k].take(draws, s[m], last, trend)
		}
	}
	report(t, "three years", scores)
	return scores
}
