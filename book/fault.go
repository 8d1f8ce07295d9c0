package book

import (
	"fmt"
	"math"
	"strings"

	"halfwater/quantity"
)

// Checker is a body that can say what is wrong with it before it is kept. The error is [Faults].
type Checker interface{ Check() error }

// Fault is what is wrong with one field of a line, and what to do.
type Fault struct {
	Kind  string // of line
	Field string // in words: "level after"
	Code  string // of the sentence in internal/say: "book.negative", "book.missing", ...
	Is    string // what is there: "is -3", "is empty"
	Do    string // what to do
	Err   error  // the cause, when there is one
	// Likely is what was probably meant, as it would be typed; "" when nothing tells.
	Likely string
}

func (f Fault) Error() string {
	s := fmt.Sprintf("%s, %s %s", f.Kind, f.Field, f.Is)
	if f.Err != nil && f.Is == "" {
		s = fmt.Sprintf("%s, %s: %v", f.Kind, f.Field, f.Err)
	}
	if f.Do != "" {
		s += ": " + f.Do
	}
	return s
}

func (f Fault) Unwrap() error { return f.Err }

// Faults are all faults of one line.
type Faults []Fault

func (f Faults) Error() string {
	var out []string
	for _, one := range f {
		out = append(out, one.Error())
	}
	return strings.Join(out, "; ")
}

// Unwrap gives the single faults, for errors.As.
func (f Faults) Unwrap() []error {
	var out []error
	for _, one := range f {
		out = append(out, one)
	}
	return out
}

// check collects the faults of a body of one kind.
type check struct {
	kind   string
	faults Faults
}

func checking(b Body) *check { return &check{kind: b.Kind()} }

func (c *check) err() error {
	if len(c.faults) == 0 {
		return nil
	}
	return c.faults
}

func (c *check) bad(field, code, is, do string) {
	c.faults = append(c.faults, Fault{Kind: c.kind, Field: field, Code: code, Is: is, Do: do})
}

// named asks for a text that is not blank.
func (c *check) named(field, text, do string) {
	if strings.TrimSpace(text) == "" {
		c.bad(field, "book.missing", "is empty", do)
	}
}

// among asks for one of a few words; an empty text is one of them only when it is listed.
func (c *check) among(field, text string, words ...string) {
	for _, w := range words {
		if text == w {
			return
		}
	}
	do := "write one of " + strings.Join(words, ", ")
	if len(words) > 0 && words[0] == "" {
		do = "write one of " + strings.Join(words[1:], ", ") + ", or leave it out"
	}
	c.bad(field, "book.choice", fmt.Sprintf("is %q", text), do)
}

// within asks for a number from lo to hi.
func (c *check) within(field string, x, lo, hi float64, unit string) {
	switch {
	case math.IsNaN(x):
		c.bad(field, "book.not-a-number", "is not a number", "write a number, or leave it out")
	case x < 0 && lo == 0:
		c.bad(field, "book.negative", fmt.Sprintf("is %g", x), "it cannot be less than nothing")
	case x < lo || x > hi:
		c.bad(field, "book.out-of-span", strings.TrimSpace(fmt.Sprintf("is %g %s", x, unit)), fmt.Sprintf("it should lie between %g and %g; look at the unit", lo, hi))
	}
}

// What can be handled by hand at all; a larger number is a slip of the pen or of the unit.
// Judgement, no source.
const (
	mostLitres  = 100_000
	mostGrams   = 1_000_000
	mostSeconds = 7 * 24 * 3600
	mostMinutes = 30 * 24 * 60
)

func (c *check) litres(field string, l quantity.Litres) {
	c.within(field, float64(l), 0, mostLitres, "L")
}

func (c *check) grams(field string, g quantity.Grams) {
	c.within(field, float64(g), 0, mostGrams, "g")
}

func (c *check) minutes(field string, m Minutes) {
	c.within(field, float64(m), 0, mostMinutes, "min")
}

func (c *check) share(field string, s quantity.Share) {
	c.within(field, float64(s), 0, 1, "of the whole")
}

// spanned asks for a canonical value that can occur of a measurand.
func (c *check) spanned(field string, of quantity.Measurand, x float64) {
	s, unit := of.Span(), of.UnitWords()[0]
	switch of {
	case quantity.OfPH:
		unit = ""
	case quantity.OfLevel: // read in cm
		x, s.Lo, s.Hi, unit = quantity.Millimetres(x).Centimetres(), s.Lo/10, s.Hi/10, "cm"
	}
	c.within(field, x, s.Lo, s.Hi, unit)
}

func (c *check) measurand(field string, of quantity.Measurand) bool {
	if !of.Known() {
		c.bad(field, "book.measurand", fmt.Sprintf("is %q", string(of)), "write what is read: gh, kh, ph, ec, tan, no2, no3, water temp, ...")
	}
	return of.Known()
}

// positive asks for a number above nothing.
func (c *check) positive(field string, x, hi float64, unit, do string) {
	if x == 0 {
		c.bad(field, "book.missing", "is missing", do)
		return
	}
	c.within(field, x, 0, hi, unit)
}
