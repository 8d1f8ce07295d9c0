package enclosure

import (
	"fmt"
	"math"
	"time"

	"halfwater/quantity"
)

// TimedLitre is some litres of an RO unit by the watch.
type TimedLitre struct {
	Litres  quantity.Litres
	Seconds float64
	Temp    quantity.Celsius // of the water that runs in; 0 when not noted
	Reject  quantity.Litres  // in the same time; 0 when not measured
}

// Production is what an RO unit makes with water of one temperature.
type Production struct {
	Rate        quantity.Band[quantity.LitresPerDay]
	RejectRatio float64 // litres of reject per litre made
	Learnt      bool    // from timed litres, not from the label
	Missing     []string
}

// ROUnrated says that neither a rating nor a timed litre tells what the unit makes.
type ROUnrated struct{ Fitting string }

func (e ROUnrated) Error() string {
	return fmt.Sprintf("fitting %q: what it makes is not known; give the litres a day of its label with temperature and pressure, or time one litre", e.Fitting)
}

// NotAnROUnit says that a fitting makes no water.
type NotAnROUnit struct{ Fitting, What string }

func (e NotAnROUnit) Error() string {
	return fmt.Sprintf("fitting %q is a %s: only an RO unit makes water", e.Fitting, e.What)
}

// Production gives what an RO unit makes from water of a temperature: the rating of its label times
// the share of the rated pressure times exp(0.03 (T - rated)) (3 % a degree, common practice; use
// 5 to 30 C), or, with timed litres, those brought to the temperature by the same rule. Membranes are
// sold within 15 % of their label; without the pressure the band is wider, with timed litres it is
// 5 % and narrower with several.
func (t Fitting) Production(water quantity.Celsius, timed ...TimedLitre) (Production, error) {
	if t.What != ROUnit {
		return Production{}, NotAnROUnit{t.Name, t.What}
	}
	p := Production{RejectRatio: t.RejectRatio}
	warm := func(at quantity.Celsius) float64 { return table.Value("ro per degree") * float64(at) }
	var lnRates, rejects, made float64
	n := 0
	for _, l := range timed {
		if !(l.Litres > 0 && l.Seconds > 0) {
			continue
		}
		at := l.Temp
		if at == 0 {
			at = water
		}
		lnRates += math.Log(float64(l.Litres)/l.Seconds*86400) + warm(water) - warm(at)
		n++
		if l.Reject > 0 {
			rejects, made = rejects+float64(l.Reject), made+float64(l.Litres)
		}
	}
	if made > 0 {
		p.RejectRatio = rejects / made
	}
	if p.RejectRatio == 0 {
		p.RejectRatio = table.Value("ro reject")
		p.Missing = append(p.Missing, "enclosure.ro-reject")
	}
	if n > 0 {
		p.Learnt = true
		p.Rate = lnBand[quantity.LitresPerDay](math.Exp(lnRates/float64(n)), table.Value("ro spread timed")/math.Sqrt(float64(n)))
		return p, nil
	}
	if t.Rated == 0 {
		return Production{}, ROUnrated{t.Name}
	}
	rated, pressure, spread := t.RatedTemp, float64(t.PressureShare), table.Value("ro spread")
	if rated == 0 {
		rated = quantity.Celsius(table.Value("ro rated temp"))
	}
	if pressure == 0 {
		pressure, spread = 1, math.Hypot(spread, table.Value("ro spread pressure"))
		p.Missing = append(p.Missing, "enclosure.ro-pressure")
	}
	p.Rate = lnBand[quantity.LitresPerDay](float64(t.Rated)*pressure*math.Exp(warm(water)-warm(rated)), spread)
	return p, nil
}

// Takes is how long so many litres take: at the median rate, and at the rate that 95 in 100 units of
// the kind reach, by which to start.
func (p Production) Takes(l quantity.Litres) (usual, atMost time.Duration) {
	at := func(rate quantity.LitresPerDay) time.Duration {
		return time.Duration(float64(l) / float64(rate) * 24 * float64(time.Hour))
	}
	return at(p.Rate.Median), at(p.Rate.Low)
}

// Reject is the water that runs to waste while so many litres are made.
func (p Production) Reject(l quantity.Litres) quantity.Litres {
	return l * quantity.Litres(p.RejectRatio)
}
