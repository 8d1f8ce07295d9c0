package husbandry

import (
	"strings"

	"halfwater/quantity"
)

// depthName names, by group, the constant for the depth of a body over its length: what a mouth
// must open to for it to pass.
var depthName = map[Group]string{
	Lizard: "depth-lizard", Turtle: "depth-turtle", Newt: "depth-newt", Frog: "depth-frog", Crab: "depth-crab",
	Shrimp: "depth-shrimp", Snail: "depth-snail", Fish: "depth-fish",
}

// bodyDepth is the depth of the grown body, unknown when the length is.
func bodyDepth(s Species) Maybe[quantity.Millimetres] {
	length, ok := s.Length.Get()
	name := depthName[s.Group]
	if !ok || name == "" {
		return Maybe[quantity.Millimetres]{}
	}
	return Known(length * quantity.Millimetres(constants.Value(name)))
}

// fitsMouth reports whether the prey fits the mouth of the other. Where a mouth or a body is
// unknown it is judged by length, and known is false: a third of the length of the other fits,
// and so does what has no length at all. Larvae and young of the prey fit when the grown do, and
// larvae always fit a mouth of their depth.
func fitsMouth(prey, other Kept) (fits, known bool) {
	gape, haveGape := other.Species.Gape.Get()
	depth, haveDepth := bodyDepth(prey.Species).Get()
	if prey.Larva() {
		depth, haveDepth = quantity.Millimetres(constants.Value("depth-larva")), true
	}
	if haveGape && haveDepth {
		return depth <= gape, true
	}
	mine, haveMine := prey.Species.Length.Get()
	its, haveIts := other.Species.Length.Get()
	return !haveMine || !haveIts || float64(mine) <= float64(its)*constants.Value("prey-share-of-length"), false
}

// swallowsAny reports whether an animal swallows others at all.
func swallowsAny(k Kept) bool {
	s := k.Species
	return s.Has(Hunts) || s.Has(Snaps) || s.Has(HuntsFish) || s.Has(HuntsShrimp)
}

// smaller reports whether a weighs less than half of b; unknown counts as smaller.
func smaller(a, b Kept) bool {
	x, haveX := a.Species.Mass.Get()
	y, haveY := b.Species.Mass.Get()
	return !haveX || !haveY || 2*x < y
}

func genus(s Species) string { g, _, _ := strings.Cut(s.Scientific, " "); return g }
