package water

import (
	"math"
	"testing"
)

func TestExpSmall(t *testing.T) {
	for x := -8.0; x < 8; x += 0.00137 {
		if got, want := expSmall(x), math.Exp(x); math.Abs(got/want-1) > 1e-14 {
			t.Fatalf("exp(%g): %.17g, want %.17g", x, got, want)
		}
	}
}
