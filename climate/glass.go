package climate

import "halfwater/quantity"

// GlassTemperature is that of the inner face of a single pane between air inside and the room: it
// lies about 0.7 of the way to the room.
func GlassTemperature(inside, room quantity.Celsius) quantity.Celsius {
	share := constants.Value("glass-u") / constants.Value("glass-inside")
	return inside.Add(quantity.CelsiusDiff(share * float64(room.Sub(inside))))
}

// FogsAt is the humidity inside over which a single pane fogs. It passes 100 when the room is
// warmer than the box.
func FogsAt(inside, room quantity.Celsius) quantity.Humidity {
	return quantity.Humidity(100 * Saturation(GlassTemperature(inside, room)) / Saturation(inside))
}

// Misted is the water that nozzles bring in in one session.
func Misted(nozzles int, perHour quantity.Litres, seconds float64) quantity.Litres {
	return quantity.Litres(float64(nozzles) * float64(perHour) * seconds / 3600)
}

// NozzleRate is the 5 % to 95 % span of what one nozzle gives in an hour. Catch it in a glass and
// you know.
func NozzleRate() quantity.Range[quantity.Litres] { return spanOf[quantity.Litres]("nozzle") }

// MistDrains is the share of mist that stays on surfaces and drains to the water: it counts as
// top-up. Common practice.
func MistDrains() quantity.Range[quantity.Share] {
	return quantity.Range[quantity.Share]{
		Lo: quantity.Share(constants.Value("mist-drains-least")), Hi: quantity.Share(constants.Value("mist-drains-most")),
	}
}
