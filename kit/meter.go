package kit

import (
	"math"
	"time"

	"halfwater/quantity"
)

// meter is the value shown, plus and minus what the meter may be wrong by.
func (k Kit) meter(s Shown, at time.Time) (class, error) {
	if err := k.possible(s.A); err != nil {
		return class{}, err
	}
	lo, hi := s.A, s.A
	if s.Said == Between {
		if err := k.possible(s.B); err != nil {
			return class{}, err
		}
		hi = s.B
	}
	digit := max(k.Digit, s.Digit)
	half := func(x float64) float64 { return k.accuracy(x) + digit/2 + k.drift(x, at) }
	c := closed(lo-half(lo), hi+half(hi))
	switch s.Said {
	case Under:
		c.openBelow = true
		c.likelyLo = min(0, c.hi)
		if !geometric(k.Of) {
			c.likelyLo = c.hi - 4*half(lo)
		}
	case Over:
		c.openAbove = true
		c.likelyHi = max(1.5*lo, c.lo)
		if !geometric(k.Of) {
			c.likelyHi = c.lo + 4*half(lo)
		}
	}
	c.middle = (c.likelyLo + c.likelyHi) / 2
	if s.Said == One {
		c.middle = s.A
	}
	c.repeat = math.Hypot(digit/math.Sqrt(12), k.repeat(c.middle))
	return c, nil
}

// accuracy is the half-width that the meter claims at x, in its unit; what is usual for such a meter
// when it claims nothing. A pH pen is never believed beyond what calibrated pens do.
func (k Kit) accuracy(x float64) float64 {
	stated := max(k.Accuracy, k.AccuracyShare*math.Abs(x))
	if k.Of == quantity.OfPH {
		return max(stated, table.Value("ph meter: sd"))
	}
	if stated > 0 {
		return stated
	}
	return k.usual(x)
}

func (k Kit) usual(x float64) float64 {
	per := math.Abs(canonicalOf(k.Of, k.Unit, k.Basis).slope)
	switch k.Of {
	case quantity.OfPH:
		return table.Value("ph meter: sd")
	case quantity.OfEC, quantity.OfTDS:
		return table.Value("ec meter: sd ln") * math.Abs(x)
	case quantity.OfWaterTemp:
		return table.Value("water temp meter: sd") / per
	case quantity.OfAirTemp:
		return table.Value("air temp meter: sd") / per
	case quantity.OfBaskingTemp:
		return table.Value("basking temp meter: sd") / per
	case quantity.OfHumidity:
		return table.Value("humidity meter: sd") / per
	case quantity.OfUVI:
		return table.Value("uv index meter: sd ln") * math.Abs(x)
	case quantity.OfLevel:
		return table.Value("level meter: sd") / per
	}
	return table.Value("meter: sd ln") * math.Abs(x)
}

// repeat is the scatter of the same meter in the same water within the hour.
func (k Kit) repeat(x float64) float64 {
	if k.Of == quantity.OfEC || k.Of == quantity.OfTDS {
		return table.Value("ec meter: repeat ln") * math.Abs(x)
	}
	return k.usual(x) / 4
}

// drift is what a pen that shows x may have moved beyond its accuracy since its last calibration.
func (k Kit) drift(x float64, at time.Time) float64 {
	switch k.Of {
	case quantity.OfPH:
		return k.phSD(at) - table.Value("ph meter: sd")
	case quantity.OfEC, quantity.OfTDS:
		return k.driftLn(at) * math.Abs(x)
	}
	return 0
}

// driftLn is what a conductivity pen may have moved, as a share.
func (k Kit) driftLn(at time.Time) float64 {
	worst := table.Value("ec meter: drift worst")
	switch {
	case at.IsZero():
		return 0
	case k.Calibrated.IsZero():
		return worst
	}
	late := k.calibrationAge(at) - table.Value("meter: calibration holds")
	return min(max(late, 0)*table.Value("ec meter: drift ln"), worst)
}

// phSD is the doubt of a pH pen: 0.1 within 30 days of calibration, then 0.25 and 0.01 more each
// day up to 0.5.
func (k Kit) phSD(at time.Time) float64 {
	worst := table.Value("ph meter: sd worst")
	if k.Calibrated.IsZero() {
		return worst
	}
	late := k.calibrationAge(at) - table.Value("meter: calibration holds")
	if late <= 0 {
		return table.Value("ph meter: sd")
	}
	return min(table.Value("ph meter: sd stale")+table.Value("ph meter: drift")*late, worst)
}

func (k Kit) calibrationAge(at time.Time) float64 { return at.Sub(k.Calibrated).Hours() / 24 }

// drifts reports whether a meter of this measurand needs calibrating by the keeper.
func drifts(of quantity.Measurand) bool {
	switch of {
	case quantity.OfPH, quantity.OfEC, quantity.OfTDS, quantity.OfOxygen:
		return true
	}
	return false
}

// outOfDate reports whether a lot of reagents or strips is past its date at a moment: the day after
// its use-by date, or a year after it was opened.
func (k Kit) outOfDate(at time.Time) bool {
	if at.IsZero() {
		return false
	}
	until := k.GoodUntil()
	return !until.IsZero() && !at.Before(until)
}

// GoodUntil is the moment from which a lot is past its date: the end of its use-by date, or a year after
// it was opened, whichever is first. The zero time when neither is known, and for a meter.
func (k Kit) GoodUntil() time.Time {
	if k.Form == Meter {
		return time.Time{}
	}
	var until time.Time
	if !k.UseBy.IsZero() {
		until = k.UseBy.AddDate(0, 0, 1)
	}
	if !k.Opened.IsZero() {
		shelf := time.Duration(table.Value("lot: shelf after opening") * 24 * float64(time.Hour))
		if end := k.Opened.Add(shelf); until.IsZero() || end.Before(until) {
			until = end
		}
	}
	return until
}

// overdue is how many times the doubt of a lot just past its date has come to: as much in the first year,
// twice in the second, and so on to a most. 0 in date.
func (k Kit) overdue(at time.Time) float64 {
	if !k.outOfDate(at) {
		return 0
	}
	years := at.Sub(k.GoodUntil()).Hours() / (24 * 365.25)
	return min(max(years, 1), table.Value("lot: out of date grows"))
}

func (k Kit) notes(at time.Time) []Note {
	var out []Note
	if k.Form == Strip {
		out = append(out, CoarseStrip)
	}
	if k.outOfDate(at) {
		out = append(out, OutOfDate)
	}
	if k.Form == Meter && drifts(k.Of) && !at.IsZero() {
		switch {
		case k.Calibrated.IsZero():
			out = append(out, NeverCalibrated)
		case k.calibrationAge(at) > table.Value("meter: calibration holds"):
			out = append(out, CalibrationOld)
		}
	}
	return out
}

// aged widens a canonical interval by what a lot past its date may be wrong.
func (k Kit) aged(at time.Time, lo, hi float64) (float64, float64) {
	times := k.overdue(at)
	if geometric(k.Of) {
		f := 1 + times*table.Value("lot: out of date ln")
		return lo / f, hi * f
	}
	if k.Of == quantity.OfPH {
		d := times * table.Value("lot: out of date pH")
		return lo - d, hi + d
	}
	return lo, hi
}
