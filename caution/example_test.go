package caution_test

import (
	"fmt"

	"halfwater/caution"
)

// A water change: hands in the water, the level falls, a siphon, buckets.
func ExampleFor() {
	for _, c := range caution.For(caution.Lifting, caution.Mains, caution.LevelFalls, caution.MouthSiphon, caution.Hygiene) {
		fmt.Println(c.Code, c.DefersTo)
	}
	// Output:
	// caution.mains [electrician local code]
	// caution.level-falls [maker]
	// caution.mouth-siphon [doctor]
	// caution.hygiene [doctor]
	// caution.cuts [doctor]
	// caution.lifting [doctor]
	// caution.drip-loop [electrician local code]
}
