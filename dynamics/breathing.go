package dynamics

import (
	"math"

	"halfwater/quantity"
)

// Breathing is oxygen in closed form while nothing but exchange and a steady demand goes on: a night, or
// hours without pump.
type Breathing struct {
	Saturation quantity.MgPerL
	Exchange   quantity.PerDay // kL A/V
	Demand     float64         // mg O2/L/d
}

// Rest is where oxygen comes to rest; it may be below zero, which says that it runs out.
func (b Breathing) Rest() quantity.MgPerL {
	return b.Saturation - quantity.MgPerL(b.Demand/float64(b.Exchange))
}

// After is the oxygen some days after it stood at start; no less than none.
func (b Breathing) After(start quantity.MgPerL, days float64) quantity.MgPerL {
	rest := b.Rest()
	return max(0, rest+(start-rest)*quantity.MgPerL(math.Exp(-float64(b.Exchange)*days)))
}

// Until is the days until oxygen falls from start to a line; an infinity when it never does.
func (b Breathing) Until(start, line quantity.MgPerL) float64 {
	rest := b.Rest()
	switch {
	case start <= line:
		return 0
	case rest >= line:
		return math.Inf(1)
	}
	return math.Log(float64((start-rest)/(line-rest))) / float64(b.Exchange)
}
