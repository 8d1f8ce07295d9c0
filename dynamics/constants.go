package dynamics

import (
	_ "embed"
	"slices"

	"halfwater/cite"
)

var (
	//go:embed constants.txt
	constantsText string
	//go:embed params.txt
	paramsText string
	//go:embed losses.txt
	lossesText string
)

var (
	table  = cite.MustParse(constantsText)
	params = cite.MustParse(paramsText)
	losses = cite.MustParse(lossesText)
)

// Constants are the numbers of this package, each with its source: those of every enclosure, the
// priors of [Params], and the losses of nitrifiers.
func Constants() []cite.Constant { return slices.Concat(table.List, params.List, losses.List) }

var (
	molarN  = table.Value("molar N")
	molarP  = table.Value("molar P")
	molarO2 = table.Value("molar O2")

	perN, perP = 1 / molarN, 1 / molarP // mmol/mg: a division costs as much as five products
)
