package report

import (
	"bytes"
	"strings"
	"testing"

	"halfwater/quantity"
)

// A leak has its band beside evaporation, and says whether the readings tell the one from the other.
func TestLeakBesideEvaporation(t *testing.T) {
	for _, c := range []struct {
		name           string
		told, from, to float64 // L a day
		says           string
	}{
		{"found", .6, .1, .3, "Look for splash"},
		{"little", .6, 0, .02, "there is little of it"},
		{"untold", .1, 0, .3, "do not tell it from evaporation"},
	} {
		b := reckoned()
		b.LeakTold = c.told
		for i := range b.Draws {
			b.Draws[i].Leak = quantity.LitresPerDay(c.from + (c.to-c.from)*float64(i)/100)
		}
		n := Water("Riverbank", b, reckonedLines())
		if n.LeakLPerDay == nil || n.LeakLPerDay.Median != (c.from+c.to)/2 || n.LeakToldApart != (c.told > .5) {
			t.Errorf("%s: %v, told apart %t", c.name, n.LeakLPerDay, n.LeakToldApart)
		}
		var text, encoded bytes.Buffer
		if err := WaterText(&text, n, nil); err != nil {
			t.Fatal(err)
		}
		if !strings.Contains(text.String(), c.says) {
			t.Errorf("%s: %s", c.name, text.String())
		}
		rows := PaceRows(n, b)
		if rows[1].Key != "leak" || !strings.Contains(rows[1].Why, c.says) || rows[1].Band.Belief == nil {
			t.Errorf("%s: %+v", c.name, rows[1])
		}
		if err := JSON(&encoded, n); err != nil {
			t.Fatal(err)
		}
		for _, key := range []string{`"leak_l_per_day"`, `"leak_told_apart"`} {
			if !strings.Contains(encoded.String(), key) {
				t.Errorf("%s: no %s in %s", c.name, key, encoded.String())
			}
		}
	}
}
