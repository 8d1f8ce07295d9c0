package climate

import (
	"math"
	"time"
)

// Degrees is an angle: a latitude, north above zero; a longitude, east above zero. Unit: deg.
type Degrees float64

func (d Degrees) radians() float64 { return float64(d) * math.Pi / 180 }

// sun is where the sun stands: its mean longitude, declination and right ascension, rad. 0.01 deg
// from 1950 to 2050.
//
// Source: The Astronomical Almanac, low-precision formulas for the Sun, from memory. The shorter
// series of Spencer 1971, by day of the year, strays by half a degree at the equinoxes of today.
func sun(at time.Time) (mean, declination, ascension float64) {
	n := float64(at.Unix()-946728000) / 86400 // days from noon UTC of 1 January 2000
	g := Degrees(357.528 + 0.9856003*n).radians()
	mean = Degrees(280.460 + 0.9856474*n).radians()
	along := mean + Degrees(1.915*math.Sin(g)+0.020*math.Sin(2*g)).radians()
	tilt := Degrees(23.439 - 4e-7*n).radians()
	return mean, math.Asin(math.Sin(tilt) * math.Sin(along)), math.Atan2(math.Cos(tilt)*math.Sin(along), math.Cos(along))
}

// Declination is that of the sun at an instant.
func Declination(at time.Time) Degrees {
	_, declination, _ := sun(at)
	return Degrees(declination * 180 / math.Pi)
}

// EquationOfTime is by how much the sun is ahead of the clock at an instant. Within 0.1 minutes.
func EquationOfTime(at time.Time) time.Duration {
	mean, _, ascension := sun(at)
	return seconds(math.Remainder(mean-ascension, 2*math.Pi) * 43200 / math.Pi)
}

// DayLength is the time from sunrise to sunset, with the sun of noon UTC of the date: within 2
// minutes up to 60 degrees of latitude. It is 0 in the polar night and 24 h under the midnight sun.
//
// Source: hour angle and zenith of NOAA's general solar position calculations.
func DayLength(latitude Degrees, date time.Time) time.Duration {
	_, declination, _ := sun(noonUTC(date))
	lat, zenith := latitude.radians(), Degrees(constants.Value("sun-zenith")).radians()
	cosH := math.Cos(zenith)/(math.Cos(lat)*math.Cos(declination)) - math.Tan(lat)*math.Tan(declination)
	return seconds(86400 / math.Pi * math.Acos(min(1, max(-1, cosH))))
}

// Noon is when the sun is highest at a longitude, after midnight UTC of the date.
func Noon(longitude Degrees, date time.Time) time.Duration {
	return seconds(43200-240*float64(longitude)) - EquationOfTime(noonUTC(date))
}

func noonUTC(date time.Time) time.Time {
	y, m, d := date.Date()
	return time.Date(y, m, d, 12, 0, 0, 0, time.UTC)
}
