package dynamics

// Waste is what the book puts in: part of it total ammonia at once, the rest to the mulm.
var Waste = Process{
	Name:  "waste",
	Law:   "dTAN = load N_TAN, dLabile = load N_l, dSlow = load N_s, dPO4 = load P",
	Works: []string{"timmons", "dalsgaard2011"},
	add: func(x *scene, d *State) {
		l, p := x.load, x.piece
		d.Labile += l * p.Labile
		d.Slow += l * p.Slow
		d.PO4 += l * p.PO4
		d.Alk -= l * p.PO4 / molarP
		x.ammonify(d, l*p.TAN)
		d.Given.N += l * (p.TAN + p.Labile + p.Slow)
		d.Given.P += l * p.PO4
	},
}

// Mulm frees its nitrogen as ammonia, first order, faster in warm water; phosphorus comes with it.
var Mulm = Process{
	Name:  "mulm",
	Law:   "dD/dt = -k theta^(t-20) D for a labile and a slow pool; dTAN = -dD",
	Works: []string{"memory-mulm", "feedtables"},
	add: func(x *scene, d *State) {
		labile := x.Params[LabileRate] * x.warm.mulm * x.Labile
		slow := x.Params[SlowRate] * x.warm.mulm * x.Slow
		d.Labile -= labile
		d.Slow -= slow
		x.ammonify(d, labile+slow)
		p := mulmPhosphorus * (labile + slow)
		d.PO4 += p
		d.Alk -= p / molarP // H2PO4- at the reference level
		d.Given.P += p      // mulm is kept as nitrogen; its phosphorus is counted as it appears
	},
}

// ammonify frees n mg N as ammonia. A share brings its own alkalinity (NH3 takes up a proton); the rest
// comes with an equivalent of acid, kept as sulfate.
func (x *scene) ammonify(d *State, n float64) {
	own := x.Params[Alkali]
	d.TAN += n
	d.Alk += own * n / molarN
	d.SO4 += (1 - own) * n / molarN / 2
	d.Given.SO4 += (1 - own) * n / molarN / 2
}

var mulmPhosphorus = table.Value("phosphorus of mulm")
