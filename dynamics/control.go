package dynamics

import "math"

// step takes one step of at most left, as long as its error allows, and gives its length. One whose second pass corrects
// the first by no more than the pace's Agree stands. Any other is taken again as two halves: a third of what those lie apart
// from it is what they miss, and is taken off; where that is more than the pace's Within the step is taken again shorter.
// The state keeps the stride, so that a run that goes on from it steps alike.
func (x *scene) step(left float64) (h float64) {
	pace, stride := &x.pace, x.stride
	if stride == 0 {
		stride = pace.first()
	}
	was, mature, grown := x.State, x.mature, x.grown
	for {
		h = left / max(1, math.Ceil(left/stride-1e-9))
		if x.sweep(h) <= pace.Agree {
			x.stride = min(max(stride, 2*h), pace.Step)
			return h
		}
		once, onceMature, onceGrown := x.State, x.mature, x.grown
		x.State, x.mature, x.grown = was, mature, grown
		x.sweep(h / 2)
		x.sweep(h / 2)
		miss := x.apart(&once, &onceMature) / 3
		by := 0.9 * math.Cbrt(pace.Within/(miss+1e-12)) // order three locally
		if miss > pace.Within && stride > pace.Least {
			x.State, x.mature, x.grown = was, mature, grown
			stride = max(h*max(by, 0.2), pace.Least)
			continue
		}
		x.extrapolate(&once, &onceMature, &onceGrown)
		if by < 1 {
			stride = max(h*by, pace.Least)
		} else if by >= 1 {
			stride = min(max(stride, h*min(by, 4)), pace.Step)
		}
		x.stride = stride
		return h
	}
}

// first is the step with which to begin, and to go on after an event.
func (p *Pace) first() float64 {
	return max(firstStride*math.Cbrt(p.Within/Careful.Within), p.Least)
}

// apart is how far the state lies from another, in halves of the gap between printed steps of a usual kit. Amounts that
// set how fast nitrification goes or grows - its strengths, oxygen and bicarbonate where they are scarce - count by
// what they move its rate, for that is what lasts.
func (x *scene) apart(o *State, mature *Nitrifiers) float64 {
	s, v, m := &x.State, x.Volume, &x.mature
	off := func(a, b, half float64) float64 { return math.Abs(a-b) / half }
	pool := func(a, b, half float64) float64 { return off(a, b, max(half*v, a/16)) }
	bicarbonate := x.carbonate.bicarbonate(x.h)
	return max(
		pool(s.TAN, o.TAN, halfTAN), pool(s.NO2, o.NO2, halfNO2), pool(s.NO3, o.NO3, halfNO3), pool(s.PO4, o.PO4, halfPO4),
		off(s.Oxygen, o.Oxygen, v*scarceOxygen(s.Oxygen/v)),
		off(s.Alk, o.Alk, v*min(halfKH, (bicarbonate+1e3*x.h)*min(halfPH, rateMoves/monod(x.Params[BicarbonateHalf], bicarbonate)))),
		off(s.PCO2, o.PCO2, halfPH*s.PCO2),
		off(m.Ammonia+m.Frugal, mature.Ammonia+mature.Frugal, rateMoves*(m.Ammonia+m.Frugal)),
		off(m.Nitrite, mature.Nitrite, rateMoves*m.Nitrite),
	)
}

// quickest is what a step may move fast, as a pass of a sweep has it: amounts, and the factors by which nitrifiers grow.
type quickest struct {
	tan, no2, alk, oxygen float64
	grown                 Nitrifiers
}

// off is how far another pass lies off, counted as apart counts; inv is one over the volume, buffer what pH follows, meq/L.
func (q *quickest) off(o *quickest, inv, buffer float64) float64 {
	return max(
		math.Abs(o.tan-q.tan)*inv/halfTAN, math.Abs(o.no2-q.no2)*inv/halfNO2, math.Abs(o.oxygen-q.oxygen)*inv/scarceOxygen(o.oxygen*inv),
		math.Abs(o.alk-q.alk)*inv/min(halfKH, halfPH*buffer),
		math.Abs(o.grown.Ammonia-q.grown.Ammonia)/rateMoves, math.Abs(o.grown.Nitrite-q.grown.Nitrite)/rateMoves,
	)
}

// scarceOxygen is by how much oxygen may move, mg/L, before a kit shows it or nitrification goes otherwise.
func scarceOxygen(mgL float64) float64 {
	return min(halfOxygen, rateMoves*mgL/monod(oxygenHalfNitrite, mgL)+1e-4)
}

const (
	firstStride = 0.05  // days, of the careful pace
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
