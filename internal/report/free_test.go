package report

import (
	"testing"
	"time"

	"halfwater/enclosure"
	"halfwater/husbandry"
	"halfwater/infer"
	"halfwater/internal/look"
	"halfwater/plan"
	"halfwater/quantity"
)

// TestFreeAmmoniaHasItsOwnTier: total ammonia past what may stand for a month says nothing of its free part, which has a line of its own.
func TestFreeAmmoniaHasItsOwnTier(t *testing.T) {
	now := time.Date(2026, 5, 1, 9, 0, 0, 0, time.UTC)
	b := infer.Belief{At: now, Evidence: map[quantity.Measurand]infer.Evidence{quantity.OfTAN: {Last: now}}}
	for i := range 100 {
		b.Draws = append(b.Draws, infer.Draw{TAN: quantity.TotalAmmonia(2 + 0.01*float64(i)), PH: 6.8, Temp: 25})
	}
	for code, want := range map[string]look.Mark{"plan.ammonia-act": look.ActNow, "plan.ammonia-criterion-act": look.CarryOn} {
		s := plan.Sheet{Concerns: []plan.Concern{{Code: code, Of: quantity.OfTAN, Tier: husbandry.ActNow}}}
		rows := map[string]WaterRow{}
		for _, r := range WaterRows(b, enclosure.Facts{}, nil, s) {
			rows[r.Key] = r
		}
		free := rows[freeKey]
		if rows[string(quantity.OfTAN)].Mark != look.ActNow || free.Key == "" || free.Mark != want || (free.Instead == "") != (want == look.ActNow) {
			t.Errorf("%s: total %v, free %v %q", code, rows[string(quantity.OfTAN)].Mark, free.Mark, free.Instead)
		}
	}
}
