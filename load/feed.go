package load

import (
	"strings"

	"halfwater/book"
	"halfwater/husbandry"
	"halfwater/quantity"
)

// FeedNitrogen is all the nitrogen of dry food with this share of protein: 0.16 of the protein.
func FeedNitrogen(dry quantity.Grams, protein quantity.Share) MgN {
	return MgN(dry.Milligrams() * float64(protein) * table.Value("feed.n_per_protein"))
}

// FeedTAN is the total ammonia that fish give off from dry food that they eat (Timmons & Ebeling,
// 0.092 of the protein): 41 mg N for 1 g at 45 %.
func FeedTAN(dry quantity.Grams, protein quantity.Share) MgN {
	return MgN(dry.Milligrams() * float64(protein) * table.Value("feed.tan_per_protein"))
}

// nitrogenOf is the nitrogen per gram of a food, by the keeper's word for it.
var nitrogenOf = map[string]string{
	"cricket": "n.cricket", "fruit fly": "n.cricket", "insect": "n.cricket",
	"earthworm": "n.earthworm", "frozen": "n.frozen", "fish": "n.fish_flesh", "leaf": "n.leaf",
}

// likened are words within a keeper's word for a food, and what it counts as; the first that is there.
var likened = []struct{ word, name string }{
	{"bloodworm", "n.frozen"},
	{"daphnia", "n.frozen"},
	{"artemia", "n.frozen"},
	{"brine shrimp", "n.frozen"},
	{"mysis", "n.frozen"},
	{"larva", "n.frozen"},
	{"tubifex", "n.frozen"},
	{"frozen", "n.frozen"},
	{"mealworm", "n.cricket"},
	{"waxworm", "n.cricket"},
	{"cricket", "n.cricket"},
	{"fruit fl", "n.cricket"},
	{"flies", "n.cricket"},
	{"roach", "n.cricket"},
	{"locust", "n.cricket"},
	{"insect", "n.cricket"},
	{"earthworm", "n.earthworm"},
	{"worms", "n.earthworm"},
	{"cucumber", "n.greens"},
	{"courgette", "n.greens"},
	{"lettuce", "n.greens"},
	{"salad", "n.greens"},
	{"spinach", "n.greens"},
	{"vegetable", "n.greens"},
	{"greens", "n.greens"},
	{"dandelion", "n.greens"},
}

// Fed is what food brings to the water, by whoever eats it. Food given over water is dropped or
// eaten there; food given on land comes as the waste of those that ate it, as far as it falls into
// the water, and as insects that drown. The eater's use of the water may be unknown (""). A word for
// a food in which no known one stands counts as dry food.
func Fed(f book.Feed, eater husbandry.WaterUse) Nutrients {
	if f.Grams <= 0 {
		return Nutrients{}
	}
	all := foodNitrogen(f)
	wasted := of("feed.eaten_wasted")
	if f.EatenShare > 0 && f.EatenShare <= 1 {
		wasted = Within(max(1-float64(f.EatenShare), 0.01), 1.5)
	}
	wasted.High = min(wasted.High, 1)
	eaten := 1 - min(wasted.Median, 1)
	kept := of("feed.kept_adult")
	back := Doubt[float64]{(1 - kept.High), (1 - kept.Median), (1 - kept.Low)}

	given := all.By(back).Times(eaten) // what the eaters give off again
	rotting := all.By(wasted)
	tan := given.By(of("feed.tan_share"))
	if f.What == "leaf" {
		given, tan, rotting = Doubt[MgN]{}, Doubt[MgN]{}, all
	}
	if !f.InWater {
		reaches := of("share.land_to_water")
		if eater == husbandry.LivesIn {
			reaches = of("share.amphibious_to_water")
		}
		given, tan = given.By(reaches), tan.By(reaches)
		rotting = all.By(of("insect.drowned"))
	}
	return flesh(given.Plus(rotting), tan)
}

func foodNitrogen(f book.Feed) Doubt[MgN] {
	if name, ok := nitrogenOf[f.What]; ok {
		return mg(f.Grams, of(name))
	}
	what := strings.ToLower(f.What)
	for _, l := range likened { // but with a label, or dried, it is dry food of that
		if strings.Contains(what, l.word) && f.ProteinShare == 0 && !strings.Contains(what, "dried") {
			return mg(f.Grams, of(l.name))
		}
	}
	protein := of("feed.protein_dry")
	if f.ProteinShare > 0 && f.ProteinShare <= 1 {
		protein = Within(float64(f.ProteinShare), 1.05)
	}
	return scaled[MgN](f.Grams.Milligrams(), protein.By(of("feed.n_per_protein")))
}
