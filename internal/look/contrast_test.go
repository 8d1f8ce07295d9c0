package look_test

import (
	"math"
	"strconv"
	"testing"

	"halfwater/internal/look"
)

// The pairs that stand on one another, with the least contrast that we want by day and by night.
// 4.5 and 3 are the floors for text and for signs, 7 the enhanced one (W3C WCAG 2.2, success
// criteria 1.4.3, 1.4.6, 1.4.11, from memory); 1.5 is ours: two depths of one water, told apart
// by height as well.
var pairs = []struct {
	on, under string
	wanted    float64
}{
	{"ink", "paper", 7},
	{"ink-2", "paper", 7},
	{"ink", "sheet", 7},
	{"water-ink", "paper", 7},
	{"watch", "paper", 7},
	{"act", "paper", 7},
	{"watch", "sheet", 7},
	{"act", "sheet", 7},
	{"on-act", "act", 7},
	{"on-water", "water-ink", 7},
	{"ink", "water-1", 7},
	{"ink-2", "water-1", 4.5},
	{"watch", "water-1", 4.5},
	{"act", "water-1", 4.5},
	{"water-ink", "water-1", 4.5},
	{"ink", "land-1", 7},
	{"ink", "water-2", 4.5},
	{"edge", "paper", 3},
	{"water-3", "paper", 3},
	{"water-3", "water-2", 1.5},
	{"land-ink", "land-1", 4.5},
	{"leaf", "sheet", 3},
	{"leaf", "land-1", 3},
	{"water-ink", "water-2", 3},
}

func TestContrast(t *testing.T) {
	tokens := map[string]look.Token{}
	for _, k := range look.Tokens() {
		tokens[k.Name] = k
	}
	for _, p := range pairs {
		a, okA := tokens[p.on]
		b, okB := tokens[p.under]
		if !okA || !okB {
			t.Fatalf("no token %s or %s", p.on, p.under)
		}
		for by, c := range map[string]float64{"day": contrast(t, a.Light, b.Light), "night": contrast(t, a.Dark, b.Dark)} {
			if c < p.wanted {
				t.Errorf("%s on %s by %s: %.2f, wanted %g", p.on, p.under, by, c, p.wanted)
			}
		}
	}
	for _, p := range pairs { // on paper all signal inks are black, so only text is held
		if a, b := tokens[p.on], tokens[p.under]; p.wanted >= 4.5 && contrast(t, a.Print, b.Print) < 4.5 {
			t.Errorf("%s on %s in print: %.2f, wanted 4.5", p.on, p.under, contrast(t, a.Print, b.Print))
		}
	}
}

// TestContrastFormula checks the formula where its values are known: black on white is 21, and the
// ends are symmetric (WCAG 2.2, definition of contrast ratio). #777777 on white is printed as 4.48
// in the usual tables, from memory.
func TestContrastFormula(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want float64
	}{{"#000000", "#ffffff", 21}, {"#ffffff", "#000000", 21}, {"#777777", "#ffffff", 4.48}, {"#123456", "#123456", 1}} {
		if got := contrast(t, c.a, c.b); math.Abs(got-c.want) > .005 {
			t.Errorf("%s on %s: %.3f, want %g", c.a, c.b, got, c.want)
		}
	}
}

// contrast is (L1 + 0.05)/(L2 + 0.05) of the relative luminances, the lighter first.
func contrast(t *testing.T, a, b string) float64 {
	t.Helper()
	la, lb := luminance(t, a), luminance(t, b)
	return (math.Max(la, lb) + .05) / (math.Min(la, lb) + .05)
}

func luminance(t *testing.T, hex string) float64 {
	t.Helper()
	v, err := strconv.ParseUint(hex[1:], 16, 32)
	if err != nil || len(hex) != 7 {
		t.Fatalf("%q is not #rrggbb", hex)
	}
	linear := func(byteOf uint64) float64 {
		c := float64(byteOf&255) / 255
		if c <= .04045 {
			return c / 12.92
		}
		return math.Pow((c+.055)/1.055, 2.4)
	}
	return .2126*linear(v>>16) + .7152*linear(v>>8) + .0722*linear(v)
}
