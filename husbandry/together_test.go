package husbandry

import (
	"testing"

	"pgregory.net/rapid"

	"halfwater/quantity"
)

func pair(t testing.TB, a, b string) Pair {
	k := kept(t, a, b)
	return Together(k[0], k[1])
}

func (p Pair) code(c Code) bool {
	for _, r := range p.Reasons {
		if r.Code == c {
			return true
		}
	}
	return false
}

// Verdicts that keepers' practice agrees on; common practice, no source.
func TestTogether(t *testing.T) {
	for _, c := range []struct {
		a, b    string
		verdict Meeting
		code    Code
	}{
		{"Vietnamese mossy frog", "Japanese rice fish", GoesWatched, MeetSnaps},
		{"Vietnamese mossy frog", "cherry shrimp", GoesWatched, MeetSnaps},
		{"Japanese rice fish", "cherry shrimp", GoesTogether, MeetEatsYoung},
		{"Vietnamese mossy frog", "Java moss", GoesTogether, ""},
		{"alpine newt", "guppy", GoesNot, MeetNewt},
		{"alpine newt", "Chinese fire-bellied newt", GoesNot, MeetNewt},
		{"oriental fire-bellied toad", "cherry shrimp", GoesNot, MeetBombina},
		{"African clawed frog", "zebrafish", GoesNot, MeetHunts},
		{"Zaire dwarf clawed frog", "ember tetra", GoesNot, MeetClawed},
		{"pond slider", "guppy", GoesNot, MeetTurtle},
		{"common musk turtle", "ramshorn snail", GoesNot, MeetCrushes},
		{"panther crab", "harlequin rasbora", GoesNot, MeetCrabFish},
		{"Thai micro crab", "ember tetra", GoesTogether, ""},
		{"Chinese water dragon", "guppy", GoesNot, MeetHunts},
		{"White's tree frog", "mimic dart frog", GoesNot, MeetHunts},
		{"marsh frog", "peppered corydoras", GoesNot, MeetSpines},
		{"assassin snail", "ramshorn snail", GoesNot, MeetHunts},
		{"assassin snail", "trumpet snail", GoesNot, MeetHunts},
		{"green-and-black dart frog", "mimic dart frog", GoesWatched, MeetTwoFrogs},
		{"goldfish", "eel grass", GoesWatched, MeetEatsPlants},
		{"bee shrimp", "molly", GoesNot, MeetRangesApart},
		{"Indian dwarf mudskipper", "cherry shrimp", GoesNot, MeetBrackish},
		{"rainbow land crab", "Vietnamese mossy frog", GoesNot, MeetAttacks},
		{"mata mata", "mata mata", GoesNot, MeetSolitary},
		{"green anole", "green anole", GoesWatched, MeetOneMale},
		{"Vietnamese mossy frog", "Vietnamese mossy frog", GoesTogether, ""},
		{"otocinclus", "Vietnamese mossy frog", GoesNot, MeetSpines},
	} {
		p := pair(t, c.a, c.b)
		if p.Verdict != c.verdict || (c.code != "" && !p.code(c.code)) {
			t.Errorf("%s with %s: %s for %v", c.a, c.b, p.Verdict, p.Reasons)
		}
		if c.code == "" && len(p.Reasons) > 0 {
			t.Errorf("%s with %s: reasons %v", c.a, c.b, p.Reasons)
		}
	}
}

func TestLarvaeTogether(t *testing.T) {
	frog := kept(t, "Vietnamese mossy frog")[0]
	larva := Kept{frog.Species, Larva}
	if p := Together(frog, larva); p.Verdict != GoesWatched || !p.code(MeetOwnLarvae) {
		t.Errorf("frogs with their larvae: %s, %v", p.Verdict, p.Reasons)
	}
	if p := Together(larva, kept(t, "guppy")[0]); p.Verdict == GoesTogether || !p.code(MeetLarvaeFish) {
		t.Errorf("larvae with guppies: %s, %v", p.Verdict, p.Reasons)
	}
	if p := Together(larva, larva); p.Verdict != GoesTogether {
		t.Errorf("larvae with larvae: %s, %v", p.Verdict, p.Reasons)
	}
}

// What is unknown is judged to the worse side.
func TestUnknownMouth(t *testing.T) {
	frog, fish := kept(t, "Vietnamese mossy frog")[0], kept(t, "Japanese rice fish")[0]
	frog.Species.Gape = Maybe[quantity.Millimetres]{}
	fish.Species.Length = Known(quantity.Millimetres(20))
	if p := Together(frog, fish); !p.code(MeetGapeUnknown) || p.Verdict != GoesWatched {
		t.Errorf("mouth unknown: %s, %v", p.Verdict, p.Reasons)
	}
	fish.Species.Length = Maybe[quantity.Millimetres]{}
	if p := Together(frog, fish); p.Verdict != GoesWatched {
		t.Errorf("length unknown: %s, %v", p.Verdict, p.Reasons)
	}
}

// The order in which two are named does not matter, and the verdict is that of the gravest reason.
func TestTogetherIsMutual(t *testing.T) {
	list := All()
	rapid.Check(t, func(t *rapid.T) {
		stage := rapid.SampledFrom([]Stage{Adult, Young, Larva})
		a := Kept{rapid.SampledFrom(list).Draw(t, "a"), stage.Draw(t, "stage a")}
		b := Kept{rapid.SampledFrom(list).Draw(t, "b"), stage.Draw(t, "stage b")}
		p, q := Together(a, b), Together(b, a)
		if p.Verdict != q.Verdict || len(p.Reasons) != len(q.Reasons) {
			t.Fatalf("%s with %s: %v and %v", a.Species.Common, b.Species.Common, p.Reasons, q.Reasons)
		}
		for _, r := range p.Reasons {
			if r.Verdict.weight() > p.Verdict.weight() {
				t.Fatalf("a reason is graver than the verdict: %+v", p)
			}
		}
	})
}

func TestJudgeAll(t *testing.T) {
	stock := kept(t, "Vietnamese mossy frog", "Japanese rice fish", "cherry shrimp", "Java moss")
	found := JudgeAll(stock)
	if len(found) != 3 {
		t.Fatalf("%d pairs with reasons: %v", len(found), found)
	}
	for _, p := range found {
		if p.Verdict == GoesNot {
			t.Errorf("%s with %s: no, for %v", p.A.Species.Common, p.B.Species.Common, p.Reasons)
		}
	}
}
