package dynamics

// StoneAndPeat is the carbonate source or the acid sink of an enclosure. A source slows as the water
// comes near saturation with aragonite and stops there; a sink stops as bicarbonate or calcium runs out.
// Every equivalent goes with half a mole of calcium, into the water or out of it.
var StoneAndPeat = Process{
	Name:  "stone and peat",
	Law:   "dAlk/dt = B (1 - Omega^(2/3)), B > 0; B (HCO3/(0.05+HCO3))^2 Ca/(0.02+Ca), B < 0; dCa = dAlk/2",
	Works: []string{"plummer1978", "judgement"},
	add: func(x *scene, d *State) {
		r := x.dissolving()
		d.Alk += r
		d.Ca += r / 2
		d.Given.Ca += r / 2
	},
}

// dissolving is in meq/d.
func (x *scene) dissolving() float64 {
	return dissolving(x.Params[Stone]*x.held, x.carbonate.bicarbonate(x.h), x.per(x.Ca), x.carbonate.saturation(x.h, &x.warm))
}

func dissolving(source, bicarbonate, calcium, saturation float64) float64 {
	switch {
	case source == 0:
		return 0
	case source < 0:
		return source * square(monod(bicarbonate, sinkHalf)) * monod(calcium, calciumHalf)
	case saturation >= 1:
		return 0
	}
	return source * (1 - fastExp(2./3*fastLog(saturation)))
}

const (
	sinkHalf    = 0.05 // meq/L; judgement
	calciumHalf = 0.02 // mmol/L; judgement
)
