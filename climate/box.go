package climate

import (
	"fmt"
	"math"

	"halfwater/quantity"
)

// Box is a covered enclosure in a room: a water surface, the air over land and water, its lid.
type Box struct {
	Surface  quantity.SquareMetres
	Water    quantity.Celsius
	Activity Activity
	Volume   quantity.CubicMetres // of the air
	AirTemp  quantity.Celsius
	Room     Air
	Other    quantity.LitresPerDay // vapour from wet land, plants and mist
	Panes    quantity.SquareMetres // cold glass on which vapour may settle and run back; 0 leaves it out
}

// Balance is where the air of a box comes to rest.
type Balance struct {
	RH   quantity.Humidity
	Loss quantity.LitresPerDay // leaves by the lid: what has to be topped up
	Runs quantity.LitresPerDay // settles on the panes and runs back
}

// At gives the balance of the box with its air changed so often: what evaporates leaves by the lid
// or settles on the panes. A box that would pass 100 % stands at 100, and the rest runs back.
func (b Box) At(changes quantity.AirChanges) Balance {
	surplus := func(rh float64) float64 {
		air := Air{b.AirTemp, quantity.Humidity(rh)}
		return float64(b.source(air) - b.vented(changes, air) - b.settles(air))
	}
	lo, hi := 0.0, 100.0
	if surplus(hi) < 0 {
		for range 60 {
			if mid := (lo + hi) / 2; surplus(mid) > 0 {
				lo = mid
			} else {
				hi = mid
			}
		}
	}
	air := Air{b.AirTemp, quantity.Humidity(hi)}
	loss := b.vented(changes, air)
	return Balance{air.RH, loss, max(0, b.source(air)-loss)}
}

func (b Box) source(air Air) quantity.LitresPerDay {
	return Surface{Area: b.Surface, Water: b.Water, Air: air}.Evaporation(b.Activity) + b.Other
}

// vented is the vapour that leaves with the air, less what comes in from the room.
func (b Box) vented(changes quantity.AirChanges, air Air) quantity.LitresPerDay {
	return VapourOut(changes, b.Volume, air, b.Room)
}

// settles is the vapour that condenses on the panes, by the ratio of heat to vapour carried to them
// by air (Lewis).
func (b Box) settles(air Air) quantity.LitresPerDay {
	if b.Panes <= 0 {
		return 0
	}
	glass := GlassTemperature(b.AirTemp, b.Room.T)
	over := float64(air.Density() - Air{glass, 100}.Density()) // g/m3
	speed := constants.Value("glass-convective") / constants.Value("air-heat")
	return quantity.LitresPerDay(max(0, over) * speed * float64(b.Panes) * 86400 / 1000)
}

// VapourOut is the vapour that so many air changes an hour carry out of a volume, less what they
// bring in: the most that a box with this air can lose.
func VapourOut(changes quantity.AirChanges, volume quantity.CubicMetres, inside, room Air) quantity.LitresPerDay {
	return quantity.LitresPerDay(float64(changes) * float64(volume) * float64(inside.Density()-room.Density()) * 24 / 1000)
}

// MoreThanItCanLose is a loss that no change of air explains: a leak, a spill, a wrong surface.
type MoreThanItCanLose struct{ Asked, Most quantity.LitresPerDay }

func (e MoreThanItCanLose) Error() string {
	return fmt.Sprintf("a loss of %.2f L a day is more than the %.2f L that this water can give off: look for a leak, or check the water surface",
		e.Asked, e.Most)
}

// FitChanges gives the air changes at which the box loses what was topped up, or
// [MoreThanItCanLose]. A loss of zero or less gives no changes.
func (b Box) FitChanges(topUp quantity.LitresPerDay) (quantity.AirChanges, error) {
	if !(topUp > 0) {
		return 0, nil
	}
	const most = 1e4
	if limit := b.At(most).Loss; topUp >= limit {
		return 0, MoreThanItCanLose{topUp, limit}
	}
	lo, hi := math.Log(1e-4), math.Log(most)
	for range 60 {
		if mid := (lo + hi) / 2; b.At(quantity.AirChanges(math.Exp(mid))).Loss < topUp {
			lo = mid
		} else {
			hi = mid
		}
	}
	return quantity.AirChanges(math.Exp(hi)), nil
}
