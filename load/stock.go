package load

import (
	"strings"

	"halfwater/enclosure"
	"halfwater/husbandry"
)

// Resting is what a batch gives off in a day when nobody wrote down what it was fed: the nitrogen of
// an animal at maintenance by its kind and mass, as far as it reaches the water. Plants give none.
// A batch whose mass was not given takes the table's adult mass, its doubt threefold; without
// either it is unknown, and left out.
func Resting(b enclosure.Batch) (perDay Nutrients, known bool) {
	s, err := husbandry.Lookup(b.Species)
	if err != nil || b.Count <= 0 || !s.Group.Animal() {
		return Nutrients{}, false
	}
	mass, weighed := b.Mass, b.Mass > 0
	if !weighed {
		if mass = s.Mass.Or(0); mass <= 0 {
			return Nutrients{}, false
		}
	}
	kg := float64(mass) / 1000 * float64(b.Count)
	n := scaled[MgN](kg, of(restingRate(s.Group)))
	if !weighed {
		n = n.By(Within(1.0, 3))
	}
	if b.Larvae {
		return flesh(n, n.By(of("feed.tan_share"))), true
	}
	switch s.Use {
	case husbandry.Splashes, husbandry.Landed:
		n = n.By(of("share.land_to_water"))
	case husbandry.LivesIn:
		n = n.By(of("share.amphibious_to_water"))
	}
	tan := n.By(of("feed.tan_share"))
	if s.Excretes == husbandry.UricAcid {
		tan = n.Times(0.1) // solid pellets; the rest comes free slowly
	}
	return flesh(n, tan), true
}

func restingRate(g husbandry.Group) string {
	switch {
	case g == husbandry.Fish:
		return "rest.fish"
	case g == husbandry.Turtle:
		return "rest.turtle"
	case g == husbandry.Lizard:
		return "rest.lizard"
	case g.Amphibian():
		return "rest.amphibian"
	}
	return "rest.invertebrate"
}

// useOf is how a batch of the stock uses the water; unknown for a batch that is not there.
func useOf(stock []enclosure.Batch, name string) husbandry.WaterUse {
	for _, b := range stock {
		if name != "" && strings.EqualFold(b.Name, name) {
			if s, err := husbandry.Lookup(b.Species); err == nil {
				return s.Use
			}
		}
	}
	return ""
}
