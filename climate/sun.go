package climate

import (
	"math"
	"time"
)

// Degrees is an angle: a latitude, north above zero; a longitude, east above zero. Unit: deg.
type Degrees float64

func (d Degrees) radians() float64 { return float64(d) * math.Pi / 180 }

// yearAngle is the angle of the year at an hour of a day (1 to 366), rad.
func yearAngle(day int, hour float64) float64 {
	return 2 * math.Pi / 365 * (float64(day-1) + (hour-12)/24)
}

// Declination is that of the sun at noon of a day of the year, 1 to 366. Within 0.05 deg.
//
// Source: NOAA general solar position calculations, after Spencer 1971; so the rest of this file.
func Declination(day int) Degrees { return Degrees(declination(yearAngle(day, 12)) * 180 / math.Pi) }

func declination(g float64) float64 {
	return 0.006918 - 0.399912*math.Cos(g) + 0.070257*math.Sin(g) - 0.006758*math.Cos(2*g) +
		0.000907*math.Sin(2*g) - 0.002697*math.Cos(3*g) + 0.00148*math.Sin(3*g)
}

// EquationOfTime is by how much the sun is ahead of the clock at noon of a day of the year.
func EquationOfTime(day int) time.Duration {
	g := yearAngle(day, 12)
	minutes := 229.18 * (0.000075 + 0.001868*math.Cos(g) - 0.032077*math.Sin(g) -
		0.014615*math.Cos(2*g) - 0.040849*math.Sin(2*g))
	return seconds(60 * minutes)
}

// DayLength is the time from sunrise to sunset on a day of the year: within 2 minutes up to 60
// degrees of latitude. It is 0 in the polar night and 24 h under the midnight sun.
func DayLength(latitude Degrees, day int) time.Duration {
	lat, dec := latitude.radians(), declination(yearAngle(day, 12))
	zenith := Degrees(constants.Value("sun-zenith")).radians()
	cosH := math.Cos(zenith)/(math.Cos(lat)*math.Cos(dec)) - math.Tan(lat)*math.Tan(dec)
	hours := 2 * math.Acos(min(1, max(-1, cosH))) * 180 / math.Pi / 15
	return seconds(3600 * hours)
}

// Noon is when the sun is highest, after midnight UTC.
func Noon(longitude Degrees, day int) time.Duration {
	return seconds(60*(720-4*float64(longitude))) - EquationOfTime(day)
}
