package dynamics

// own is the params of one run laid out for the laws, with what the course adds.
type own struct {
	Params
	held     float64 // L at the full mark
	exchange float64 // kL A of clean moved water at 20 C, L/d
	still    float64 // the same of unmoved water
	oxygen   float64 // mg O2 per mg N freed
	pressure float64 // atm
	stages   int     // of the filter
}

func (c *Course) own(p *Params) own {
	const litresPerDay = 240 // 1 cm/h through 1 m2
	kl := p[GasExchange]
	return own{
		Params: *p, held: c.Held * p[HeldWater],
		exchange: kl * c.Surface * litresPerDay,
		still:    min(kl, stillKL) * c.Surface * litresPerDay,
		oxygen:   p[Respiration] * oxygenOfWaste, pressure: c.Pressure, stages: len(c.Stages),
	}
}

var (
	stillKL       = waterConstants["kL still"].Value
	co2OverO2     = waterConstants["kL CO2 over O2"].Value
	oxygenOfWaste = table.Value("oxygen of waste")
)

// scene is one moment as the laws see it.
type scene struct {
	own
	State         // the water of this moment
	pace     Pace // of the sweep
	piece    *Piece
	warm     warmth
	topUp    Water   // replaces what evaporates
	toppedUp bool    // or the book has the top-ups
	load     float64 // factor on the load: params and the week's deviation
	uptake   float64 // mg N/d that plants could take

	mature  Nitrifiers // strength of the places that have flow
	grown   Nitrifiers // by what each has grown since settle
	noFlow  bool       // at the last settle
	warmFor float64    // the temperature that warm is for

	carbonate carbonate
}

// look fills in what follows from the state.
func (x *scene) look() {
	x.warm = warmthOf(x.Temp)
	x.mature = x.working(x.piece.NoFlow)
	x.carbonate.of(&x.State, x.Volume, x.Alk, x.TAN, x.PCO2, &x.warm)
	if x.h == 0 {
		x.h = x.carbonate.guess()
	}
	x.h = x.carbonate.solve(x.h, exactly)
}

// working sums the nitrifiers that have flow.
func (s *State) working(noFlow bool) Nitrifiers {
	if noFlow {
		return s.Strength[Elsewhere]
	}
	return s.Filter()
}

// per is an amount as a concentration.
func (x *scene) per(amount float64) float64 { return amount / x.Volume }

func square(x float64) float64 { return x * x }
