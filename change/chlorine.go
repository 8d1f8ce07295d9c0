package change

import "halfwater/quantity"

// Limits of total residual chlorine for life in fresh water, US EPA 1985 (epa1985chlorine, from
// memory).
const (
	ChlorineAcute   quantity.MgPerL = 0.019
	ChlorineChronic quantity.MgPerL = 0.011
)
