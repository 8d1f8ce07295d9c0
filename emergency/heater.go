package emergency

import (
	"time"

	"halfwater/enclosure"
	"halfwater/quantity"
)

// HeaterFault is where the water goes with a heater that does nothing, or never stops.
type HeaterFault struct {
	Watts  quantity.Watts // of all heaters together; 0 when not known
	Stuck  Curve
	Failed Curve
	// Rewarm is the greatest rate by heater and room afterwards, in an hour; PourStep the greatest step
	// by poured water in a day.
	Rewarm, PourStep quantity.CelsiusDiff
}

// Codes of the curves.
const (
	CurveNoPower = "emergency.curve-no-power"
	CurveStuck   = "emergency.curve-stuck"
	CurveFailed  = "emergency.curve-failed"
)

// heater works out both faults.
func (n Now) heater(b box) (HeaterFault, []Missing) {
	var missing []Missing
	watts := heaterPower(n.Facts.Fittings)
	power := exactly(float64(watts))
	if watts == 0 {
		power = spanOf("heater-per-litre").times(b.held.mid)
		missing = append(missing, Missing{Code: NoHeater})
	}
	return HeaterFault{
		Watts:  watts,
		Stuck:  n.curve(CurveStuck, b, power, b.steady),
		Failed: n.curve(CurveFailed, b, exactly(0), b.steady),
		Rewarm: quantity.CelsiusDiff(constants.Value("rewarm")), PourStep: n.ranges().Steps.Temperature,
	}, missing
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
