package water

import (
	"math"

	"halfwater/quantity"
)

// SurfaceKind is how a water surface moves, which sets how fast it exchanges gas.
type SurfaceKind int

// The surfaces.
const (
	Film   SurfaceKind = iota // still, with a film or full of floating plants
	Still                     // still, clean
	Return                    // a return below the surface, slow
	Ripple                    // rippled by a spray bar
	Strong                    // strong spray, waterfall, airstone
)

var surfaceNames = [...]string{"kL film", "kL still", "kL return", "kL ripple", "kL strong"}

// KL is the gas-exchange velocity of oxygen through such a surface at a temperature, cm/h. The
// numbers are common practice and spread by a factor of 2 either way (see [Constants]); over
// lakes without wind 2.07 at 20 C was measured (Cole and Caraco 1998).
func (k SurfaceKind) KL(t quantity.Celsius) float64 {
	return rateTab.Value(surfaceNames[k]) * math.Pow(rateTab.Value("kL per degree"), float64(t)-20)
}

// KLCO2 is the gas-exchange velocity of CO2, cm/h.
func (k SurfaceKind) KLCO2(t quantity.Celsius) float64 {
	return k.KL(t) * rateTab.Value("kL CO2 over O2")
}

// Air is what a water breathes with: the surface, how it moves, and the CO2 that the water would
// come to rest with. Over a stocked tank that is more than the room's, for the animals' CO2 keeps
// coming: use the pressure inferred from its usual pH and KH.
type Air struct {
	PCO2    quantity.Atm
	KLCO2   float64 // cm/h, see [SurfaceKind.KLCO2]
	Surface quantity.SquareMetres
}

// Breath is a mixed water at three times.
type Breath struct {
	AtOnce  Speciation // closed, just mixed
	Tonight Speciation // after the hours asked for
	Settled Speciation // at rest with the air
}

// Breathe lets a mixed water exchange CO2 with the air for some hours, nothing else changing:
// dDIC/dt = kL A/V (CO2 at rest - CO2), fourth-order steps of at most a twentieth of the exchange
// time, closed speciation at each. Errors: [OutOfSpan] and those of [Closed] and [Open].
func (m Mixed) Breathe(air Air, hours float64) (Breath, error) {
	var out Breath
	switch {
	case !(hours >= 0 && hours <= 1e5):
		return out, OutOfSpan{"hours", hours, 0, 1e5, "h"}
	case !(air.KLCO2 >= 0 && air.KLCO2 <= 1000):
		return out, OutOfSpan{"gas-exchange velocity", air.KLCO2, 0, 1000, "cm/h"}
	case !(air.Surface >= 0 && air.Surface <= 1e5):
		return out, OutOfSpan{"surface", float64(air.Surface), 0, 1e5, "m2"}
	case !(m.Litres > 0):
		return out, NothingToMix{0}
	}
	var err error
	if out.AtOnce, err = m.Closed(); err != nil {
		return out, err
	}
	if out.Settled, err = m.Open(air.PCO2); err != nil {
		return out, err
	}
	rest := out.Settled.Species.CO2
	const cmM2PerLitre = 10                                                               // 1 cm of 1 m2 is 10 L
	rate := Molality(air.KLCO2 * float64(air.Surface) * cmM2PerLitre / float64(m.Litres)) // 1/h
	s := out.AtOnce
	slope := func(dic Molality) Molality {
		if err == nil {
			s, err = Closed(m.Composition, max(dic, 0))
		}
		return rate * (rest - s.Species.CO2)
	}
	// After fifty exchange times nothing moves any more, even in water whose bicarbonate must
	// follow ten times slower than its CO2: the rest is the settled water.
	const steps, longest = 20, 2000
	n := math.Ceil(hours * float64(rate) * steps)
	if n > longest*steps {
		out.Tonight = out.Settled
		return out, nil
	}
	dic := m.DIC
	if n > 0 {
		h := Molality(hours / n)
		for range int(n) {
			k1 := slope(dic)
			k2 := slope(dic + h/2*k1)
			k3 := slope(dic + h/2*k2)
			k4 := slope(dic + h*k3)
			dic += h / 6 * (k1 + 2*k2 + 2*k3 + k4)
		}
	}
	if err != nil {
		return out, err
	}
	out.Tonight, err = Closed(m.Composition, dic)
	return out, err
}
