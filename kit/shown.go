package kit

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"

	"halfwater/quantity"
)

// Said is the way in which a shown value is put.
type Said int

// The ways of putting it.
const (
	One     Said = iota // "10"
	Between             // "between 10 and 25", "10-25", "10 to 25"
	Under               // "< 5", "under 5"
	Over                // "> 160", "more than 160"
)

// Shown is a shown value as keepers type it, in the unit of the kit.
type Shown struct {
	Said Said
	A, B float64 // A alone, or A <= B with Between
	// Digit is the size of the last digit typed: 1 for "10", 0.1 for "7.2".
	Digit float64
	Unit  string // as typed behind the number; "" when none was
}

// At most seven digits to each side of the point: nothing that is read here has more.
const number = `([+-]?(?:[0-9]{1,7}(?:[.,][0-9]{0,7})?|[.,][0-9]{1,7}))`

var (
	oneText     = regexp.MustCompile(`^` + number + `(.*)$`)
	betweenText = regexp.MustCompile(`^(?:between\s+)?` + number + `\s*(?:-|–|—|\.\.+|…|to\s|and\s|or\s)\s*` + number + `(.*)$`)
	underText   = regexp.MustCompile(`^(?:<=?|≤|under\s|below\s|less than\s)\s*` + number + `(.*)$`)
	overText    = regexp.MustCompile(`^(?:>=?|≥|over\s|above\s|more than\s)\s*` + number + `(.*)$`)
	unitText    = regexp.MustCompile(`^(?:°\s*[CFcf]|%|[A-Za-zµμ][A-Za-z0-9µμ/ ]*)?$`)
)

// ParseShown reads a shown value: a number with a point or a comma, "between a and b" ("a-b",
// "a to b"), "< a" or "> a", with or without a unit behind. It does not know the kit; [Kit.Read]
// does. A text of another shape is [Unreadable].
func ParseShown(text string) (Shown, error) {
	t := strings.Join(strings.Fields(text), " ")
	low := strings.ToLower(t)
	for _, way := range []struct {
		said Said
		re   *regexp.Regexp
	}{{Between, betweenText}, {One, oneText}, {Under, underText}, {Over, overText}} {
		at := way.re.FindStringSubmatchIndex(low)
		if at == nil || len(low) != len(t) {
			continue
		}
		part := func(i int) string { return t[at[2*i]:at[2*i+1]] }
		s := Shown{Said: way.said, Unit: strings.TrimSpace(part(len(at)/2 - 1))}
		if !unitText.MatchString(s.Unit) {
			break
		}
		var err error
		if s.A, err = quantity.ReadNumber(part(1)); err != nil {
			break
		}
		s.Digit = lastDigit(part(1))
		if way.said == Between {
			if s.B, err = quantity.ReadNumber(part(2)); err != nil {
				break
			}
			s.Digit = min(s.Digit, lastDigit(part(2)))
			if s.A > s.B {
				s.A, s.B = s.B, s.A
			}
		}
		return s, nil
	}
	return Shown{}, Unreadable{text}
}

func lastDigit(typed string) float64 {
	i := strings.IndexAny(typed, ".,")
	if i < 0 {
		return 1
	}
	return math.Pow10(-(len(typed) - i - 1))
}

// String writes s so that [ParseShown] reads the same again.
func (s Shown) String() string {
	decimals := max(0, int(math.Round(-math.Log10(s.Digit))))
	n := func(x float64) string { return strconv.FormatFloat(x, 'f', decimals, 64) }
	var out string
	switch s.Said {
	case Between:
		out = "between " + n(s.A) + " and " + n(s.B)
	case Under:
		out = "< " + n(s.A)
	case Over:
		out = "> " + n(s.A)
	default:
		out = n(s.A)
	}
	if s.Unit != "" {
		out += " " + s.Unit
	}
	return out
}

// Unreadable is a shown value of no known shape.
type Unreadable struct{ Shown string }

func (e Unreadable) Error() string {
	return fmt.Sprintf("shown %q does not read: write a number as shown, \"between 10 and 25\", \"< 5\" or \"> 100\"", e.Shown)
}
