package book

import "halfwater/quantity"

var (
	_ = register(Feed{})
	_ = register(Droppings{})
)

// Feed is food put in.
type Feed struct {
	What         string // dry, frozen, cricket, fruit fly, earthworm, leaf
	Grams        quantity.Grams
	ProteinShare quantity.Share // of dry food; 0 when not known
	EatenShare   quantity.Share // 0 when not noted: all
	InWater      bool           // given over water
	PerDay       bool           // a habit that holds from this day until the next such line
}

// Droppings seen in the water or on the land.
type Droppings struct {
	Where string // water, land
	Grams quantity.Grams
}

// Kind is the kind of line.
func (Feed) Kind() string { return "feed" }

// Kind is the kind of line.
func (Droppings) Kind() string { return "droppings" }

// Check says what is wrong with the line.
func (f Feed) Check() error {
	c := checking(f)
	c.named("what", f.What, "say what was fed: dry, frozen, cricket, ...")
	c.grams("grams", f.Grams)
	c.share("protein share", f.ProteinShare)
	c.share("eaten share", f.EatenShare)
	return c.err()
}

// Check says what is wrong with the line.
func (d Droppings) Check() error {
	c := checking(d)
	c.among("where", d.Where, "", "water", "land")
	c.grams("grams", d.Grams)
	return c.err()
}
