package climate

import "halfwater/quantity"

// Surface is open water under air.
type Surface struct {
	Area    quantity.SquareMetres
	Water   quantity.Celsius
	Air     Air
	Draught quantity.MetresPerSecond // air over the water; 0 in a box
}

// Activity is by how much a surface evaporates more or less than the open pool of the formula.
type Activity float64

// Activities of surfaces: a quiet one, and one under spray, a fall or an airstone.
var (
	Still     = Activity(constants.Value("activity-still"))
	Disturbed = Activity(constants.Value("activity-disturbed"))
)

// ActivitySpan is the 5 % to 95 % span of the activity of a surface.
func ActivitySpan(disturbed bool) quantity.Range[Activity] {
	if disturbed {
		return spanOf[Activity]("activity-disturbed")
	}
	return spanOf[Activity]("activity-still")
}

// Evaporation is the water lost from a surface: F (pw - pa)(0.089 + 0.0782 V)/Y. Below zero
// vapour settles on the water instead. 5 to 40 C; a litre is taken as a kilogram. The form is known
// to be rough: use [ActivitySpan] for the doubt, and the measured top-up as soon as there is one.
//
// Source: ASHRAE Handbook in SI; Shah 2014 (ASHRAE Trans. 120(2)) calls the form inaccurate.
func (s Surface) Evaporation(f Activity) quantity.LitresPerDay {
	latent := constants.Value("latent-0") + constants.Value("latent-1")*float64(s.Water) // kJ/kg
	over := Saturation(s.Water).Kilopascals() - s.Air.Pressure().Kilopascals()
	flow := (constants.Value("evaporation-still") + constants.Value("evaporation-draught")*float64(s.Draught)) * over / latent
	return quantity.LitresPerDay(float64(f) * flow * float64(s.Area) * 86400)
}
