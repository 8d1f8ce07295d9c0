package climate

import (
	"math"
	"time"

	"halfwater/quantity"
)

// Bath is held water that loses heat to the room: one well mixed mass, its walls and evaporation in
// one conductance.
type Bath struct {
	Held quantity.HeldLitres
	Loss quantity.WattsPerKelvin
	Room quantity.Celsius
}

// LossOf is the conductance of a case by its wet outer area: the 5 % and 95 % quantiles. Use
// [LossFrom] as soon as the heater's hours are known.
func LossOf(wet quantity.SquareMetres) quantity.Range[quantity.WattsPerKelvin] {
	u := spanOf[quantity.WattsPerKelvin]("loss-u")
	return quantity.Range[quantity.WattsPerKelvin]{Lo: u.Lo * quantity.WattsPerKelvin(wet), Hi: u.Hi * quantity.WattsPerKelvin(wet)}
}

// LossFrom is the conductance by a heater that holds the water: its power, the share of time it is
// on, and how far the water stands over the room. NaN unless the water is the warmer.
func LossFrom(power quantity.Watts, on quantity.Share, over quantity.CelsiusDiff) quantity.WattsPerKelvin {
	if !(over > 0) {
		return quantity.WattsPerKelvin(math.NaN())
	}
	return quantity.WattsPerKelvin(float64(power) * float64(on) / float64(over))
}

// EndPoint is the temperature at which the bath comes to rest with so much heat put in.
func (b Bath) EndPoint(power quantity.Watts) quantity.Celsius {
	return b.Room.Add(quantity.CelsiusDiff(float64(power) / float64(b.Loss)))
}

// TimeConstant is the time in which 63 % of a gap is closed.
func (b Bath) TimeConstant() time.Duration {
	return seconds(constants.Value("water-heat") * float64(b.Held) / float64(b.Loss))
}

// After is the temperature a time after it stood at start, with so much heat put in.
func (b Bath) After(start quantity.Celsius, power quantity.Watts, after time.Duration) quantity.Celsius {
	end := b.EndPoint(power)
	left := math.Exp(-float64(after) / float64(b.TimeConstant()))
	return end.Add(quantity.CelsiusDiff(float64(start.Sub(end)) * left))
}

// Until is the time until the bath reaches a temperature; ok is false when it never does. It is
// zero when it has.
func (b Bath) Until(start, target quantity.Celsius, power quantity.Watts) (after time.Duration, ok bool) {
	if start == target {
		return 0, true
	}
	end := b.EndPoint(power)
	ratio := float64(start.Sub(end)) / float64(target.Sub(end))
	if !(ratio >= 1) || math.IsInf(ratio, 0) {
		return 0, false
	}
	return time.Duration(float64(b.TimeConstant()) * math.Log(ratio)), true
}

// Rate is how fast the temperature moves now, in K an hour.
func (b Bath) Rate(now quantity.Celsius, power quantity.Watts) quantity.CelsiusDiff {
	net := float64(power) - float64(b.Loss)*float64(now.Sub(b.Room))
	return quantity.CelsiusDiff(net * 3600 / (constants.Value("water-heat") * float64(b.Held)))
}

// Reheat is the time in which a power warms water by a difference with no loss: the least it takes.
func Reheat(held quantity.HeldLitres, by quantity.CelsiusDiff, power quantity.Watts) time.Duration {
	return seconds(constants.Value("water-heat") * float64(held) * float64(by) / float64(power))
}

func seconds(s float64) time.Duration { return time.Duration(s * float64(time.Second)) }
