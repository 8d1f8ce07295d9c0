package husbandry

import (
	"math"

	"halfwater/quantity"
)

// Activity is what an animal is doing while it breathes.
type Activity string

// The activities and their factor on the uptake at rest: 1, 1.5, 2.
const (
	AtRest       Activity = "rest"
	Routine      Activity = "routine"
	AfterFeeding Activity = "after feeding"
)

func (a Activity) factor() float64 {
	switch a {
	case Routine:
		return constants.Value("oxygen-routine")
	case AfterFeeding:
		return constants.Value("oxygen-after-feeding")
	}
	return 1
}

// RestingOxygen is the oxygen that one fish of this mass takes up at rest: 0.42 mmol/h for 50 g at
// 30 C, mass to the power 0.80, Q10 1.83. The middle of a wide scatter between species; see
// [OxygenDemand] for the doubt. 0 to 30 C; a mass of zero or less takes none.
//
// Source: Clarke and Johnston 1999, J. Anim. Ecol. 68:893-905, from memory.
func RestingOxygen(mass quantity.Grams, t quantity.Celsius) quantity.MgOxygenPerHour {
	if !(mass > 0) {
		return 0
	}
	at := constants.Value("oxygen-rest-50g-30c") * constants.Value("oxygen-mg-per-mmol")
	scale := math.Pow(float64(mass)/50, constants.Value("oxygen-mass-power"))
	warm := math.Pow(constants.Value("oxygen-q10"), float64(t-30)/10)
	return quantity.MgOxygenPerHour(at * scale * warm)
}

// OxygenDemand is the oxygen that count animals of one kind, each of this mass, take from the
// water. Who breathes air takes none, a plant none by day (see [PlantOxygen]). Larvae, shrimp,
// crabs and snails are taken as fish of their mass, with the same doubt: judgement.
func OxygenDemand(k Kept, each quantity.Grams, count int, t quantity.Celsius, doing Activity) quantity.Band[quantity.MgOxygenPerHour] {
	if !k.BreathesWater() || count <= 0 {
		return quantity.Band[quantity.MgOxygenPerHour]{}
	}
	middle := float64(RestingOxygen(each, t)) * doing.factor() * float64(count)
	return times[quantity.MgOxygenPerHour](bandOf[quantity.Share]("oxygen-scatter"), middle)
}

// MicrobeOxygen is the oxygen that mulm and filter take up, by held water.
func MicrobeOxygen(held quantity.HeldLitres) quantity.Band[quantity.MgOxygenPerHour] {
	return times[quantity.MgOxygenPerHour](bandOf[quantity.MgOxygenPerHour]("oxygen-microbes"), max(0, float64(held))/100)
}

// PlantOxygen is the oxygen that plants under water take up in the dark, by dry mass.
func PlantOxygen(dry quantity.Grams) quantity.Band[quantity.MgOxygenPerHour] {
	return times[quantity.MgOxygenPerHour](bandOf[quantity.MgOxygenPerHour]("oxygen-plants-dark"), max(0, float64(dry)))
}
