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
