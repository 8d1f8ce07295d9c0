package husbandry

import (
	"math"

	"halfwater/quantity"
)

// MassChange is the change of a body mass against its baseline (the median of eight weeks), as a
// share: below zero is a loss. A baseline of zero or less gives NaN.
func MassChange(baseline, now quantity.Grams) quantity.Share {
	if !(baseline > 0) {
		return quantity.Share(math.NaN())
	}
	return quantity.Share(now/baseline - 1)
}

// MassStanding is what a change of mass of a grown animal asks: watch from a loss of 5 %, act
// from 10 %, an emergency from 15 %. Leave out gravid animals and those that have just laid or
// shed. A young animal that loses at all over two weeks is at least watched. It says nothing of
// the cause: a vet does. Common practice, no source.
func MassStanding(change quantity.Share, young bool) Standing {
	loss := -float64(change)
	switch {
	case loss >= constants.Value("mass-loss-urgent"):
		return Standing{ActNow, true}
	case loss >= constants.Value("mass-loss-act"):
		return Standing{Tier: ActNow}
	case loss >= constants.Value("mass-loss-watch"), young && loss > 0:
		return Standing{Tier: Watch}
	}
	return Standing{}
}

// OddsOfLoss is the chance that the true loss passes a share of the baseline, given both weighings,
// the reading error of the scale (1 sd, g) and the noise of gut and water (1 sd, share).
func OddsOfLoss(baseline, now, scale quantity.Grams, gut, beyond quantity.Share) float64 {
	loss := -float64(MassChange(baseline, now))
	reading := math.Sqrt2 * float64(scale/baseline)
	sd := math.Hypot(reading, float64(gut))
	return 0.5 * math.Erfc((float64(beyond)-loss)/(sd*math.Sqrt2))
}
