package change

import (
	"time"

	"halfwater/quantity"
)

// heatCapacity of water, kJ/(L K), at 25 C: 4.18 kJ/(kg K) and 0.997 kg/L; the usual 4.186 of
// handbooks (from memory) is that of 1 kg at 15 C. The difference is under 1 %.
const heatCapacity = 4.186

// Warm is an amount of water at a temperature.
type Warm struct {
	Litres      quantity.Litres
	Temperature quantity.Celsius
}

// MixTemperature is the temperature of waters poured together: sum V T / sum V.
func MixTemperature(waters ...Warm) quantity.Celsius {
	var v, vt float64
	for _, w := range waters {
		v += float64(w.Litres)
		vt += float64(w.Litres) * float64(w.Temperature)
	}
	return quantity.Celsius(vt / v)
}

// NewWaterRange is how warm the new water may be so that a change of a share moves the enclosure
// by no more than the limit.
func NewWaterRange(enclosure quantity.Celsius, limit quantity.CelsiusDiff, share quantity.Share) quantity.Range[quantity.Celsius] {
	d := quantity.CelsiusDiff(float64(limit) / float64(share))
	return quantity.Range[quantity.Celsius]{Lo: enclosure.Add(-d), Hi: enclosure.Add(d)}
}

// HeatingTime is how long a power warms litres of water by a difference, without losses: m c dT/P.
func HeatingTime(l quantity.Litres, d quantity.CelsiusDiff, p quantity.Watts) time.Duration {
	seconds := heatCapacity * 1000 * float64(l) * float64(d) / float64(p)
	return time.Duration(seconds * float64(time.Second))
}
