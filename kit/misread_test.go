package kit_test

import (
	"fmt"
	"math"
	"testing"
	"time"

	"halfwater/kit"
	"halfwater/quantity"
)

// TestChanceNear: whatever the water holds, the chances of all that a card may show sum to one, and what is misread is so
// the seldomer the further off it is.
func TestChanceNear(t *testing.T) {
	card := kit.Kit{Name: "ammonia card", Of: quantity.OfTAN, Form: kit.Card, Unit: "mg/L", Basis: quantity.AsNH4, Steps: []float64{0, 0.25, 0.5, 1, 2, 4}}
	at := time.Date(2026, 3, 1, 18, 0, 0, 0, time.UTC)
	m := card.Error(at)
	for _, x := range []float64{0, 0.02, 0.3, 5} {
		sum := 0.0
		var far []float64 // chances of the colours above what is true by more than the kit errs
		for _, step := range card.Steps {
			iv, err := card.Read(fmt.Sprint(step), at)
			if err != nil {
				t.Fatal(err)
			}
			p := m.ChanceNear(iv, x)
			sum += p
			if !iv.OpenAbove && math.Log((iv.Lo+m.Shift)/(x+m.Shift)) > 3*m.SD {
				far = append(far, p)
			}
		}
		if math.Abs(sum-1) > 1e-9 {
			t.Errorf("of %g mg/L all colours together have the chance %g", x, sum)
		}
		if x == 0 && len(far) < 2 {
			t.Errorf("of %g mg/L %d colours are far off: this shows nothing", x, len(far))
		}
		for i := 1; i < len(far); i++ {
			if far[i] >= far[i-1] {
				t.Errorf("of %g mg/L colours further and further off have the chances %g", x, far)
			}
		}
	}
}
