package husbandry

import (
	"testing"

	"halfwater/cite"
	"halfwater/quantity"
)

func TestConstants(t *testing.T) {
	for _, c := range Constants() {
		if _, ok := cite.Lookup(c.Work); !ok || c.Unit == "" {
			t.Errorf("%s: work %q unit %q", c.Name, c.Work, c.Unit)
		}
		if len(c.Doubt) > 6 && c.Doubt[:6] == "5-95 %" {
			b := bandOf[quantity.Share](c.Name) // panics when the doubt does not read
			if float64(b.Median) != c.Value {
				t.Errorf("%s: median %g", c.Name, b.Median)
			}
		}
	}
}
