package dynamics

// extrapolate takes the leading error off a state that two halves of a step led to, B + (B - A)/3 where A is what the
// whole step led to: third order. Sums that both conserve are conserved by the combination. Where it would bring a pool
// below zero the two half steps stand.
func (x *scene) extrapolate(once *State, mature, grown *Nitrifiers) {
	s := &x.State
	part := func(b, a float64) float64 { return b + (b-a)/3 }
	low := min(part(s.TAN, once.TAN), part(s.NO2, once.NO2), part(s.NO3, once.NO3), part(s.PO4, once.PO4), part(s.Oxygen, once.Oxygen), part(s.Ca, once.Ca))
	if low < 0 {
		return
	}
	s.beyond(once)
	x.mature = Nitrifiers{part(x.mature.Ammonia, mature.Ammonia), part(x.mature.Frugal, mature.Frugal), part(x.mature.Nitrite, mature.Nitrite)}
	x.grown = Nitrifiers{part(x.grown.Ammonia, grown.Ammonia), part(x.grown.Frugal, grown.Frugal), part(x.grown.Nitrite, grown.Nitrite)}
}

// beyond goes a third further from another state; the strengths of the places wait for settle.
func (s *State) beyond(o *State) {
	third(&s.Volume, o.Volume)
	third(&s.Ca, o.Ca)
	third(&s.Mg, o.Mg)
	third(&s.Na, o.Na)
	third(&s.K, o.K)
	third(&s.Cl, o.Cl)
	third(&s.SO4, o.SO4)
	third(&s.Alk, o.Alk)
	third(&s.DOC, o.DOC)
	third(&s.Carbon, o.Carbon)
	third(&s.Loaded, o.Loaded)
	third(&s.Labile, o.Labile)
	third(&s.Slow, o.Slow)
	third(&s.TAN, o.TAN)
	third(&s.Bound, o.Bound)
	third(&s.Chloramine, o.Chloramine)
	third(&s.NO2, o.NO2)
	third(&s.NO3, o.NO3)
	third(&s.PO4, o.PO4)
	third(&s.Oxygen, o.Oxygen)
	third(&s.PCO2, o.PCO2)
	third(&s.Temp, o.Temp)
	third(&s.Film, o.Film)
	third(&s.Plants, o.Plants)
	third(&s.Gas, o.Gas)
	third(&s.PlantP, o.PlantP)
	s.Given.beyond(&o.Given)
	s.Gone.beyond(&o.Gone)
}

func (l *Ledger) beyond(o *Ledger) {
	third(&l.N, o.N)
	third(&l.P, o.P)
	third(&l.Ca, o.Ca)
	third(&l.Mg, o.Mg)
	third(&l.Na, o.Na)
	third(&l.K, o.K)
	third(&l.Cl, o.Cl)
	third(&l.SO4, o.SO4)
	third(&l.Litres, o.Litres)
}

func third(b *float64, a float64) { *b += (*b - a) * (1. / 3) }
