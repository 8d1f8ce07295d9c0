package book

import (
	"fmt"
	"slices"

	"halfwater/quantity"
)

var _ = register(Reading{})

// Reading is what a kit, meter or probe showed, kept as shown and as an interval.
type Reading struct {
	Of    quantity.Measurand
	Kit   string // name of the kit; "" when read with something that is no fact of the enclosure
	Shown string // as typed or ticked: "4", "10", "between 10 and 25", "< 5"
	Unit  string
	Basis quantity.Basis // may be NotStated: then Lo and Hi span every basis
	// Lo and Hi bound the truth in the canonical unit of Of: what Shown stands for (package kit).
	Lo, Hi float64
	Place  string  // where: "", "cool end", "under the lamp", "tank", "glass"
	Light  string  // by which light a colour was read: "day", "lamp"; "" not noted
	Heldup Minutes // minutes between drawing the sample and reading it; 0 when at once
}

// Beside reports whether a reading is of water that was taken aside: in a glass, a jar, a bucket or a mix.
func (r Reading) Beside() bool {
	switch r.Place {
	case "glass", "jar", "bucket", "mix":
		return true
	}
	return false
}

// Minutes is a short span of time. Unit: min.
type Minutes float64

// Kind is the kind of line.
func (Reading) Kind() string { return "reading" }

// Refs are the names that the line uses.
func (r Reading) Refs() []Ref { return []Ref{{"kit", "kit", r.Kit}} }

// Check says what is wrong with the line.
func (r Reading) Check() error {
	c := checking(r)
	if !c.measurand("of", r.Of) {
		return c.err()
	}
	c.named("shown", r.Shown, "write what the kit showed")
	if !slices.Contains(r.Of.Units(), r.Unit) {
		c.faults = append(c.faults, Fault{Kind: c.kind, Field: "unit", Code: "book.unit", Err: quantity.UnknownUnit{Of: r.Of, Unit: r.Unit}})
	}
	if b := r.Of.Bases(); len(b) > 0 && r.Basis != quantity.NotStated && !slices.Contains(b, r.Basis) {
		c.faults = append(c.faults, Fault{Kind: c.kind, Field: "basis", Code: "book.basis", Err: quantity.BasisMissing{Of: r.Of, Basis: r.Basis}})
	}
	c.spanned("lo", r.Of, r.Lo)
	c.spanned("hi", r.Of, r.Hi)
	if r.Lo > r.Hi {
		c.bad("lo", "book.order", fmt.Sprintf("is %g, above hi, %g", r.Lo, r.Hi), "write the lower end as lo")
	}
	c.among("light", r.Light, "", "day", "lamp")
	c.minutes("heldup", r.Heldup)
	return c.err()
}
