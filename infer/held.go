package infer

import (
	"math"
	"time"

	"halfwater/book"
	"halfwater/enclosure"
)

// heldPrior is the held water at the full mark: its median in litres and the standard deviation of
// its logarithm; false when nothing in the book says how large the box is.
func heldPrior(lines []book.Line, f enclosure.Facts, at time.Time) (litres, sd float64, known bool) {
	if b := f.Basin; b != nil && b.Length > 0 && b.Width > 0 && b.FullMark > 0 {
		gross := float64(b.Length) * float64(b.Width) * float64(b.FullMark) / 1e6
		lo, hi := 0.75, 0.9
		if b.LandShare > 0 || len(b.Profile) > 0 || b.FalseBottom {
			lo, hi = 0.3, 0.85
		}
		return gross * math.Sqrt(lo*hi), math.Log(hi/lo) / (2 * z95), true
	}
	// The habit and the litres of the changes say it roughly.
	if r := f.Routine; r != nil && r.ChangeShare > 0 {
		sum, n := 0.0, 0
		for _, l := range lines {
			if c, ok := l.Body.(book.Change); ok && c.OutLitres > 0 && !l.At.After(at) {
				sum += float64(c.OutLitres)
				n++
			}
		}
		if n > 0 {
			return sum / float64(n) / float64(r.ChangeShare), 0.25, true
		}
	}
	return 80, 0.7, false
}
