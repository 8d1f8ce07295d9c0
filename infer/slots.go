package infer

import "halfwater/quantity"

// The unknowns, in the order of [gauss]. Concentrations are per litre of the water held at the full
// mark, so that evaporation does not move them; a reading sees them by the factor of what is missing.
const (
	nitrate = iota // mg N/L
	kh             // dKH
	gh             // dGH
	ions           // conductivity as if it mixed by litres, see strength: uS/cm
	chloride
	ph                             // seen as moving with log10 of KH at the enclosure's own CO2
	warmth                         // C
	rise                           // of nitrate now, mg N/L per day: made less taken up
	fall                           // of KH now, dKH per day
	harden                         // of GH now, dGH per day: stone, soil, calcium in food
	vapour                         // evaporation, L/d
	held                           // logarithm of the held water at the full mark over its median
	sources                        // first of the doubts of source waters
	lots    = sources + manyDoubts // first of the biases of lots, bottles and pens
)

// manyDoubts is how many doubts of source waters are carried: one for all that a source holds, and
// another for each of its ions. Where they run out a doubt is counted anew at each pour, which is a
// little too sure.
const manyDoubts = 18

// levels are the slots that hold a quantity of the water.
const levels = warmth + 1

// slotOf is the slot of a measurand that is carried by the balance.
func slotOf(m quantity.Measurand) (int, bool) {
	switch m {
	case quantity.OfNO3:
		return nitrate, true
	case quantity.OfKH:
		return kh, true
	case quantity.OfGH:
		return gh, true
	case quantity.OfEC, quantity.OfTDS:
		return ions, true
	case quantity.OfChloride:
		return chloride, true
	case quantity.OfPH:
		return ph, true
	case quantity.OfWaterTemp:
		return warmth, true
	}
	return 0, false
}

// measurandOf is the measurand whose readings a slot rests on.
var measurandOf = [levels]quantity.Measurand{
	quantity.OfNO3, quantity.OfKH, quantity.OfGH, quantity.OfEC, quantity.OfChloride, quantity.OfPH, quantity.OfWaterTemp,
}

// dissolved reports whether a slot is a concentration, which mixes by litres.
func dissolved(slot int) bool { return slot <= chloride }
