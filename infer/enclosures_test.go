//go:build !long

package infer

// enclosures is how many of each kind are simulated.
const enclosures = 4

// Bounds of what bands hold, with two standard errors of so few enclosures.
const (
	least, most, leastOfKind = 0.5, 1, 0

	enclosuresAhead = 4 // of each kind
	leaksOfKind     = 2
	leastAhead      = 0.5 // 0.7 less two standard errors of so few enclosures
)
