package climate

import (
	"testing"

	"halfwater/cite"
)

func TestConstants(t *testing.T) {
	for _, c := range Constants() {
		if _, ok := cite.Lookup(c.Work); !ok || c.Unit == "" {
			t.Errorf("%s: work %q, unit %q", c.Name, c.Work, c.Unit)
		}
	}
}
