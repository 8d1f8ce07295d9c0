package emergency

import (
	"halfwater/husbandry"
	"halfwater/quantity"
	"halfwater/water"
)

// Nitrite is how the chloride of the water stands to its nitrite. It is a ratio and never grams: what
// goes in is for a vet, and nothing with amphibians, crustaceans or plants in.
type Nitrite struct {
	Code string // NitriteUnknown, NitriteNoSalt, NitriteRatio
	NO2  quantity.Nitrite
	Tier husbandry.Tier
	// Ratio is mol Cl per mol NO2 now, 0 when the chloride is not known; Wanted is what kept nitrite
	// out of channel catfish.
	Ratio, Wanted float64
	Chloride      quantity.MgPerL
	Keeps         quantity.MgPerL // the chloride that would make the ratio wanted
	Who           []string        // in the enclosure, for whom no salt goes in
}

// leastNitrite is the least that a ratio is made of. Judgement: a fifth of the finest step of a kit.
const leastNitrite quantity.Nitrite = 0.01

// Codes of the nitrite.
const (
	NitriteUnknown = "emergency.nitrite-unknown"
	NitriteNoSalt  = "emergency.nitrite-no-salt"
	NitriteRatio   = "emergency.nitrite-ratio"
)

func (n Now) nitrite() Nitrite {
	out := Nitrite{Code: NitriteUnknown}
	out.Who = n.noSaltFor()
	no2, ok := n.Read.NO2.Get()
	if !ok {
		return out
	}
	out.Code, out.NO2 = NitriteRatio, no2
	out.Tier = n.lines().At(husbandry.NitriteLine, float64(no2)).Tier
	if len(out.Who) > 0 {
		out.Code = NitriteNoSalt
	}
	if no2 < leastNitrite {
		return out // no kit tells it from none, and a ratio to none says nothing
	}
	mol := float64(no2) / water.MolarN
	out.Keeps = water.ProtectiveChloride(no2)
	out.Wanted = float64(out.Keeps) / water.MolarCl / mol
	if cl, ok := n.Read.Chloride.Get(); ok {
		out.Chloride, out.Ratio = cl, float64(cl)/water.MolarCl/mol
	}
	return out
}

// noSaltFor names the amphibians, crustaceans and plants of the stock, and what nobody knows. With no
// list at all nobody can say, so it is not empty.
func (n Now) noSaltFor() []string {
	var out []string
	some := false
	for _, s := range n.Facts.Stock {
		if s.Count <= 0 {
			continue
		}
		some = true
		k, ok := kindOf(s)
		if g := k.Species.Group; !ok || g.Amphibian() || g.Crustacean() || g == husbandry.Plant {
			out = append(out, s.Name)
		}
	}
	if !some {
		return []string{""}
	}
	return out
}
