package dynamics

// Vapour takes water and leaves what is dissolved. Where the top-up is not written down the water that
// replaces it comes in at the same rate; so it does for [Seeping].
var Vapour = Process{
	Name:  "evaporation",
	Law:   "dV/dt = -(1 - s) E; ions stay",
	Works: []string{"ashrae", "judgement"},
	add: func(x *scene, d *State) {
		x.lose(d, (1-x.Params[Seepage])*x.losing())
	},
}

// Seeping takes water with all that is dissolved in it: splash that stays on the land, a wick, a drip, a fine leak.
var Seeping = Process{
	Name:  "seepage",
	Law:   "dV/dt = -s E, dn/dt = -(s E/V) n for all that is dissolved",
	Works: []string{"definition"},
	add: func(x *scene, d *State) {
		litres := x.Params[Seepage] * x.losing()
		x.lose(d, litres)
		share := litres / x.Volume
		g, s := &d.Gone, &x.State
		for _, q := range [...][2]*float64{
			{&d.Ca, &s.Ca},
			{&d.Mg, &s.Mg},
			{&d.Na, &s.Na},
			{&d.K, &s.K},
			{&d.Cl, &s.Cl},
			{&d.SO4, &s.SO4},
			{&d.Alk, &s.Alk},
			{&d.DOC, &s.DOC},
			{&d.TAN, &s.TAN},
			{&d.Bound, &s.Bound},
			{&d.Chloramine, &s.Chloramine},
			{&d.NO2, &s.NO2},
			{&d.NO3, &s.NO3},
			{&d.PO4, &s.PO4},
			{&d.Oxygen, &s.Oxygen},
		} {
			*q[0] -= share * *q[1]
		}
		g.N += share * (s.TAN + s.Bound + s.Chloramine + s.NO2 + s.NO3)
		g.P += share * s.PO4
		g.Ca += share * s.Ca
		g.Mg += share * s.Mg
		g.Na += share * s.Na
		g.K += share * s.K
		g.Cl += share * s.Cl
		g.SO4 += share * s.SO4
	},
}

// lose takes litres a day out of a slope, and puts top-ups in where nobody writes them down.
func (x *scene) lose(d *State, litres float64) {
	d.Volume -= litres
	d.Gone.Litres += litres
	if x.toppedUp {
		x.topUp.into(d, litres)
	}
}

// Saltening is the neutral salt that food, conditioners and decor bring and nobody writes down.
var Saltening = Process{
	Name:  "unwritten salt",
	Law:   "dNa/dt = dCl/dt = k V_full",
	Works: []string{"judgement"},
	add: func(x *scene, d *State) {
		salt := x.Params[UnwrittenSalt] * x.held
		d.Na += salt
		d.Cl += salt
		d.Given.Na += salt
		d.Given.Cl += salt
	},
}

// losing is what vapour and seepage take together, L/d. It ends when a third of the water is gone: somebody topped up.
func (x *scene) losing() float64 {
	e := x.piece.Evaporation * x.Params[Evaporation]
	low := x.Volume/x.held - 2./3
	return e * min(max(10*low, 0), 1)
}

// Warming brings the water back to the usual temperature after a change.
var Warming = Process{
	Name:  "warming",
	Law:   "dT/dt = k (T_usual - T)",
	Works: []string{"definition"},
	add:   func(x *scene, d *State) { d.Temp += heatRate * (x.piece.Temp - x.Temp) },
}

// SurfaceFilm is the film that grows on unmoved water and lowers gas exchange to a third.
var SurfaceFilm = Process{
	Name:  "surface film",
	Law:   "dF/dt = k (1 - F) on unmoved water, -3 F on moved water",
	Works: []string{"practice", "judgement"},
	add:   func(x *scene, d *State) { d.Film += x.filmRate() * (x.filmAtRest() - x.Film) },
}

func (x *scene) filmRate() float64 {
	if x.piece.Still || x.piece.NoFlow {
		return filmGrows
	}
	return 3
}

func (x *scene) filmAtRest() float64 {
	if x.piece.Still || x.piece.NoFlow {
		return 1
	}
	return 0
}

var (
	heatRate  = table.Value("heat rate")
	filmGrows = table.Value("film grows")
)
