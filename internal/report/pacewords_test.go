package report

import (
	"math"
	"testing"

	"halfwater/quantity"
)

// TestPaceInWords: a skew band is told end by end, each in the digits of its size; what is under the last digit is "under" it; past what
// can be foreseen there is no end in sight.
func TestPaceInWords(t *testing.T) {
	inf := math.Inf(1)
	weeks, leak, reserve := pace{unit: "weeks", finest: .5, most: 104}, pace{finest: .01}, pace{finest: .1}
	for _, c := range []struct {
		p              pace
		lo, middle, hi float64
		about, could   string
	}{
		{weeks, 4.2, 48, inf, "about 50", "could be 4 or more"},
		{weeks, 21, 42, 1193, "about 40", "could be 21 or more"},
		{weeks, 118, 400, inf, "no end in sight", "could be 100 weeks or more"},
		{weeks, 5.6, 12, 230, "about 12", "could be 6 or more"},
		{weeks, 5.6, 12, 60, "about 12", "could be 6 to 60"},
		{leak, .0005, .002, .004, "under 0.01", ""},
		{leak, .37, 1.23, 2.41, "about 1.2", "could be 0.35 to 2.4"},
		{reserve, 4.9, 12, 26, "about 12", "could be 5 to 25"},
	} {
		c.p.band = quantity.Band[float64]{Lo: c.lo, Median: c.middle, Hi: c.hi}
		if v := c.p.value(); v.about != c.about || v.could != c.could {
			t.Errorf("%g (%g to %g): %q, %q; want %q, %q", c.middle, c.lo, c.hi, v.about, v.could, c.about, c.could)
		}
	}
}
