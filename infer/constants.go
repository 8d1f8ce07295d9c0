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

// Constants are the numbers of this package and of package blame, each with its source.
func Constants() []cite.Constant { return slices.Concat(constants.List, blame.Constants()) }

func value(name string) float64 { return constants.Value(name) }
