package book

import (
	"fmt"
	"strings"
	"time"
	"unicode"

	"halfwater/enclosure"
	"halfwater/kit"
	"halfwater/water"
)

// Check says what is wrong with a line before it is kept, given the time now: nil or [Faults].
// It looks at the line alone; whether the names in it are those of facts is [Line.Refers].
func (l Line) Check(now time.Time) error {
	kind := "line"
	if l.Body != nil {
		kind = l.Body.Kind()
	}
	c := &check{kind: kind}
	switch {
	case l.ID == "":
		c.bad("id", "book.missing", "is empty", "every line has a name; the program makes it")
	case len(l.ID) > 100 || strings.ContainsFunc(string(l.ID), func(r rune) bool { return r <= ' ' || r == 0x7f }):
		c.bad("id", "book.id", fmt.Sprintf("is %q", string(l.ID)), "use letters, digits and hyphens, at most 100")
	}
	c.moment("time", l.At, now)
	c.moment("time of recording", l.Recorded, now)
	if l.Water == "all" {
		c.bad("water", "book.water", "is \"all\"", "that word means every water body; give it a name of its own")
	}
	c.tidy("water", l.Water)
	c.tidy("batch", l.Batch)
	c.among("hand", string(l.By), string(Keeper), string(Sitter), string(Probe))
	switch b := l.Body.(type) {
	case nil:
		c.bad("kind", "book.missing", "is missing", "say what sort of line it is")
	case Checker:
		c.join(b.Check())
	}
	if s, ok := l.Body.(enclosure.SourceWater); ok {
		c.analysis(s.Analysis)
	}
	return c.err()
}

// tidy asks for a name without blanks around it and without signs that cannot be seen.
func (c *check) tidy(field, name string) {
	if name != strings.TrimSpace(name) || strings.ContainsFunc(name, unicode.IsControl) {
		c.bad(field, "book.name", fmt.Sprintf("is %q", name), "take off the blanks around it and signs that cannot be seen")
	}
}

// The book begins no earlier than this: a year 26 is a slip of the pen.
var firstDay = time.Date(1900, 1, 1, 0, 0, 0, 0, time.UTC)

func (c *check) moment(field string, t, now time.Time) {
	const layout = "2006-01-02 15:04:05 Z07:00"
	switch {
	case t.IsZero():
		c.bad(field, "book.missing", "is missing", "write when it was, like 2026-05-24 18:30")
	case t.Before(firstDay):
		c.bad(field, "book.long-ago", "is "+t.Format(layout), "look at the year")
	case t.After(now):
		c.bad(field, "book.future", "is "+t.Format(layout),
			"that lies in the future (now is "+now.In(t.Location()).Format(layout)+"); a line is of something that has happened")
	}
}

// analysis refuses numbers that cannot be. What an analysis leaves open or contradicts is a doubt for
// those who use it, no fault of the line.
func (c *check) analysis(a water.Analysis) {
	if err := a.Possible(); err != nil {
		c.faults = append(c.faults, Fault{Kind: c.kind, Field: "analysis", Code: "book.out-of-span", Err: err})
	}
}

// join takes over the faults of a body: of this package as they are, those of a fact as causes.
func (c *check) join(err error) {
	switch e := err.(type) {
	case nil:
	case Faults:
		c.faults = append(c.faults, e...)
	case interface{ Unwrap() []error }:
		for _, one := range e.Unwrap() {
			c.join(one)
		}
	case enclosure.Fault:
		c.faults = append(c.faults, Fault{Kind: c.kind, Field: e.Field, Code: e.Code, Is: e.Is, Do: e.Do, Err: e})
	case kit.Fault:
		c.faults = append(c.faults, Fault{Kind: c.kind, Field: e.Field, Code: e.Code, Is: e.Is, Do: e.Do, Err: e})
	default:
		c.faults = append(c.faults, Fault{Kind: c.kind, Field: "content", Code: "book.part", Err: err})
	}
}

// Ref is a name in a body that must be that of a fact in force, or of a line of the book.
type Ref struct {
	To    string // kind of the fact: "source water", "kit", ...; "line" for a line
	Field string
	Name  string
}

// Referrer is a body that names facts or lines.
type Referrer interface{ Refs() []Ref }

// Unknown is a name that no fact in force bears.
type Unknown struct {
	Ref
	Have []string // the names that are in force
}

func (e Unknown) Error() string {
	if e.To == "line" {
		return fmt.Sprintf("no line of the book is called %q", e.Name)
	}
	s := fmt.Sprintf("there is no %s %q at that time", e.To, e.Name)
	if len(e.Have) == 0 {
		return s + ": write it into the enclosure file first, from that day or earlier"
	}
	return s + ": there is " + strings.Join(e.Have, ", ")
}

// Refers says which names in a line are not those of a fact in force (f) or of a line that the
// book has: nil or [Faults], each with an [Unknown] as its cause.
func (l Line) Refers(f enclosure.Facts, has func(ID) bool) error {
	c := &check{kind: l.Body.Kind()}
	var refs []Ref
	if r, ok := l.Body.(Referrer); ok {
		refs = r.Refs()
	} else if fact, ok := l.Body.(enclosure.Fact); ok {
		refs = factRefs(fact)
	}
	if l.Batch != "" {
		refs = append(refs, Ref{"stock", "batch", l.Batch})
	}
	for _, r := range refs {
		if r.Name == "" {
			continue
		}
		if r.To == "line" {
			if !has(ID(r.Name)) {
				c.faults = append(c.faults, Fault{Kind: c.kind, Field: r.Field, Code: "book.unknown", Err: Unknown{Ref: r}})
			}
			continue
		}
		if have, found := inForce(f, r); !found {
			c.faults = append(c.faults, Fault{Kind: c.kind, Field: r.Field, Code: "book.unknown", Err: Unknown{r, have}})
		}
	}
	return c.err()
}

func inForce(f enclosure.Facts, r Ref) (have []string, found bool) {
	switch r.To {
	case "source water":
		have = keys(f.Sources)
	case "fitting":
		have = keys(f.Fittings)
	case "stage":
		have = keys(f.Stages)
	case "stock":
		have = keys(f.Stock)
	case "vessel":
		have = keys(f.Vessels)
	case "neutraliser":
		have = keys(f.Neutralisers)
	case "kit":
		have = keys(f.Kits)
	case "range":
		have = keys(f.Wanted)
	}
	for _, h := range have {
		if h == r.Name {
			return have, true
		}
	}
	return have, false
}

func keys[F enclosure.Fact](facts []F) []string {
	var out []string
	for _, f := range facts {
		out = append(out, f.Key())
	}
	return out
}
