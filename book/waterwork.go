package book

import (
	"fmt"

	"halfwater/quantity"
)

var (
	_ = register(Change{})
	_ = register(TopUp{})
	_ = register(LevelTest{})
)

// Poured is some litres of one source water.
type Poured struct {
	Source string // a source water by name
	Litres quantity.Litres
}

// SaltPoured is some grams of one salt, by formula.
type SaltPoured struct {
	Formula string // "CaCl2.2H2O", "NaHCO3"; see water.Salts
	Grams   quantity.Grams
}

// Change is water taken out and a blend poured back.
type Change struct {
	OutLitres   quantity.Litres      // 0 when only levels were noted
	LevelBefore quantity.Millimetres // 0 when not noted
	LevelAfter  quantity.Millimetres // at the siphon mark, before pouring; 0 when not noted
	In          []Poured
	Salts       []SaltPoured
	Temp        quantity.Celsius      // of the poured mix; 0 when not noted
	MixEC       quantity.Conductivity // of the poured mix as read; 0 when not noted
	BedShare    quantity.Share        // share of the bed that was siphoned; 0 none
}

// TopUp is evaporation replaced.
type TopUp struct {
	Source string
	Litres quantity.Litres
}

// LevelTest is "took out 10.0 L, the level fell from one mark to another".
type LevelTest struct {
	Litres   quantity.Litres
	From, To quantity.Millimetres
}

// Kind is the kind of line.
func (Change) Kind() string { return "change" }

// Kind is the kind of line.
func (TopUp) Kind() string { return "top-up" }

// Kind is the kind of line.
func (LevelTest) Kind() string { return "level test" }

// Refs are the names that the line uses.
func (v Change) Refs() []Ref {
	var out []Ref
	for _, p := range v.In {
		out = append(out, Ref{"source water", "in", p.Source})
	}
	return out
}

// Refs are the names that the line uses.
func (t TopUp) Refs() []Ref { return []Ref{{"source water", "source", t.Source}} }

// Check says what is wrong with the line.
func (v Change) Check() error {
	c := checking(v)
	c.litres("out", v.OutLitres)
	c.spanned("level before", quantity.OfLevel, float64(v.LevelBefore))
	c.spanned("level after", quantity.OfLevel, float64(v.LevelAfter))
	if v.LevelBefore != 0 && v.LevelAfter > v.LevelBefore {
		c.bad("level after", "book.order", fmt.Sprintf("is %s cm, above the level before, %s cm", short(v.LevelAfter.Centimetres()), short(v.LevelBefore.Centimetres())),
			"write the level at the siphon mark, before pouring back")
	}
	if v.OutLitres == 0 && (v.LevelBefore == 0 || v.LevelAfter == 0) && len(v.In) == 0 {
		c.bad("out", "book.missing", "and what was poured in are empty", "write the litres taken out, or the level before and after, or what was poured in")
	}
	for _, p := range v.In {
		c.named("in", p.Source, "name the source water before its litres, like RO 9")
		c.positive("in", float64(p.Litres), mostLitres, "L", "write the litres behind the source water, like RO 9")
	}
	for _, s := range v.Salts {
		c.named("salts", s.Formula, "name the salt by its formula before its grams, like NaHCO3 1.5")
		c.positive("salts", float64(s.Grams), mostGrams, "g", "write the grams behind the salt, like NaHCO3 1.5")
	}
	c.spanned("temp", quantity.OfWaterTemp, float64(v.Temp))
	c.spanned("mix EC", quantity.OfEC, float64(v.MixEC))
	c.share("bed share", v.BedShare)
	return c.err()
}

// Check says what is wrong with the line.
func (t TopUp) Check() error {
	c := checking(t)
	c.named("source", t.Source, "name the source water that was topped up with")
	c.positive("litres", float64(t.Litres), mostLitres, "L", "write the litres topped up")
	return c.err()
}

// Check says what is wrong with the line.
func (t LevelTest) Check() error {
	c := checking(t)
	c.positive("litres", float64(t.Litres), mostLitres, "L", "write the litres taken out")
	c.spanned("from", quantity.OfLevel, float64(t.From))
	c.spanned("to", quantity.OfLevel, float64(t.To))
	if t.To >= t.From {
		c.bad("to", "book.order", fmt.Sprintf("is %s cm, not below %s cm", short(t.To.Centimetres()), short(t.From.Centimetres())), "write the level before and then the lower one after")
	}
	return c.err()
}
