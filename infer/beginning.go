package infer

import (
	"math"
	"time"

	"halfwater/dynamics"
	"halfwater/quantity"
	"halfwater/water"
)

// firstRead is the first reading of each measurand, when it came soon after a beginning.
func (w *walk) firstRead(from time.Time) map[quantity.Measurand]float64 {
	out := map[quantity.Measurand]float64{}
	for _, r := range w.witnesses {
		if _, have := out[r.of]; have || r.line.At.Before(from) || r.line.At.Sub(from) > 28*24*time.Hour {
			continue
		}
		at, _ := r.middle()
		out[r.of] = math.Max(at, 0)
	}
	return out
}

// begin is how the enclosure may have stood when the course began: a water like those poured into it, with
// what was read first, each in wide doubt; mulm and nitrifiers as for the load of the first days, more or
// less; much less, may be, where ammonia and nitrite were never tested.
func (q *question) begin(first map[quantity.Measurand]float64, tested bool) {
	w := q.Course.Poured()
	sd := func(m quantity.Measurand) float64 {
		if _, ok := first[m]; ok {
			return value("begin.read")
		}
		return value("begin.unread")
	}
	if gh, ok := first[quantity.OfGH]; ok {
		want := quantity.Hardness(math.Max(gh, 0.2)).Mmol()
		if have := w.Ca + w.Mg; have > 1e-3 {
			w.Ca, w.Mg = w.Ca*want/have, w.Mg*want/have
		} else {
			w.Ca, w.Mg = 0.8*want, 0.2*want
		}
	}
	if kh, ok := first[quantity.OfKH]; ok {
		w.Alk = kh / 2.804
	}
	if no3, ok := first[quantity.OfNO3]; ok {
		w.NO3 = no3
	} else {
		w.NO3 += 3
	}
	w.PO4 = math.Max(w.PO4, 0.1)
	w.DOC = math.Max(w.DOC, 2)
	hard, alkaline, salty, nitrate := sd(quantity.OfGH), sd(quantity.OfKH), sd(quantity.OfEC), sd(quantity.OfNO3)
	few, many := value("begin.strength_less"), value("begin.strength_more")
	mulm := value("begin.mulm")
	course := q.Course
	// A first reading of ammonia or nitrite says that the filter may not have run in.
	unripe := first[quantity.OfTAN] > value("begin.ammonia") || first[quantity.OfNO2] > value("begin.ammonia")
	if !tested { // nor does anything say that it has
		few = math.Max(few, value("begin.unripe"))
	}
	ammonia, nitrite := value("begin.ammonia"), value("begin.nitrite")
	tail := value("begin.unripe")
	q.Starts = []string{
		"begin hardness", "begin alkalinity", "begin salt", "begin nitrate", "begin mulm", "begin nitrifiers", "begin ammonia", "begin nitrite",
	}
	q.Problem.Start = func(p *dynamics.Params, z []float64) dynamics.State {
		w := w
		f := math.Exp(hard * z[0])
		w.Ca, w.Mg = w.Ca*f, w.Mg*f
		w.Alk = (w.Alk+0.1)*math.Exp(alkaline*z[1]) - 0.1
		f = math.Exp(salty * z[2])
		w.Na, w.Cl, w.K = w.Na*f, w.Cl*f, w.K*f
		w.NO3 = (w.NO3 + 0.5) * math.Exp(2*nitrate*z[3])
		neutral(&w)
		s := course.Mature(p, w, 0.2, 0.5)
		f = math.Exp(mulm * z[4])
		s.Labile, s.Slow = s.Labile*f, s.Slow*f
		f = math.Exp((few+many)/2*z[5] - (few-many)/2*(math.Sqrt(1+z[5]*z[5])-1)) // few sd downward, many upward, smooth between
		if unripe {
			f = math.Exp(value("begin.unripe_strength") + value("begin.unripe")*z[5])
		}
		for i := range s.Strength {
			n := &s.Strength[i]
			n.Ammonia, n.Frugal, n.Nitrite = n.Ammonia*f, n.Frugal*f, n.Nitrite*f
		}
		// Beside what a filter at rest leaves: little as a rule, much where it has not run in.
		tan, no2 := s.Volume*ammonia*math.Exp(tail*z[6]), s.Volume*nitrite*math.Exp(tail*z[7])
		s.TAN += tan
		s.NO2 += no2
		s.Alk += (tan - no2) / water.MolarN
		return s
	}
}

// neutral closes the charge with sulfate, or with sodium where there is none to take away.
func neutral(w *dynamics.Water) {
	const molarN, molarP = water.MolarN, water.MolarP
	open := 2*w.Ca + 2*w.Mg + w.Na + w.K + w.TAN/molarN - w.Cl - 2*w.SO4 - (w.NO3+w.NO2)/molarN - w.PO4/molarP - w.Alk
	if w.SO4+open/2 >= 0 {
		w.SO4 += open / 2
		return
	}
	w.Na -= open + 2*w.SO4
	w.SO4 = 0
}
