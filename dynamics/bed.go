package dynamics

// disturb stirs up a share of the bed: part of the slow mulm there was ammonia in the pore water already,
// part comes up and rots within a week, and what was reduced takes oxygen at once.
func (x *scene) disturb(share float64) {
	s := &x.State
	there := share * s.Slow
	free, raised := bedFrees*there, bedRaises*there
	s.Slow -= free + raised
	s.Labile += raised
	s.TAN += free
	s.Alk += free / molarN // pore water brings bicarbonate with its ammonium
	s.Oxygen = max(0, s.Oxygen-bedOxygen*(free+raised))
}

var (
	bedFrees  = table.Value("bed frees")
	bedRaises = table.Value("bed raises")
	bedOxygen = table.Value("bed oxygen")
)
