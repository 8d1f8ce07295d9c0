package dynamics

// OxygenBalance is exchange with the air less what is breathed, mean of the day; nitrifiers and plants
// count theirs themselves.
var OxygenBalance = Process{
	Name:  "oxygen",
	Law:   "dO/dt = kL A (Cs - O/V) - R O/(K+O)",
	Works: []string{"benson1984", "practice"},
	add: func(x *scene, d *State) {
		d.Oxygen += x.exchanging() * (x.oxygenAtRest() - x.per(x.Oxygen))
		d.Oxygen -= x.breathed() * monod(x.per(x.Oxygen), oxygenHalfBreath)
	},
}

// CarbonDioxide brings the water back to its own pressure of CO2 after a change. How fast follows from
// the gas exchange; bicarbonate and carbonate make it slower by what they buffer.
var CarbonDioxide = Process{
	Name:  "carbon dioxide",
	Law:   "dp/dt = kL,CO2 A/V (p_rest - p) / (dDIC/dCO2 at fixed alkalinity)",
	Works: []string{"practice", "plummer1982"},
	add: func(x *scene, d *State) {
		d.PCO2 += x.co2Rate() * (x.Params[TankCO2] - x.PCO2)
	},
}

// exchanging is kL A for oxygen, L/d.
func (x *scene) exchanging() float64 {
	kl := x.exchange
	if x.piece.NoFlow || x.piece.Still {
		kl = x.still
	}
	return kl * x.warm.exchange * (1 - x.Film*(1-filmLeft))
}

// oxygenAtRest is saturation at the course's air pressure, mg/L.
func (x *scene) oxygenAtRest() float64 {
	return x.warm.saturation + x.warm.saturationPres*(x.pressure-1)
}

// breathed is the oxygen that animals, mulm and bed ask for, mg/d: what goes with the nitrogen that is
// freed, and a background.
func (x *scene) breathed() float64 {
	freed := x.load*x.piece.TAN + x.warm.mulm*(x.Params[LabileRate]*x.Labile+x.Params[SlowRate]*x.Slow)
	return x.oxygen*freed + x.Params[Background]*x.held*x.warm.mulm
}

// co2Rate is how fast the pressure of CO2 goes back, 1/d.
func (x *scene) co2Rate() float64 {
	return co2OverO2 * x.exchanging() / x.Volume / x.carbonate.buffer(x.h, x.PCO2, &x.warm)
}

// buffer is dDIC/dCO2 at fixed alkalinity, at least 1: carbonate and bicarbonate follow CO2.
// With b and c bicarbonate and carbonate: dlnh/dlnCO2 = (b + 2c)/(b + 4c + oh + acid) =: r, and
// dDIC = dCO2 + (b + c) dlnCO2 - (b + 2c) dlnh.
func (c *carbonate) buffer(h, pCO2 float64, w *warmth) float64 {
	b, k := c.bic/h, c.car/(h*h)
	r := (b + 2*k) / (b + 4*k + c.oh/h + c.acid*h)
	co2 := 1e3 * w.kh * pCO2
	return 1 + max(0, (b+k-(b+2*k)*r)/co2)
}

var (
	filmLeft         = table.Value("film left")
	oxygenHalfBreath = table.Value("oxygen half respiration")
)
