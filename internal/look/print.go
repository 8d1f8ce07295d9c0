package look

import "halfwater/quantity"

// Print is how one measurand is shown: its name and unit in words, the basis it is told in, the
// finest digit worth printing, and the fixed ends of its scale.
type Print struct {
	Name   string
	Unit   string         // "°dKH"; "" when it has none
	Basis  quantity.Basis // of a mass concentration
	Finest float64        // in Unit
	Lo, Hi float64        // ends of the band's scale, in Unit; fixed so that the eye learns them
}

// Words is the unit with its basis: "mg/L as NO3".
func (p Print) Words() string {
	if p.Basis == quantity.NoBasis {
		return p.Unit
	}
	return p.Unit + " " + string(p.Basis)
}

// prints: names and units of the trade; digits and scales are judgement, no source. Nitrate is
// told as NO3 because most cards are; the chemistry inside counts N.
var prints = map[quantity.Measurand]Print{
	quantity.OfGH:          {"GH", "°dGH", "", .1, 0, 16},
	quantity.OfKH:          {"KH", "°dKH", "", .1, 0, 8},
	quantity.OfPH:          {"pH", "", "", .1, 5.5, 9},
	quantity.OfEC:          {"EC", "µS/cm at 25 °C", "", 1, 0, 600},
	quantity.OfTAN:         {"Total ammonia", "mg/L", quantity.AsN, .01, 0, 2},
	quantity.OfNO2:         {"Nitrite", "mg/L", quantity.AsN, .01, 0, .5},
	quantity.OfNO3:         {"Nitrate", "mg/L", quantity.AsNO3, 1, 0, 100},
	quantity.OfPO4:         {"Phosphate", "mg/L", quantity.AsPO4, .01, 0, 5},
	quantity.OfOxygen:      {"Oxygen", "mg/L", "", .1, 0, 12},
	quantity.OfChlorine:    {"Chlorine", "mg/L as Cl2", "", .01, 0, 1},
	quantity.OfChloride:    {"Chloride", "mg/L", "", 1, 0, 200},
	quantity.OfCopper:      {"Copper", "mg/L", "", .001, 0, .05},
	quantity.OfTDS:         {"TDS as shown", "mg/L", "", 1, 0, 400},
	quantity.OfWaterTemp:   {"Water temperature", "°C", "", .1, 10, 30},
	quantity.OfAirTemp:     {"Air temperature", "°C", "", .1, 10, 40},
	quantity.OfBaskingTemp: {"Basking place", "°C", "", .5, 15, 55},
	quantity.OfHumidity:    {"Humidity", "%", "", 1, 0, 100},
	quantity.OfUVI:         {"UVI", "", "", .1, 0, 8},
	quantity.OfLevel:       {"Level", "cm", "", .1, 0, 60},
}

// PrintOf tells how m is shown; false when m is not known.
func PrintOf(m quantity.Measurand) (Print, bool) { p, ok := prints[m]; return p, ok }

// Shown turns a canonical value of m into the unit and basis of its [Print]. A level, canonical
// in mm, is shown in cm as the staff is read.
func Shown(m quantity.Measurand, canonical float64) float64 {
	if m == quantity.OfLevel {
		return quantity.Millimetres(canonical).Centimetres()
	}
	return m.InUnit(canonical, m.Unit(), prints[m].Basis)
}
