package dynamics

// Organics is the dissolved organic carbon that gives the water its tea colour: it leaches, as free acid,
// and is broken down slowly.
var Organics = Process{
	Name:  "organics",
	Law:   "dDOC/dt = leach - k DOC",
	Works: []string{"memory-leaching", "hruska2003"},
	add: func(x *scene, d *State) {
		d.DOC += x.Params[Leach]*x.held + x.piece.Leach - docDecay*x.DOC
	},
}

// ActivatedCarbon takes organic carbon out until it is exhausted; it does not give it back.
var ActivatedCarbon = Process{
	Name:  "activated carbon",
	Law:   "dDOC/dt = -k m C (1 - q/q_max), dQ/dt = -dDOC/dt",
	Works: []string{"memory-leaching", "judgement"},
	add: func(x *scene, d *State) {
		r := carbonRate * x.Carbon * x.per(x.DOC) * x.carbonLeft()
		d.DOC -= r
		d.Loaded += r
	},
}

// carbonLeft is the share of the carbon's room that is free.
func (x *scene) carbonLeft() float64 {
	if x.Carbon <= 0 {
		return 0
	}
	return max(0, 1-x.Loaded/(x.Carbon*x.Params[CarbonHolds]))
}

// Binder is ammonia held by a conditioner, which comes free within days, and chloramine, which decays to
// ammonia and chloride: NH2Cl + 2 H+ + 2 e- -> NH4+ + Cl-.
var Binder = Process{
	Name:  "binder and chloramine",
	Law:   "dTAN = k_b Bound + k_c Chloramine; dCl = k_c Chloramine/14",
	Works: []string{"practice"},
	add: func(x *scene, d *State) {
		free, broken := binderLetsGo*x.Bound, chloramineDecay*x.Chloramine
		d.Bound -= free
		d.Chloramine -= broken
		d.TAN += free + broken
		d.Cl += broken / molarN
		d.Given.Cl += broken / molarN
	},
}

var (
	docDecay        = table.Value("doc decay")
	carbonRate      = table.Value("carbon rate")
	binderLetsGo    = table.Value("binder lets go")
	chloramineDecay = table.Value("chloramine decay")
)
