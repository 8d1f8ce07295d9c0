package book

import (
	"math"

	"halfwater/kit"
	"halfwater/quantity"
)

var _ = register(KnownSample{})

// KnownSample is a test of a water whose content is known, a standard or a blank: it tells of the kit, not
// of the enclosure.
type KnownSample struct {
	What   string // "nitrate standard", "blank of RO"
	Kit    string
	Of     quantity.Measurand
	Value  float64 // what the sample holds, canonical unit of Of
	Within float64 // by how much that may be wrong, same unit; 0: it is as good as exact
	Shown  string  // what the kit showed, as with a reading
}

// Kind is the kind of line.
func (KnownSample) Kind() string { return "known sample" }

// Refs are the names that the line uses.
func (k KnownSample) Refs() []Ref { return []Ref{{"kit", "kit", k.Kit}} }

// Check says what is wrong with the line.
func (k KnownSample) Check() error {
	c := checking(k)
	c.named("what", k.What, "say what the sample was")
	c.named("kit", k.Kit, "name the kit that read it: without one it tells nothing")
	if !c.measurand("of", k.Of) {
		return c.err()
	}
	c.spanned("value", k.Of, k.Value)
	c.within("within", k.Within, 0, math.MaxFloat64, k.Of.Unit())
	if _, err := kit.ParseShown(k.Shown); err != nil {
		c.faults = append(c.faults, Fault{Kind: c.kind, Field: "shown", Code: "book.part", Err: err})
	}
	return c.err()
}
