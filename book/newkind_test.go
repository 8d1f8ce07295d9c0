package book

import (
	"strings"
	"testing"
	"time"

	"halfwater/quantity"
)

// A new kind costs one file. This is such a file: nothing else in the program knows the kind, and it
// goes through checks, references, the CSV and the store (in newkind_roads_test.go).

var _ = register(Inoculation{})

// Inoculation is a dose of live food animals that should breed in the litter.
type Inoculation struct {
	What    string
	Grams   quantity.Grams
	Warmth  quantity.Celsius
	Depth   quantity.Millimetres
	Share   quantity.Share
	Counted []Colony
	Wild    bool
	Until   time.Time
}

// Colony is some animals of one sort.
type Colony struct {
	Sort  string
	Heads float64
}

// Kind is the kind of line.
func (Inoculation) Kind() string { return "inoculation" }

// Check says what is wrong with the line.
func (i Inoculation) Check() error {
	c := checking(i)
	c.named("what", i.What, "say what was put in")
	return c.err()
}

func TestNewKind(t *testing.T) {
	at := time.Date(2026, 3, 1, 9, 0, 0, 0, time.UTC)
	l := Line{
		ID: "x", At: at, Recorded: at, Water: MainWater, By: Keeper,
		Body: Inoculation{"springtails", 12, 21.5, 35, 0.25, []Colony{{"white", 200}, {"grey one", 50}}, true, at},
	}
	if err := l.Check(at); err != nil {
		t.Error(err)
	}
	l.Body = Inoculation{}
	if err := l.Check(at); err == nil || !strings.Contains(err.Error(), "inoculation, what is empty") {
		t.Errorf("said %v", err)
	}
}
