package husbandry

import "halfwater/quantity"

// Days is a time. Unit: d.
type Days float64

// Quarantine is how long a new arrival of the group is kept apart before a vet lets it in; the
// clock starts again with every addition. Common practice, no source; the vet decides.
func Quarantine(g Group) quantity.Range[Days] {
	switch {
	case g.Reptile():
		return days("quarantine-reptile")
	case g.Amphibian():
		return days("quarantine-amphibian")
	case g == Plant:
		return days("quarantine-plant")
	}
	return days("quarantine-fish")
}

func days(name string) quantity.Range[Days] {
	return quantity.Range[Days]{Lo: Days(constants.Value(name + "-least")), Hi: Days(constants.Value(name + "-most"))}
}
