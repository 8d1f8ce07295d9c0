package dynamics

import (
	"math"

	"halfwater/quantity"
)

// PHAt is the pH of this water once it has come to rest with another pressure of CO2, everything else as it
// is: a glass of it that air has run through. Good to what [State.PH] is.
func (s *State) PHAt(pressure quantity.Atm) quantity.PH {
	at := *s
	at.PCO2 = float64(pressure)
	return at.PH()
}

// RoomCO2 is the pressure of CO2 in the air of a room in use: median and standard deviation of its
// logarithm (constants.txt: judgement; over people, it follows how the room is aired).
func RoomCO2() (median quantity.Atm, lnSD float64) {
	for _, c := range table.List {
		if c.Name == "room co2" {
			lo, hi := spanOf(c)
			return quantity.Atm(c.Value), math.Log(hi/lo) / span95
		}
	}
	panic("dynamics: no room co2")
}
