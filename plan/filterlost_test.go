package plan

import (
	"testing"
	"time"

	"halfwater/book"
	"halfwater/enclosure"
	"halfwater/husbandry"
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
		{book.Service{Stage: "gravel", RinsedIn: "hot tap"}, 2, true},
		{book.Service{Stage: "sponge", RinsedIn: "hot tap"}, 15, false},
		{book.Service{Stage: "sponge", RinsedIn: "tank water"}, 2, false},
		{book.Service{Stage: "floss", RinsedIn: "replaced"}, 2, false},
	} {
		v := &visit{Input: Input{Now: now, Lines: []book.Line{{At: now.AddDate(0, 0, -c.days), Body: c.service}}}, on: now}
		v.Facts.Stages = []enclosure.Stage{{Name: "sponge", Biological: true}, {Name: "floss"}}
		out := v.filterLost()
		if told := len(out) == 1 && out[0].Last.Equal(now.AddDate(0, 0, -c.days)); told != c.told {
			t.Errorf("%+v, %d days ago: %+v", c.service, c.days, out)
		}
	}
}

// TestLookAgainByDay: half a day after, but not in the night.
func TestLookAgainByDay(t *testing.T) {
	for at, want := range map[int]int{7: 19, 9: 21, 11: 8, 13: 8, 19: 8, 20: 8, 21: 9} {
		v := &visit{on: time.Date(2026, 5, 24, at, 0, 0, 0, time.UTC)}
		got := v.lookAgainIn(husbandry.ActNow)
		if got.Hour() != want || got.Sub(v.on) < 11*time.Hour || got.Sub(v.on) > 22*time.Hour {
			t.Errorf("from %d o'clock again at %s", at, got)
		}
	}
}
