package water

import (
	"math"

	"halfwater/quantity"
)

// OxygenSaturation is the oxygen that fresh water holds in equilibrium with moist air of a total
// pressure, mg/L, after Benson and Krause 1984; 0 to 40 C, 0.5 to 1.1 atm.
func OxygenSaturation(t quantity.Celsius, p quantity.Atm) quantity.MgPerL {
	T := t.Kelvin()
	c := math.Exp(-139.34411 + 1.575701e5/T - 6.642308e7/(T*T) + 1.2438e10/(T*T*T) - 8.621949e11/(T*T*T*T))
	vapour := math.Exp(11.8571 - 3840.70/T - 216961/(T*T)) // atm
	x := float64(t)
	theta := 0.000975 - 1.426e-5*x + 6.436e-8*x*x
	P := float64(p)
	return quantity.MgPerL(c * P * (1 - vapour/P) * (1 - theta*P) / ((1 - vapour) * (1 - theta)))
}

// PressureAt is the pressure of the standard atmosphere at a height (ICAO, to 11 km).
func PressureAt(h quantity.Metres) quantity.Atm {
	return quantity.Atm(math.Pow(1-2.25577e-5*float64(h), 5.25588))
}
