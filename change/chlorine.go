package change

import (
	"halfwater/quantity"
	"halfwater/water"
)

// ChloramineNitrogen is the total ammonia that the monochloramine of a source water leaves in that
// water once a neutraliser has taken its chlorine: thiosulfate takes the chlorine part only
// (water.ChloramineAmmonia, 0.198 mg N per mg Cl2). A change carries its share of it over.
func ChloramineNitrogen(combined quantity.MgPerL) quantity.TotalAmmonia {
	return water.ChloramineAmmonia(combined)
}

// Limits of total residual chlorine for life in fresh water, US EPA 1985 (epa1985chlorine, from
// memory).
const (
	ChlorineAcute   quantity.MgPerL = 0.019
	ChlorineChronic quantity.MgPerL = 0.011
)
