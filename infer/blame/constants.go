package blame

import (
	_ "embed"
	"slices"

	"halfwater/cite"
)

//go:embed constants.txt
var constantsText string

var constants = cite.MustParse(constantsText)

// Constants are the numbers of this package, each with its source.
func Constants() []cite.Constant { return slices.Clone(constants.List) }

func value(name string) float64 { return constants.Value(name) }

func square(x float64) float64 { return x * x }
