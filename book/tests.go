package book

import (
	"fmt"

	"halfwater/quantity"
)

var (
	_ = register(AeratedGlass{})
	_ = register(StoneJar{})
)

// AeratedGlass is the pH of a glass of tank water before and after a day of air: the tank's CO2.
type AeratedGlass struct {
	Kit           string
	Before, After quantity.PH
	Hours         float64
}

// StoneJar is a stone kept in a jar of RO: KH or GH gained is a carbonate source.
type StoneJar struct {
	What          string
	Litres        quantity.Litres
	Days          float64
	Of            quantity.Measurand // OfKH, OfGH or OfEC
	Before, After float64            // canonical unit of Of
}

// Kind is the kind of line.
func (AeratedGlass) Kind() string { return "aerated glass" }

// Kind is the kind of line.
func (StoneJar) Kind() string { return "stone in a jar" }

// Refs are the names that the line uses.
func (a AeratedGlass) Refs() []Ref { return []Ref{{"kit", "kit", a.Kit}} }

// Check says what is wrong with the line.
func (a AeratedGlass) Check() error {
	c := checking(a)
	c.spanned("before", quantity.OfPH, float64(a.Before))
	c.spanned("after", quantity.OfPH, float64(a.After))
	c.positive("hours", a.Hours, mostSeconds/3600, "h", "write how long the air ran")
	return c.err()
}

// Check says what is wrong with the line.
func (s StoneJar) Check() error {
	c := checking(s)
	c.named("what", s.What, "say which stone")
	c.positive("litres", float64(s.Litres), mostLitres, "L", "write how much water is in the jar")
	c.positive("days", s.Days, 3660, "d", "write how long the stone lay in it")
	switch s.Of {
	case quantity.OfKH, quantity.OfGH, quantity.OfEC:
		c.spanned("before", s.Of, s.Before)
		c.spanned("after", s.Of, s.After)
	default:
		c.bad("of", "book.choice", fmt.Sprintf("is %q", string(s.Of)), "write kh, gh or ec")
	}
	return c.err()
}
