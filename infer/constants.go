package infer

import (
	_ "embed"
	"slices"

	"halfwater/cite"
	"halfwater/infer/blame"
)

//go:embed constants.txt
var constantsText string

var constants = cite.MustParse(constantsText)

// Constants are the numbers of this package and, under "blame: ", of package blame, each with its source.
func Constants() []cite.Constant {
	out := slices.Clone(constants.List)
	for _, c := range blame.Constants() {
		c.Name = "blame: " + c.Name
		out = append(out, c)
	}
	return out
}

func value(name string) float64 { return constants.Value(name) }
