package infer

import (
	"slices"
	"testing"
	"time"

	"halfwater/book"
	"halfwater/infer/blame"
	"halfwater/kit"
	"halfwater/quantity"
)

// TestLevelsThatRise: a rise beyond what the eye can be off is named, likeliest a forgotten top-up when it is as
// much as one; not after water was poured in, and not for a millimetre.
func TestLevelsThatRise(t *testing.T) {
	staff := kit.Kit{Name: "staff", Of: quantity.OfLevel, Form: kit.Meter, Unit: "mm", Accuracy: 1, Digit: 1}
	at := func(days int) time.Time { return day0.AddDate(0, 0, days) }
	for _, c := range []struct {
		name, from, to string
		between        book.Body
		first          string // code of the likeliest culprit; "" not named
	}{
		{"falls", "200", "191", nil, ""},
		{"a millimetre", "200", "201", nil, ""},
		{"a top-up's worth", "180", "200", nil, blame.ByLog},
		{"a top-up's worth, and topped up", "180", "200", book.TopUp{Source: "RO", Litres: 8}, ""},
		{"a top-up's worth, and changed", "180", "200", book.Change{OutLitres: 8, In: []book.Poured{{Source: "RO", Litres: 16}}}, ""},
		{"a hand too high", "100", "290", nil, blame.ByReading},
	} {
		n := notes{}
		n.add(at(0), staff)
		a := n.read(t, at(1), staff, c.from)
		if c.between != nil {
			n.add(at(2), c.between)
		}
		b := n.read(t, at(3), staff, c.to)
		out := blame.Risen(n.lines)
		if c.first == "" {
			if len(out) > 0 {
				t.Errorf("%s: %+v", c.name, out)
			}
			continue
		}
		if len(out) != 1 || out[0].Culprits[0].Code != c.first || !slices.Equal(out[0].Lines, []book.ID{a, b}) {
			t.Errorf("%s: %+v", c.name, out)
		}
	}
}
