package dynamics

// Vapour takes water and leaves what is dissolved. Where the top-up is not written down the water that
// replaces it comes in at the same rate.
var Vapour = Process{
	Name:  "evaporation",
	Law:   "dV/dt = -E; ions stay",
	Works: []string{"ashrae", "judgement"},
	add: func(x *scene, d *State) {
		e := x.evaporating()
		d.Volume -= e
		d.Gone.Litres += e
		if x.toppedUp {
			x.topUp.into(d, e)
		}
	},
}

// evaporating is in L/d. It ends when a third of the water is gone: somebody topped up.
func (x *scene) evaporating() float64 {
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
