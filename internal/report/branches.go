package report

import (
	"halfwater/infer"
	"halfwater/internal/say"
	"halfwater/quantity"
)

// BranchesNow are the accounts between which the readings leave the choice, and what would tell them apart.
type BranchesNow struct {
	Code     string
	Accounts []AccountNow // the likeliest first
	Test     string       // the quantity whose reading tells most
}

// AccountNow is one of them: its odds, and the quantities by which it differs from the other.
type AccountNow struct {
	Odds       float64
	Quantities []AccountOf
}

// AccountOf is a quantity in an account.
type AccountOf struct {
	Of    quantity.Measurand
	Label string
	Band  quantity.Band[float64] // canonical unit
	Words string
}

// branches are the accounts of a belief; nil when there is one.
func branches(b infer.Belief) *BranchesNow {
	apart := infer.ToldApart(b.Branches)
	if len(apart) == 0 {
		return nil
	}
	out := BranchesNow{Code: "now.branches", Test: apart[0].Label()}
	for _, x := range b.Branches {
		a := AccountNow{Odds: x.Odds}
		for _, m := range apart {
			if band, ok := (infer.Belief{Draws: x.Draws}).Band(m); ok {
				words, _ := say.BandParts(m, band, b.Evidence[m].Floor)
				a.Quantities = append(a.Quantities, AccountOf{m, m.Label(), band, words})
			}
		}
		out.Accounts = append(out.Accounts, a)
	}
	return &out
}
