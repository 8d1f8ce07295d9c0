package blame

import (
	"cmp"
	"slices"

	"halfwater/book"
	"halfwater/quantity"
)

// Contradiction is evidence that does not fit together, with who may be to blame.
type Contradiction struct {
	Of       quantity.Measurand
	Lines    []book.ID // readings that do not fit, in the order of the book
	Culprits []Culprit // likeliest first; the odds sum to 1
	// Suspect are those of Lines that more likely than not do not say what the water was, by odds over 0.5 that
	// they were misread, meant otherwise, or made with a lot or pen that is off.
	Suspect []book.ID
	Checks  []string // what to do to tell the culprits apart: codes of sentences, "infer.check-blank", ..., what tells most first
}

// Culprit is one way in which a contradiction may have come about.
type Culprit struct {
	Code string  // of the sentence: "infer.culprit-reading", "-unit", "-lot", "-pen", "-log", "-water"
	Name string  // of the kit, the lot, the unit that was meant, or the line
	Kit  string  // of a unit, lot or pen: which kit
	Odds float64 // 0 to 1
}

// The codes of culprits; the sentences stand in internal/say.
const (
	ByChance  = "infer.culprit-chance"  // nothing is wrong: kits miss so far now and then
	ByReading = "infer.culprit-reading" // one reading: misread, not shaken, miscounted
	ByDecimal = "infer.culprit-decimal" // a slip of the decimal point; Name: times how much it was meant
	ByUnit    = "infer.culprit-unit"    // another unit, basis or factor; Name: the one that was meant
	ByLot     = "infer.culprit-lot"     // a lot or bottle; Name: of the kit
	ByPen     = "infer.culprit-pen"     // a pen or meter; Name: of the kit
	ByLog     = "infer.culprit-log"     // the book: something not written down, or litres; Name: "change", "top-up", "dose", or the line
	ByWater   = "infer.culprit-water"   // the water really did it; Name: the line that may have brought it about, or ""
)

// Odds are those of all culprits with a code: 0 to 1.
func (c *Contradiction) Odds(code string) float64 {
	sum := 0.0
	for _, x := range c.Culprits {
		if x.Code == code {
			sum += x.Odds
		}
	}
	return sum
}

// blame keeps the culprits that are likely enough to be named, likeliest first, with odds that sum to 1.
func (c *Contradiction) blame(all []Culprit) {
	kept := 0.0
	for _, x := range all {
		if x.Odds >= leastOdds {
			c.Culprits = append(c.Culprits, x)
			kept += x.Odds
		}
	}
	for i := range c.Culprits {
		c.Culprits[i].Odds /= kept
	}
	slices.SortStableFunc(c.Culprits, func(a, b Culprit) int { return cmp.Compare(b.Odds, a.Odds) })
}

// leastOdds is under what a culprit is not named, leastAbout under what a reading is not among those that it is about.
const (
	leastOdds  = 0.02
	leastAbout = 0.05
)
