package dynamics

// extrapolate takes one step of h and two of h/2 and removes the leading error, B + (B - A)/3: third
// order. Sums that both conserve are conserved by the combination. Where it would bring a pool below
// zero the two half steps stand.
func (x *scene) extrapolate(h float64) {
	was, mature, grown, acid := x.State, x.mature, x.grown, x.h
	x.sweep(h)
	once, onceMature, onceGrown := x.State, x.mature, x.grown
	x.State, x.mature, x.grown, x.h = was, mature, grown, acid
	x.sweep(h / 2)
	x.sweep(h / 2)
	s := &x.State
	part := func(b, a float64) float64 { return b + (b-a)/3 }
	low := min(part(s.TAN, once.TAN), part(s.NO2, once.NO2), part(s.NO3, once.NO3), part(s.PO4, once.PO4), part(s.Oxygen, once.Oxygen), part(s.Ca, once.Ca))
	if low < 0 {
		return
	}
	to, from := s.all(), once.all()
	for i := range len(to) - 3*Parts { // the strengths of the places wait for settle
		*to[i] = part(*to[i], *from[i])
	}
	x.mature = Nitrifiers{part(x.mature.Ammonia, onceMature.Ammonia), part(x.mature.Frugal, onceMature.Frugal), part(x.mature.Nitrite, onceMature.Nitrite)}
	x.grown = Nitrifiers{part(x.grown.Ammonia, onceGrown.Ammonia), part(x.grown.Frugal, onceGrown.Frugal), part(x.grown.Nitrite, onceGrown.Nitrite)}
}
