package husbandry

import (
	_ "embed"
	"slices"

	"halfwater/cite"
)

//go:embed constants.txt
var constantsText string

var constants = cite.MustParse(constantsText)

// Constants gives every number of the package that could be disputed, with its work.
func Constants() []cite.Constant { return slices.Concat(lines.List, constants.List) }
