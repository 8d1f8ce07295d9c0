package book

import (
	"fmt"
	"math"
	"time"

	"halfwater/quantity"
)

var (
	_ = register(ShownOutlook{})
	_ = register(Prediction{})
)

// ShownOutlook is an outlook as it was shown, to be scored as it was shown.
type ShownOutlook struct {
	Version string // of the program
	Bands   []ShownBand
}

// ShownBand is the 80 % band of one measurand on one day, canonical unit.
type ShownBand struct {
	Of             quantity.Measurand
	On             time.Time
	Lo, Median, Hi float64
}

// Prediction is what follows if somebody's advice is right.
type Prediction struct {
	Adviser string // optional, local
	Claim   string
	If      []ShownBand
	IfNot   []ShownBand
}

// Kind is the kind of line.
func (ShownOutlook) Kind() string { return "shown outlook" }

// Kind is the kind of line.
func (Prediction) Kind() string { return "prediction" }

// Check says what is wrong with the line.
func (o ShownOutlook) Check() error {
	c := checking(o)
	c.bands("bands", o.Bands)
	return c.err()
}

// Check says what is wrong with the line.
func (p Prediction) Check() error {
	c := checking(p)
	c.named("claim", p.Claim, "write what is claimed")
	c.bands("if", p.If)
	c.bands("if not", p.IfNot)
	return c.err()
}

func (c *check) bands(field string, bands []ShownBand) {
	for i, b := range bands {
		of := fmt.Sprintf("%s %d", field, i+1)
		if !c.measurand(of, b.Of) {
			continue
		}
		if b.On.IsZero() {
			c.bad(of, "book.missing", "has no day", "say for which day it is")
		}
		for _, x := range []float64{b.Lo, b.Median, b.Hi} {
			if math.IsNaN(x) || math.IsInf(x, 0) {
				c.bad(of, "book.not-a-number", "is not a number", "write numbers")
			}
		}
		if b.Lo > b.Median || b.Median > b.Hi {
			c.bad(of, "book.order", fmt.Sprintf("goes %g, %g, %g", b.Lo, b.Median, b.Hi), "write the lower end, the middle and the upper end")
		}
	}
}
