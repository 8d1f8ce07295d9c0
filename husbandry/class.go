package husbandry

// Class is how much nitrate the stock bears.
type Class string

// The classes, the most sensitive first.
const (
	Sensitive    Class = "sensitive" // newts, amphibian larvae, stock of soft, acid water
	Ordinary     Class = "ordinary"
	ReptilesOnly Class = "reptiles only" // no animal but reptiles
)

// Codes of why a line or a limit is what it is.
const (
	WhyTable         Code = "line.table"         // the table as it stands
	WhyNobodyKnown   Code = "line.stock-unknown" // no animal is written down: the strictest lines
	WhyNewt          Code = "line.newt"
	WhyLarvae        Code = "line.larvae" // of amphibians
	WhyCrustacean    Code = "line.crustacean"
	WhySoftWater     Code = "line.soft-water" // stock of soft, acid water
	WhyReptilesOnly  Code = "line.reptiles-only"
	WhyOwnCeiling    Code = "line.own-ceiling" // the species' own nitrate ceiling is tighter
	WhyChloride      Code = "line.chloride"    // chloride lets nitrite act at a higher number
	WhyNoChloride    Code = "line.no-chloride" // chloride unknown or low
	WhyAmphibian     Code = "line.amphibian"   // chloride does not help, salt is kept out
	WhyKeeperTighter Code = "line.keeper-tighter"
	WhyKeeperLooser  Code = "line.keeper-looser"
)

// Because is a reason and the animal that gives it; Who is empty when none does.
type Because struct {
	Code Code
	Who  string
}

// ClassOf gives the class of a stock and why. No animal written down is taken as the most
// sensitive.
func ClassOf(stock []Kept) (Class, Because) {
	animals, others := 0, 0
	for _, k := range stock {
		switch {
		case !k.Species.Group.Animal():
			continue
		case k.Larva():
			return Sensitive, Because{WhyLarvae, k.Species.Common}
		case k.Species.Group == Newt:
			return Sensitive, Because{WhyNewt, k.Species.Common}
		case needsSoftWater(k):
			return Sensitive, Because{WhySoftWater, k.Species.Common}
		}
		animals++
		if !k.Species.Group.Reptile() {
			others++
		}
	}
	switch {
	case animals == 0:
		return Sensitive, Because{Code: WhyNobodyKnown}
	case others == 0:
		return ReptilesOnly, Because{Code: WhyReptilesOnly}
	}
	return Ordinary, Because{Code: WhyTable}
}

// needsSoftWater reports whether this kind of animal, if its ranges count for the water, has
// them end at or under the soft-water ends of KH and pH.
func needsSoftWater(k Kept) bool {
	kh, haveKH := k.Species.KH.Get()
	ph, havePH := k.Species.PH.Get()
	return k.Species.Group.Animal() && k.HoldsWater() && haveKH && havePH &&
		float64(kh.Hi) <= lines.Value("soft-kh") && float64(ph.Hi) <= lines.Value("soft-ph")
}
