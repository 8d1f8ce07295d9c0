package emergency

import (
	_ "embed"
	"fmt"
	"slices"

	"halfwater/cite"
)

//go:embed constants.txt
var constantsText string

var constants = cite.MustParse(constantsText)

// Constants gives every number of the package that could be disputed, with its work.
func Constants() []cite.Constant { return slices.Clone(constants.List) }

// spanOf is a constant as 5 %, 50 % and 95 % quantile, from a doubt that reads "5-95 %: 0.1-1".
func spanOf(name string) spread {
	for _, c := range constants.List {
		var s spread
		if c.Name != name {
			continue
		}
		if n, err := fmt.Sscanf(c.Doubt, "5-95 %%: %g-%g", &s.lo, &s.hi); n == 2 && err == nil {
			s.mid = c.Value
			return s
		}
	}
	panic("emergency: no span for " + name)
}
