package climate

import (
	"math"

	"halfwater/quantity"
)

var iapws = struct {
	temperature, pressure float64
	a                     [6]float64
}{
	constants.Value("iapws-critical-temperature"), constants.Value("iapws-critical-pressure"),
	[6]float64{
		constants.Value("iapws-a1"), constants.Value("iapws-a2"), constants.Value("iapws-a3"),
		constants.Value("iapws-a4"), constants.Value("iapws-a5"), constants.Value("iapws-a6"),
	},
}

// Saturation is the vapour pressure over water at which air is full. 0 to 100 C; it is carried on
// below 0 C as over supercooled water.
//
// Source: Wagner and Pruss 2002 (IAPWS-95, saturation line), from memory.
func Saturation(t quantity.Celsius) quantity.Hectopascals {
	v := 1 - t.Kelvin()/iapws.temperature
	a, root := iapws.a, math.Sqrt(v)
	sum := v * (a[0] + a[1]*root + v*v*(a[2]+a[3]*root+a[4]*v+a[5]*v*v*v*v*root))
	return quantity.Hectopascals(iapws.pressure * math.Exp(sum*iapws.temperature/t.Kelvin()))
}

// SaturationMagnus is [Saturation] by the Magnus form of WMO-No. 8: within 0.5 % from 0 to 35 C.
func SaturationMagnus(t quantity.Celsius) quantity.Hectopascals {
	a, b := constants.Value("magnus-a"), constants.Value("magnus-b")
	return quantity.Hectopascals(constants.Value("magnus-es0") * math.Exp(a*float64(t)/(b+float64(t))))
}

// SaturationSonntag is [Saturation] by Sonntag 1990.
func SaturationSonntag(t quantity.Celsius) quantity.Hectopascals {
	k := t.Kelvin()
	return quantity.Hectopascals(math.Exp(constants.Value("sonntag-1")/k + constants.Value("sonntag-0") +
		constants.Value("sonntag+1")*k + constants.Value("sonntag+2")*k*k + constants.Value("sonntag-ln")*math.Log(k)))
}

// Air is air at a temperature and a relative humidity over water.
type Air struct {
	T  quantity.Celsius
	RH quantity.Humidity
}

// Pressure is the pressure of the vapour in the air.
func (a Air) Pressure() quantity.Hectopascals {
	return Saturation(a.T) * quantity.Hectopascals(a.RH/100)
}

// Deficit is how far the vapour pressure is from saturation, VPD.
func (a Air) Deficit() quantity.Hectopascals { return Saturation(a.T) - a.Pressure() }

// Density is the mass of vapour in the air, absolute humidity.
func (a Air) Density() quantity.VapourDensity {
	return quantity.VapourDensity(constants.Value("vapour-density") * float64(a.Pressure()) / a.T.Kelvin())
}

// DewPoint is the temperature at which the air is full. RH must be over 0; else it is NaN.
func (a Air) DewPoint() quantity.Celsius {
	if !(a.RH > 0) {
		return quantity.Celsius(math.NaN())
	}
	return fullAt(a.Pressure())
}

// fullAt is the temperature at which the vapour pressure is p: Magnus turned round, then Newton on
// the saturation line until it stands still.
func fullAt(p quantity.Hectopascals) quantity.Celsius {
	g := math.Log(float64(p) / constants.Value("magnus-es0"))
	t := quantity.Celsius(constants.Value("magnus-b") * g / (constants.Value("magnus-a") - g))
	for range 4 {
		const h = 1e-3
		slope := (math.Log(float64(Saturation(t+h))) - math.Log(float64(Saturation(t-h)))) / (2 * h)
		t -= quantity.Celsius(math.Log(float64(Saturation(t)/p)) / slope)
	}
	return t
}

// HumidityRatio is the mass of vapour per mass of dry air, at a pressure of the air.
func (a Air) HumidityRatio(pressure quantity.Hectopascals) quantity.Share {
	e := a.Pressure()
	return quantity.Share(constants.Value("humidity-ratio") * float64(e/(pressure-e)))
}

// Warmed is the same air brought to another temperature with no vapour in or out; RH passes 100
// when it would drip.
func (a Air) Warmed(to quantity.Celsius) Air {
	return Air{to, quantity.Humidity(100 * a.Pressure() / Saturation(to))}
}

// PressureAt is the pressure of the standard atmosphere, 0 to 11 000 m.
//
// Source: ICAO standard atmosphere, from memory.
func PressureAt(h quantity.Metres) quantity.Hectopascals {
	return quantity.Hectopascals(constants.Value("standard-pressure") *
		math.Pow(1-constants.Value("pressure-lapse")*float64(h), constants.Value("pressure-power")))
}
