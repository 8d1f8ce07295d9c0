package report_test

import (
	"strings"
	"testing"

	"halfwater/internal/report"
)

// TestSizeComesDownWithLength: a longer sheet is never set in larger letters, and all sizes are used.
func TestSizeComesDownWithLength(t *testing.T) {
	order := []string{"roomy", "usual", "close", "tight", "least"}
	at, used := 0, map[string]bool{}
	for n := range 90 {
		v := report.View{}
		for range n {
			v.Cautions = append(v.Cautions, strings.Repeat("caution ", 14))
		}
		size := v.Size()
		for order[at] != size {
			if at++; at == len(order) {
				t.Fatalf("%d cautions are set %q after a smaller size", n, size)
			}
		}
		used[size] = true
	}
	if len(used) != len(order) {
		t.Errorf("only %v of %v are used", used, order)
	}
}
