package files

import (
	"reflect"
	"slices"
	"strings"
	"time"
	"unicode"

	"halfwater/book"
	"halfwater/quantity"
)

// snake is the name of a field in a file: OutLitres is out_litres, MixEC is mix_ec, SHA256 is sha256.
func snake(name string) string {
	var out strings.Builder
	runes := []rune(name)
	for i, r := range runes {
		if i > 0 && unicode.IsUpper(r) &&
			(!unicode.IsUpper(runes[i-1]) || (i+1 < len(runes) && unicode.IsLower(runes[i+1]))) {
			out.WriteByte('_')
		}
		out.WriteRune(unicode.ToLower(r))
	}
	return out.String()
}

// unit is a way to write a number of some type. Its name ends the name of the column or key.
type unit struct {
	name string
	a, b float64
}

// canonical turns a number in the unit into the type's own: a*x + b. A factor below 1 divides, so that
// 35 % is 0.35 to the last digit.
func (u unit) canonical(x float64) float64 {
	if u.a < 1 {
		return x/(1/u.a) + u.b
	}
	return u.a*x + u.b
}

var durationType = reflect.TypeFor[time.Duration]()

// units by type, the one we write first. Every number whose field name does not say its unit says it
// in its column or key.
var units = map[reflect.Type][]unit{
	reflect.TypeFor[quantity.Millimetres]():  {{"cm", 10, 0}, {"mm", 1, 0}, {"in", 25.4, 0}},
	reflect.TypeFor[quantity.Metres]():       {{"m", 1, 0}, {"ft", 0.3048, 0}},
	reflect.TypeFor[quantity.Celsius]():      {{"c", 1, 0}, {"f", 1 / 1.8, -32 / 1.8}},
	reflect.TypeFor[quantity.Litres]():       {{"litres", 1, 0}, {"us_gallons", 3.785411784, 0}, {"imperial_gallons", 4.54609, 0}},
	reflect.TypeFor[quantity.LitresPerDay](): {{"litres_per_day", 1, 0}},
	reflect.TypeFor[quantity.Grams]():        {{"g", 1, 0}, {"kg", 1000, 0}, {"mg", 0.001, 0}},
	reflect.TypeFor[quantity.Watts]():        {{"w", 1, 0}},
	reflect.TypeFor[quantity.Conductivity](): {{"us_cm", 1, 0}, {"ms_cm", 1000, 0}},
	reflect.TypeFor[quantity.Hardness]():     {{"dgh", 1, 0}, {"mg_l_caco3", 1 / quantity.Hardness(1).CaCO3(), 0}},
	reflect.TypeFor[quantity.Alkalinity]():   {{"dkh", 1, 0}, {"mg_l_caco3", 1 / quantity.Alkalinity(1).CaCO3(), 0}},
	reflect.TypeFor[quantity.MgPerL]():       {{"mg_l", 1, 0}},
	reflect.TypeFor[quantity.Nitrate]():      {{"mg_l", 1, 0}},
	reflect.TypeFor[quantity.Nitrite]():      {{"mg_l", 1, 0}},
	reflect.TypeFor[quantity.TotalAmmonia](): {{"mg_l", 1, 0}},
	reflect.TypeFor[quantity.Phosphate]():    {{"mg_l", 1, 0}},
	reflect.TypeFor[quantity.Share]():        {{"percent", 0.01, 0}, {"share", 1, 0}},
	reflect.TypeFor[book.Minutes]():          {{"minutes", 1, 0}, {"hours", 60, 0}},
	durationType:                             {{"seconds", float64(time.Second), 0}, {"minutes", float64(time.Minute), 0}},
}

// ends are names of fields that already end in their unit.
var ends = map[reflect.Type]string{
	reflect.TypeFor[quantity.Litres](): "litres",
	reflect.TypeFor[quantity.Grams]():  "grams",
	reflect.TypeFor[quantity.Share]():  "share",
	reflect.TypeFor[book.Minutes]():    "minutes",
}

// named are the names under which a field may be written, with their units, the one we write first.
// A type without units has its plain name and no unit.
func named(field string, t reflect.Type) []namedUnit {
	base := snake(field)
	us, ok := units[t]
	if !ok {
		return []namedUnit{{base, unit{"", 1, 0}}}
	}
	if end := ends[t]; end != "" && (base == end || strings.HasSuffix(base, "_"+end)) {
		// The name says its unit; the other units take its place.
		stem := strings.TrimSuffix(strings.TrimSuffix(base, end), "_")
		canonical := unit{end, 1, 0}
		out := []namedUnit{{base, canonical}}
		for _, u := range us {
			if name := join(stem, u.name); name != base && (u.a != 1 || u.b != 0) {
				out = append(out, namedUnit{name, u})
			}
		}
		if t == reflect.TypeFor[quantity.Share]() {
			slices.Reverse(out) // a percentage reads better
		}
		return out
	}
	var out []namedUnit
	for _, u := range us {
		out = append(out, namedUnit{join(base, u.name), u})
	}
	return out
}

type namedUnit struct {
	name string
	unit
}

func join(stem, unit string) string {
	if stem == "" {
		return unit
	}
	return stem + "_" + unit
}

// near are the names closest to a mistyped one, at most three.
func near(name string, known []string) []string {
	type hit struct {
		name string
		d    int
	}
	var hits []hit
	for _, k := range known {
		d := distance(name, k)
		if strings.HasPrefix(k, name+"_") || strings.HasPrefix(name, k+"_") {
			d = min(d, 1)
		}
		if d <= max(1, len(name)/3) {
			hits = append(hits, hit{k, d})
		}
	}
	slices.SortStableFunc(hits, func(a, b hit) int { return a.d - b.d })
	var out []string
	for _, h := range hits[:min(3, len(hits))] {
		out = append(out, h.name)
	}
	return out
}

// oneOf is a few names in a sentence: those that are near, or else all.
func oneOf(near, all []string) string {
	if len(near) > 0 {
		return strings.Join(near, " or ")
	}
	all = slices.Sorted(slices.Values(all))
	if len(all) > 40 {
		all = append(all[:40:40], "...")
	}
	return "one of " + strings.Join(all, ", ")
}

// distance counts the letters to change, add or drop (Levenshtein 1965), a swap of two neighbours
// counting one (Damerau 1964).
func distance(a, b string) int {
	x, y := []rune(a), []rune(b)
	before := make([]int, len(y)+1)
	last := make([]int, len(y)+1)
	for j := range last {
		last[j] = j
	}
	for i := range x {
		this := make([]int, len(y)+1)
		this[0] = i + 1
		for j := range y {
			cost := 1
			if x[i] == y[j] {
				cost = 0
			}
			this[j+1] = min(last[j]+cost, last[j+1]+1, this[j]+1)
			if i > 0 && j > 0 && x[i] == y[j-1] && x[i-1] == y[j] {
				this[j+1] = min(this[j+1], before[j-1]+1)
			}
		}
		before, last = last, this
	}
	return last[len(y)]
}
