package husbandry

import "testing"

// Over 24 to 25 C newts and cool frogs are in danger within hours: common practice, no source.
func TestWarmth(t *testing.T) {
	for _, c := range []struct {
		who                                string
		watch, act, emergency, cold, frost float64
	}{
		{"alpine newt", 19, 20, 24, 8, 4},
		{"Vietnamese mossy frog", 24, 25, 25, 18, 14},
		{"sword-tailed newt", 24, 25, 25, 15, 11},
		{"guppy", 27, 29, 31, 20, 16},
	} {
		warm, cold, ok := Warmth(kept(t, c.who)[0])
		if !ok || warm.Watch.Or(0) != c.watch || warm.Act.Or(0) != c.act || warm.Emergency.Or(0) != c.emergency {
			t.Errorf("%s: %+v", c.who, warm)
		}
		if cold.At(c.cold) != (Standing{Tier: Watch}) || cold.At(c.cold+0.1) != (Standing{}) || cold.At(c.frost) != (Standing{ActNow, true}) {
			t.Errorf("%s: %+v", c.who, cold)
		}
	}
	if _, _, ok := Warmth(kept(t, "creeping fig")[0]); ok {
		t.Error("a plant of the land has lines of the water")
	}
	if _, _, ok := Warmth(Kept{}); ok {
		t.Error("a kind without a range has lines")
	}
}

// A line of temperature is never past a milder one, and larvae act earlier than the grown.
func TestWarmthIsInOrder(t *testing.T) {
	for _, s := range All() {
		for _, stage := range []Stage{Adult, Larva} {
			warm, cold, ok := Warmth(Kept{s, stage})
			if !ok {
				continue
			}
			for _, l := range []Line{warm, cold} {
				if l.tighter(l.Act.Or(0), l.Watch.Or(0)) || l.tighter(l.Emergency.Or(0), l.Act.Or(0)) {
					t.Errorf("%s, %s: %+v", s.Common, stage, l)
				}
			}
		}
	}
}
