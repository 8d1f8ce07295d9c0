package emergency

import (
	"slices"
	"time"

	"halfwater/enclosure"
	"halfwater/quantity"
)

// HeaterFault is where the water goes with a heater that does nothing, or never stops.
type HeaterFault struct {
	Code   string         // HeaterListed, HeaterUnlisted, HeaterNone
	Watts  quantity.Watts // of all heaters together; 0 when not known
	Stuck  Curve          // nothing with HeaterNone
	Failed Curve
	// Rewarm is the greatest rate by heater and room afterwards, in an hour; PourStep the greatest step
	// by poured water in a day.
	Rewarm, PourStep quantity.CelsiusDiff
}

// Codes of the heater: one is written down; nothing at all is written down; other things are, but no
// heater, and then there is nothing to compute.
const (
	HeaterListed   = "emergency.heater-listed"
	HeaterUnlisted = "emergency.heater-unlisted"
	HeaterNone     = "emergency.heater-none"
)

// Codes of the curves.
const (
	CurveNoPower = "emergency.curve-no-power"
	CurveStuck   = "emergency.curve-stuck"
	CurveFailed  = "emergency.curve-failed"
)

// heater works out both faults.
func (n Now) heater(b box) (HeaterFault, []Missing) {
	out := HeaterFault{
		Code:   heaterCode(n.Facts),
		Rewarm: quantity.CelsiusDiff(constants.Value("rewarm")), PourStep: n.ranges().Steps.Temperature,
	}
	if out.Code == HeaterNone {
		return out, nil
	}
	var missing []Missing
	watts := heaterPower(n.Facts.Fittings)
	power := exactly(float64(watts))
	if watts == 0 {
		power = spanOf("heater-per-litre").times(b.held.mid)
		missing = append(missing, Missing{Code: NoHeater})
	}
	out.Watts = watts
	out.Stuck = n.curve(CurveStuck, b, power, b.steady)
	out.Failed = n.curve(CurveFailed, b, exactly(0), b.steady)
	return out, missing
}

func heaterCode(f enclosure.Facts) string {
	if slices.ContainsFunc(f.Fittings, func(f enclosure.Fitting) bool { return f.What == enclosure.Heater }) {
		return HeaterListed
	}
	if f.Basin == nil && len(f.Fittings)+len(f.Stock)+len(f.Sources) == 0 {
		return HeaterUnlisted
	}
	return HeaterNone
}

func heaterPower(fittings []enclosure.Fitting) quantity.Watts {
	var sum quantity.Watts
	for _, f := range fittings {
		if f.What == enclosure.Heater && f.Power > 0 && f.Power < 1e5 {
			sum += f.Power
		}
	}
	return sum
}

func duration(h Hours) time.Duration { return time.Duration(float64(h) * float64(time.Hour)) }

// StuckOn is what to do with a heater that never stops.
func StuckOn() []Act { return actsOf("heater stuck") }

// Failed is what to do with a heater that does nothing.
func Failed() []Act { return actsOf("heater failed") }
