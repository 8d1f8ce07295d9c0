package climate

import (
	_ "embed"
	"fmt"
	"slices"

	"halfwater/cite"
	"halfwater/quantity"
)

//go:embed constants.txt
var constantsText string

var constants = cite.MustParse(constantsText)

// Constants gives every number of the package that could be disputed, with its work.
func Constants() []cite.Constant { return slices.Clone(constants.List) }

// spanOf is the 5 % and 95 % quantile of a constant whose doubt reads "5-95 %: 0.1-1.0".
func spanOf[Q quantity.Number](name string) quantity.Range[Q] {
	for _, c := range constants.List {
		if c.Name != name {
			continue
		}
		var lo, hi float64
		if n, err := fmt.Sscanf(c.Doubt, "5-95 %%: %g-%g", &lo, &hi); n == 2 && err == nil && lo <= c.Value && c.Value <= hi {
			return quantity.Range[Q]{Lo: Q(lo), Hi: Q(hi)}
		}
	}
	panic("climate: no span for " + name)
}
