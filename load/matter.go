package load

import (
	"time"

	"halfwater/quantity"
)

// Carcass is what a small dead animal in the water brings while it falls apart, over about
// [CarcassTime]: 2.5 % N of the wet mass, a 5 g fish 125 mg N.
func Carcass(wet quantity.Grams) Nutrients {
	n := mg(wet, of("n.fish_flesh"))
	return flesh(n, n)
}

// CarcassTime is how long most of the nitrogen of a small carcass takes to come free in warm water.
func CarcassTime() time.Duration { return days(table.Value("carcass.days")) }

// DrownedInsects is what insects that fell in and were not eaten bring.
func DrownedInsects(wet quantity.Grams) Nutrients {
	n := mg(wet, of("n.cricket"))
	return flesh(n, n)
}

// Droppings is what droppings bring: those seen in the water all of it, those on the land the part
// that is washed in.
func Droppings(g quantity.Grams, inWater bool) Nutrients {
	n := mg(g, of("n.droppings"))
	if !inWater {
		n = n.By(of("share.land_to_water"))
	}
	return flesh(n, n.By(Doubt[float64]{0.3, 0.6, 0.9}))
}

// Wood is what dry wood brings: a little carbon that leaches. Nitrogen it has next to none of, and what lives on it takes that up
// (some hundred parts of carbon to one of nitrogen).
func Wood(dry quantity.Grams) Nutrients {
	return Nutrients{C: scaled[quantity.Grams](float64(dry), of("leach.wood_doc"))}
}

// Leaf is what dry fallen leaf brings in the end; its carbon is what leaches.
func Leaf(dry quantity.Grams) Nutrients {
	n := mg(dry, of("n.leaf"))
	return Nutrients{
		N: n, TAN: n.By(Doubt[float64]{0.05, 0.2, 0.5}),
		P: grams(n.By(of("plant.p_per_n"))),
		C: scaled[quantity.Grams](float64(dry), of("leach.leaf_doc")),
	}
}

// Drainage is what water brings that was poured or misted on the land and drains to the pool.
func Drainage(l quantity.Litres) Nutrients {
	n := scaled[MgN](float64(l), of("land.n"))
	c := of("land.doc")
	return Nutrients{N: n, TAN: n.Times(0.1), P: grams(n.Times(0.1)), C: scaled[quantity.Grams](float64(l)/1000, c)}
}

// Trimmed is the nitrogen that leaves with plants or algae taken out, wet: 100 g of hair algae,
// 5 % dry and 4 % N of that, 200 mg N, as much as 885 mg of nitrate.
func Trimmed(wet quantity.Grams) Doubt[MgN] {
	return scaled[MgN](wet.Milligrams(), of("plant.dry_share").By(of("plant.n_share")))
}

func days(d float64) time.Duration { return time.Duration(d * 24 * float64(time.Hour)) }
