//go:build !long

package infer

// enclosures is how many of each kind are simulated.
const enclosures = 50

const (
	enclosuresAhead = 8   // of each kind
	leastAhead      = 0.6 // 0.7 less two standard errors of so few enclosures
)
