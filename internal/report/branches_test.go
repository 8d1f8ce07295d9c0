package report

import (
	"strings"
	"testing"
	"time"

	"halfwater/infer"
	"halfwater/quantity"
)

// TestTwoAccounts: what the readings leave open is told with odds and with the test that decides.
func TestTwoAccounts(t *testing.T) {
	draws := func(n int, kh, tan float64) (out []infer.Draw) {
		for i := range n {
			f := 0.9 + 0.2*float64(i)/float64(n)
			out = append(out, infer.Draw{KH: quantity.Alkalinity(kh * f), TAN: quantity.TotalAmmonia(tan * f)})
		}
		return out
	}
	on, stands := draws(70, 1.5, 0.1), draws(30, 0.2, 3)
	b := infer.Belief{At: time.Date(2026, 5, 1, 9, 0, 0, 0, time.UTC), Draws: append(on[:70:70], stands...)}
	b.Branches = []infer.Branch{{Odds: 0.7, Draws: b.Draws[:70]}, {Odds: 0.3, Draws: b.Draws[70:]}}
	n := Water("shore", b, nil)
	if n.Branches == nil || len(n.Branches.Accounts) != 2 {
		t.Fatalf("no accounts: %+v", n.Branches)
	}
	var text strings.Builder
	if err := WaterText(&text, n, nil); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"two accounts", "2 in 3", "1 in 3", "tells them apart"} {
		if !strings.Contains(text.String(), want) {
			t.Errorf("nothing of %q in:\n%s", want, text.String())
		}
	}
	b.Branches[1].Draws = b.Draws[:30] // alike: no keeper could tell
	if n := Water("shore", b, nil); n.Branches != nil {
		t.Errorf("accounts that are alike are told: %+v", n.Branches)
	}
}
