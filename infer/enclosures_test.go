//go:build !long

package infer

// enclosures is how many of each kind are simulated.
const enclosures = 50
