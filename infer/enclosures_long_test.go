//go:build long

package infer

// enclosures is how many of each kind are simulated.
const enclosures = 600

const (
	enclosuresAhead = 30  // of each kind
	leastAhead      = 0.7 // of bands hold the truth
)
