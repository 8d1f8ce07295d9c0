package load

import (
	_ "embed"
	"fmt"
	"strings"

	"halfwater/cite"
	"halfwater/quantity"
)

//go:embed constants.txt
var constantsText string

var table = cite.MustParse(constantsText)

// Constants are the numbers of this package, each with its source.
func Constants() []cite.Constant { return append([]cite.Constant(nil), table.List...) }

var (
	molarN     = table.Value("n.molar_mass")
	molarO2    = table.Value("o2.molar_mass")
	o2PerC     = table.Value("oxygen.per_carbon")
	doubtfully = readDoubts(table)
)

// readDoubts takes the 5-95 % ends from the table's column of doubt.
func readDoubts(t cite.Table) map[string]Doubt[float64] {
	out := map[string]Doubt[float64]{}
	for _, c := range t.List {
		ends, ok := strings.CutPrefix(c.Doubt, "5-95 %: ")
		if !ok {
			out[c.Name] = Exactly(c.Value)
			continue
		}
		var lo, hi float64
		if _, err := fmt.Sscanf(ends, "%g-%g", &lo, &hi); err != nil {
			panic(fmt.Sprintf("load: doubt of %s: %v", c.Name, err))
		}
		out[c.Name] = Doubt[float64]{lo, c.Value, hi}
	}
	return out
}

// of gives a constant with its doubt.
func of(name string) Doubt[float64] {
	d, ok := doubtfully[name]
	if !ok {
		panic("load: no constant " + name)
	}
	return d
}

// mg is so many mg per gram of a mass, in doubt.
func mg(g quantity.Grams, perGram Doubt[float64]) Doubt[MgN] {
	return scaled[MgN](float64(g), perGram)
}

// scaled is a doubtful factor by an exact amount, in another unit.
func scaled[Q quantity.Number](x float64, f Doubt[float64]) Doubt[Q] {
	return Doubt[Q]{Q(f.Low * x), Q(f.Median * x), Q(f.High * x)}
}
