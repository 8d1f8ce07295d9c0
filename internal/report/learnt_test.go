package report_test

import (
	"strings"
	"testing"
	"time"

	"halfwater/infer"
	"halfwater/internal/report"
	"halfwater/quantity"
)

// What a kit's numbers count is told with its odds, where nobody could say.
func TestLearntTellsTheBasis(t *testing.T) {
	at := time.Date(2026, 6, 1, 0, 0, 0, 0, time.UTC)
	l := infer.Learnt{From: at, To: at.AddDate(0, 0, 70), Readings: 9, Sure: true, Bases: []infer.Meant{
		{Kit: "nitrate card", Of: quantity.OfNO3, Basis: quantity.AsNO3, Odds: 0.93},
		{Of: quantity.OfNO2, Basis: quantity.AsN, Odds: 0.5},
	}}
	var out strings.Builder
	if err := report.LearntText(&out, report.LearntOf(l)); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"nitrate card (nitrate) count", "as NO3 with odds of 0.93", "the numbers without a kit (nitrite) count", "as N with odds of 0.50"} {
		if !strings.Contains(out.String(), want) {
			t.Errorf("%q is missing:\n%s", want, out.String())
		}
	}
}
