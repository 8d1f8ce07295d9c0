package dynamics

import "math"

// controlled goes through a span by extrapolated steps as long as the error allows: a step that misses more than the
// pace's Within is taken again shorter, and the next one follows from what the last one missed (order three locally).
// The state keeps the stride, so that a run that goes on from it steps alike.
func (x *scene) controlled(span float64) {
	within := x.pace.Within
	for left := span; left > 0; {
		if x.stride == 0 {
			x.stride = firstStride
		}
		n := max(1, math.Ceil(left/x.stride-1e-9))
		h := left / n
		was, mature, grown := x.State, x.mature, x.grown
		miss := x.extrapolate(h) / 3
		by := 0.9 * math.Cbrt(within/(miss+1e-12))
		if miss > within && h > leastStride {
			x.State, x.mature, x.grown = was, mature, grown
			x.stride = h * max(by, 0.2)
			continue
		}
		if by < 1 {
			x.stride = h * by
		} else {
			x.stride = min(max(x.stride, h*min(by, 4)), x.pace.Step)
		}
		x.Day += h
		left -= h
		if n <= 1 {
			return
		}
	}
}

// apart is how far the state lies from another, in halves of the gap between printed steps of a usual kit. Amounts that
// set how fast nitrification goes or grows - its strengths, oxygen and bicarbonate where they are scarce - count by
// what they move its rate, for that is what lasts.
func (x *scene) apart(o *State, mature *Nitrifiers) float64 {
	s, v, m := &x.State, x.Volume, &x.mature
	off := func(a, b, half float64) float64 { return math.Abs(a-b) / half }
	pool := func(a, b, half float64) float64 { return off(a, b, max(half*v, a/16)) }
	oxygen := s.Oxygen / v
	bicarbonate := x.carbonate.bicarbonate(x.h)
	return max(
		pool(s.TAN, o.TAN, halfTAN), pool(s.NO2, o.NO2, halfNO2), pool(s.NO3, o.NO3, halfNO3), pool(s.PO4, o.PO4, halfPO4),
		off(s.Oxygen, o.Oxygen, v*min(halfOxygen, rateMoves*oxygen/monod(oxygenHalfNitrite, oxygen)+1e-4)),
		off(s.Alk, o.Alk, v*min(halfKH, (bicarbonate+1e3*x.h)*min(halfPH, rateMoves/monod(x.Params[BicarbonateHalf], bicarbonate)))),
		off(s.PCO2, o.PCO2, halfPH*s.PCO2),
		off(m.Ammonia+m.Frugal, mature.Ammonia+mature.Frugal, rateMoves*(m.Ammonia+m.Frugal)),
		off(m.Nitrite, mature.Nitrite, rateMoves*m.Nitrite),
	)
}

const (
	firstStride = 0.05 // days, at the start and after an event
	leastStride = 1e-4
	rateMoves   = 0.005 // a share of the rate of nitrification that counts as half a kit step
)

// Half the gap between the first printed steps of usual kits (common practice, no source): cards of 0.25 mg/L of the ion,
// of nitrate 5, of phosphate 0.25; drops of a degree and of 1 mg O2/L; of pH a step of 0.2.
const (
	halfTAN    = 0.097           // mg N/L
	halfNO2    = 0.038           // mg N/L
	halfNO3    = 0.56            // mg N/L
	halfPO4    = 0.04            // mg P/L
	halfOxygen = 0.5             // mg O2/L
	halfKH     = 0.178           // meq/L
	halfPH     = 0.1 * math.Ln10 // as a share of H+ or of CO2
)
