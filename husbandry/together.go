package husbandry

import (
	"cmp"
	"slices"

	"halfwater/quantity"
)

// Meeting is what may be said of two kinds in one enclosure: carry on, watch, or no.
type Meeting string

// The verdicts on a meeting, mildest first.
const (
	GoesTogether Meeting = "carry on"
	GoesWatched  Meeting = "watch"
	GoesNot      Meeting = "no"
)

func (m Meeting) weight() int {
	return slices.Index([]Meeting{GoesTogether, GoesWatched, GoesNot}, m)
}

// Codes of meetings. The one named first in a [Because] of a meeting does it to the other.
const (
	MeetNewt        Code = "meet.newt"         // newts with any other kind
	MeetBombina     Code = "meet.fire-bellied" // fire-bellied toads with any other kind
	MeetClawed      Code = "meet.clawed-frog"  // clawed frogs with any other kind
	MeetTurtle      Code = "meet.turtle"       // turtles with smaller animals
	MeetCrabFish    Code = "meet.crab-fish"    // crabs with sleeping fish
	MeetHunts       Code = "meet.hunts"        // goes after it, and it fits the mouth
	MeetSnaps       Code = "meet.snaps"        // takes it when it comes within reach
	MeetGapeUnknown Code = "meet.gape-unknown" // the size of the mouth is not known; judged by length
	MeetEatsYoung   Code = "meet.eats-young"
	MeetEatsPlants  Code = "meet.eats-plants"
	MeetCrushes     Code = "meet.crushes"
	MeetAttacks     Code = "meet.attacks"
	MeetGrips       Code = "meet.grips"
	MeetNips        Code = "meet.nips"
	MeetRasps       Code = "meet.rasps"
	MeetSpines      Code = "meet.spines" // what would swallow it is hurt by its spines
	MeetToxic       Code = "meet.toxic-skin"
	MeetWeakToxin   Code = "meet.weak-toxin"
	MeetTwoFrogs    Code = "meet.two-frogs"   // two kinds of frog
	MeetLarvaeFish  Code = "meet.larvae-fish" // larvae beside fish, shrimp, crabs
	MeetOwnLarvae   Code = "meet.own-larvae"  // grown amphibians with larvae
	MeetStarves     Code = "meet.starves"     // the quick feeder leaves nothing for the slow one
	MeetSolitary    Code = "meet.solitary"    // more than one of a solitary kind
	MeetOneMale     Code = "meet.one-male"
	MeetRangesApart Code = "meet.ranges-apart" // no water or air suits both
	MeetBrackish    Code = "meet.brackish"     // one needs salt, the other is of fresh water
)

// Meets is one reason about two kinds: Who does it to Whom. Of is set when the ranges of that
// measurand do not meet.
type Meets struct {
	Verdict   Meeting
	Code      Code
	Who, Whom string
	Of        quantity.Measurand
}

// Pair is the verdict on two kinds: the gravest of its reasons. The reasons stand gravest first.
type Pair struct {
	A, B    Kept
	Verdict Meeting
	Reasons []Meets
}

// Together judges two kinds in one enclosure, by the hazards of the species table, by size of
// mouth and body, by the classes that should not be mixed, and by their ranges. "No" is a default
// that the keeper must overrule by name; "carry on" says only that the table knows nothing
// against it. For one kind with itself at the same stage it judges a group.
func Together(a, b Kept) Pair {
	p := Pair{A: a, B: b, Verdict: GoesTogether}
	if a.Species.Scientific == b.Species.Scientific && a.Larva() == b.Larva() {
		p.ownKind()
	} else if a.Species.Group.Animal() && b.Species.Group.Animal() {
		p.classes(a, b)
		p.classes(b, a)
		p.hazards(a, b)
		p.hazards(b, a)
		p.both()
	} else {
		p.plants(a, b)
		p.plants(b, a)
	}
	p.ranges()
	slices.SortStableFunc(p.Reasons, func(x, y Meets) int { return cmp.Compare(y.Verdict.weight(), x.Verdict.weight()) })
	if len(p.Reasons) > 0 {
		p.Verdict = p.Reasons[0].Verdict
	}
	return p
}

// JudgeAll judges every pair of a stock, each kind with itself too, and gives those that have a
// reason, gravest first.
func JudgeAll(stock []Kept) []Pair {
	var out []Pair
	for i := range stock {
		for j := i; j < len(stock); j++ {
			if p := Together(stock[i], stock[j]); len(p.Reasons) > 0 {
				out = append(out, p)
			}
		}
	}
	slices.SortStableFunc(out, func(x, y Pair) int { return cmp.Compare(y.Verdict.weight(), x.Verdict.weight()) })
	return out
}

func (p *Pair) say(m Meeting, code Code, who, whom Kept) {
	p.Reasons = append(p.Reasons, Meets{Verdict: m, Code: code, Who: who.Species.Common, Whom: whom.Species.Common})
}

func (p *Pair) ownKind() {
	switch s := p.A.Species; {
	case s.Has(Solitary):
		p.say(GoesNot, MeetSolitary, p.A, p.B)
	case s.Has(OneMale):
		p.say(GoesWatched, MeetOneMale, p.A, p.B)
	}
}

// classes are the mixtures that are refused whatever the sizes.
func (p *Pair) classes(a, b Kept) {
	same := a.Species.Scientific == b.Species.Scientific
	switch s := a.Species; {
	case same: // grown with larvae of their own: see both
	case s.Group == Newt:
		p.say(GoesNot, MeetNewt, a, b)
	case genus(s) == "Bombina":
		p.say(GoesNot, MeetBombina, a, b)
	case genus(s) == "Xenopus" || genus(s) == "Hymenochirus":
		p.say(GoesNot, MeetClawed, a, b)
	case s.Group == Turtle && smaller(b, a):
		p.say(GoesNot, MeetTurtle, a, b)
	case s.Group == Crab && b.Species.Group == Fish && (s.Has(Grips) || s.Has(Attacks) || s.Has(Nips)):
		p.say(GoesNot, MeetCrabFish, a, b)
	}
}

// hazards are what a does to b.
func (p *Pair) hazards(a, b Kept) {
	if a.Larva() {
		return
	}
	s := a.Species
	fits, known := fitsMouth(b, a)
	hunts := s.Has(Hunts) || s.Has(HuntsFish) && b.Species.Group == Fish ||
		s.Has(HuntsShrimp) && b.Species.Group.Crustacean()
	swallows := fits && (hunts || s.Has(Snaps))
	if s.Has(HuntsSnails) && b.Species.Group == Snail {
		p.say(GoesNot, MeetHunts, a, b)
	}
	if fits && hunts {
		p.say(GoesNot, MeetHunts, a, b)
	} else if fits && s.Has(Snaps) {
		p.say(GoesWatched, MeetSnaps, a, b)
	}
	if swallows && !known {
		p.say(GoesWatched, MeetGapeUnknown, a, b)
	}
	if swallows && b.Species.Has(Spines) {
		p.say(GoesNot, MeetSpines, b, a)
	}
	if swallows && b.Species.Has(ToxicSkin) {
		p.say(GoesNot, MeetToxic, b, a)
	}
	if s.Has(Crushes) && (b.Species.Group == Snail || b.Species.Group == Crab) {
		p.say(GoesNot, MeetCrushes, a, b)
	}
	if s.Has(Attacks) {
		p.say(GoesNot, MeetAttacks, a, b)
	}
	if s.Has(Grips) && (b.Species.Group == Shrimp || b.Species.Group.Amphibian()) {
		p.say(GoesWatched, MeetGrips, a, b)
	}
	if (s.Has(Nips) || s.Has(Bites)) && b.Species.Group != Snail {
		p.say(GoesWatched, MeetNips, a, b)
	}
	if s.Has(RaspsSkin) && (b.Species.Group.Amphibian() || b.Species.Group == Turtle) {
		p.say(GoesWatched, MeetRasps, a, b)
	}
	if s.Has(EatsYoung) && b.Species.Has(Multiplies) && (b.Species.Group == Fish || b.Species.Group == Shrimp) {
		p.say(GoesTogether, MeetEatsYoung, a, b)
	}
	if s.Has(TakesFood) && b.Species.Has(SlowFeeder) {
		p.say(GoesWatched, MeetStarves, a, b)
	}
	if s.Has(ToxicSkin) {
		p.say(GoesWatched, MeetToxic, a, b)
	}
	if s.Has(WeakToxin) && swallowsAny(b) {
		p.say(GoesWatched, MeetWeakToxin, a, b)
	}
	if s.Has(Brackish) != b.Species.Has(Brackish) && s.Has(Brackish) && b.HoldsWater() {
		p.say(GoesNot, MeetBrackish, a, b)
	}
}

// both are reasons that lie with neither alone.
func (p *Pair) both() {
	a, b := p.A, p.B
	switch {
	case a.Species.Group.Amphibian() && b.Species.Group.Amphibian() && a.Larva() != b.Larva():
		p.say(GoesWatched, MeetOwnLarvae, a, b)
	case a.Species.Group == Frog && b.Species.Group == Frog:
		p.say(GoesWatched, MeetTwoFrogs, a, b)
	}
	for _, side := range [][2]Kept{{a, b}, {b, a}} {
		larva, other := side[0], side[1]
		if g := other.Species.Group; larva.Larva() && (g == Fish || g.Crustacean()) {
			p.say(GoesWatched, MeetLarvaeFish, other, larva)
		}
	}
}

func (p *Pair) plants(a, b Kept) {
	if a.Species.Has(EatsPlants) && b.Species.Group == Plant {
		p.say(GoesWatched, MeetEatsPlants, a, b)
	}
}

// ranges looks for measurands of which no value suits both.
func (p *Pair) ranges() {
	for _, x := range Needs(p.A) {
		for _, y := range Needs(p.B) {
			if x.Of == y.Of && x.When == y.When && x.Range.Meet(y.Range).Empty() {
				p.Reasons = append(p.Reasons, Meets{GoesNot, MeetRangesApart, p.A.Species.Common, p.B.Species.Common, x.Of})
			}
		}
	}
}
