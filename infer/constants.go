package infer

import (
	_ "embed"

	"halfwater/cite"
)

//go:embed constants.txt
var constantsText string

var constants = cite.MustParse(constantsText)

// Constants are the numbers of this package, each with its source.
func Constants() []cite.Constant { return append([]cite.Constant(nil), constants.List...) }

func value(name string) float64 { return constants.Value(name) }
