package plan

import (
	"testing"
	"time"

	"halfwater/book"
	"halfwater/enclosure"
	"halfwater/husbandry"
	"halfwater/infer"
)

// TestFilterLost: a stage that was washed hot or renewed within a fortnight is told of; one rinsed gently, one that carries nothing
// that lives, or one washed long ago, is not.
func TestFilterLost(t *testing.T) {
	now := time.Date(2026, 5, 24, 18, 0, 0, 0, time.UTC)
	for _, c := range []struct {
		service book.Service
		days    int
		told    bool
	}{
		{book.Service{Stage: "sponge", RinsedIn: "hot tap"}, 2, true},
		{book.Service{Stage: "sponge", RinsedIn: "replaced"}, 13, true},
		{book.Service{Stage: "of another time", RinsedIn: "hot tap"}, 2, false},
		{book.Service{Stage: "sponge", RinsedIn: "hot tap"}, 15, false},
		{book.Service{Stage: "sponge", RinsedIn: "tank water"}, 2, false},
		{book.Service{Stage: "floss", RinsedIn: "replaced"}, 2, false},
	} {
		v := &visit{Input: Input{Now: now, Belief: infer.Belief{Water: book.MainWater}, Lines: []book.Line{{Water: book.MainWater, At: now.AddDate(0, 0, -c.days), Body: c.service}}}, on: now}
		v.Facts.Stages = []enclosure.Stage{{Name: "sponge", Biological: true}, {Name: "floss"}}
		out := v.filterLost()
		if told := len(out) == 1 && out[0].Last.Equal(now.AddDate(0, 0, -c.days)); told != c.told {
			t.Errorf("%+v, %d days ago: %+v", c.service, c.days, out)
		}
		v.Lines[0].Water = "other tank"
		if out := v.filterLost(); len(out) > 0 {
			t.Errorf("the filter of another water is told of: %+v", out)
		}
	}
}

// TestLookAgainByDay: half a day after, but not in the night.
func TestLookAgainByDay(t *testing.T) {
	for at, want := range map[int]int{7: 19, 9: 21, 10: 21, 13: 21, 15: 21, 16: 8, 19: 8, 20: 8, 21: 9} {
		v := &visit{on: time.Date(2026, 5, 24, at, 0, 0, 0, time.UTC)}
		got := v.lookAgainIn(husbandry.ActNow)
		if got.Hour() != want || got.Sub(v.on) < 6*time.Hour || got.Sub(v.on) > 16*time.Hour {
			t.Errorf("from %d o'clock again at %s", at, got)
		}
	}
}
