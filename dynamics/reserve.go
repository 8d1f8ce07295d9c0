package dynamics

// Reserve is the nitrifying strength in hand over the load at the end of a course: what the weaker of the two steps
// could oxidise with ammonia or nitrite in plenty, at the state's temperature, pH, bicarbonate and oxygen,
// over the nitrogen that comes in as in the last four weeks. About 8 in a mature filter at rest (growth over decay);
// below 1 ammonia or nitrite rises. +Inf without a load.
func (c *Course) Reserve(p *Params, s *State) float64 {
	usual := c.Usual(c.Days-month, c.Days)
	x := scene{own: c.own(p), State: *s, piece: &usual}
	x.look()
	load := p[Load] * (x.piece.TAN + x.piece.Labile + x.piece.Slow)
	return min((x.mature.Ammonia+x.mature.Frugal)*x.ammoniaLimit(), x.mature.Nitrite*x.nitriteLimit()) / load
}
