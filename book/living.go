package book

import (
	"fmt"
	"strings"

	"halfwater/quantity"
)

var (
	_ = register(Animal{})
	_ = register(Weight{})
	_ = register(Shed{})
	_ = register(Trim{})
	_ = register(Added{})
	_ = register(TakenOut{})
	_ = register(Photo{})
)

// Animal is what was seen of a batch: heads, appetite, an odd sight.
type Animal struct {
	Seen    int
	Ate     string // ate, refused, ""
	Sign    string // a plain sign seen: gasping, at the surface, hiding, ...
	RedFlag bool
	Note    string
}

// Weight of one animal.
type Weight struct {
	Animal string
	Grams  quantity.Grams
}

// Shed is a skin shed.
type Shed struct {
	Animal string
	Whole  bool
}

// Trim is plant or algae mass taken out, wet.
type Trim struct {
	What     string
	WetGrams quantity.Grams
}

// Added is leaf, wood, stone or other matter put in.
type Added struct {
	What  string // leaf, wood, stone, soil
	Grams quantity.Grams
}

// TakenOut is leaf, wood, stone or a carcass taken out.
type TakenOut struct {
	What  string // leaf, wood, stone, carcass
	Grams quantity.Grams
}

// Photo names a file of the keeper's; the book keeps the name and the digest, not the picture.
type Photo struct{ File, SHA256, Note string }

// Kind is the kind of line.
func (Animal) Kind() string { return "animal" }

// Kind is the kind of line.
func (Weight) Kind() string { return "weight" }

// Kind is the kind of line.
func (Shed) Kind() string { return "shed" }

// Kind is the kind of line.
func (Trim) Kind() string { return "trim" }

// Kind is the kind of line.
func (Added) Kind() string { return "added" }

// Kind is the kind of line.
func (TakenOut) Kind() string { return "taken out" }

// Kind is the kind of line.
func (Photo) Kind() string { return "photo" }

// Check says what is wrong with the line.
func (a Animal) Check() error {
	c := checking(a)
	c.within("seen", float64(a.Seen), 0, 1e6, "heads")
	c.among("ate", a.Ate, "", "ate", "refused")
	return c.err()
}

// Check says what is wrong with the line.
func (w Weight) Check() error {
	c := checking(w)
	c.named("animal", w.Animal, "say which animal was weighed")
	c.positive("grams", float64(w.Grams), mostGrams, "g", "write the weight")
	return c.err()
}

// Check says what is wrong with the line.
func (s Shed) Check() error {
	c := checking(s)
	c.named("animal", s.Animal, "say which animal shed")
	return c.err()
}

// Check says what is wrong with the line.
func (t Trim) Check() error {
	c := checking(t)
	c.grams("wet grams", t.WetGrams)
	return c.err()
}

// Check says what is wrong with the line.
func (a Added) Check() error {
	c := checking(a)
	c.named("what", a.What, "say what was put in: leaf, wood, stone, soil")
	c.grams("grams", a.Grams)
	return c.err()
}

// Check says what is wrong with the line.
func (t TakenOut) Check() error {
	c := checking(t)
	c.named("what", t.What, "say what was taken out: leaf, wood, stone, carcass")
	c.grams("grams", t.Grams)
	return c.err()
}

// Check says what is wrong with the line.
func (p Photo) Check() error {
	c := checking(p)
	c.named("file", p.File, "write the name of the file")
	if p.SHA256 != "" && (len(p.SHA256) != 64 || strings.ContainsFunc(p.SHA256, func(r rune) bool { return !strings.ContainsRune("0123456789abcdef", r) })) {
		c.bad("SHA-256", "book.digest", fmt.Sprintf("is %q", p.SHA256), "write 64 digits 0-9 and a-f, or leave it out")
	}
	return c.err()
}
