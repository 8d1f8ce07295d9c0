package plan

import (
	"math"
	"slices"
	"time"

	"halfwater/book"
	"halfwater/change"
	"halfwater/enclosure"
	"halfwater/husbandry"
	"halfwater/infer"
	"halfwater/quantity"
)

// Input is what a sheet is written from. Same input, same sheet.
type Input struct {
	Belief infer.Belief
	Facts  enclosure.Facts
	Lines  []book.Line // standing, in the order of the book
	Now    time.Time
	On     time.Time      // the day of the visit; zero: now
	Share  quantity.Share // of the held water, when the keeper has set it; 0: sized from the plateau
}

// Write writes the work sheet of one visit.
func Write(in Input) Sheet {
	v := newVisit(in)
	s := Sheet{Enclosure: in.Facts.About.Name, Water: in.Belief.Water, On: v.on}
	for _, r := range in.Belief.Refused {
		v.refuse(Refused{Code: r.Code, Of: r.Of})
	}
	if s.Done = v.doneAlready(); s.Done == nil {
		v.pour(&s)
	}
	s.Service = v.service(&s)
	s.Restart = v.restart(&s)
	s.Concerns = v.concerns(&s)
	s.Tests = v.tests(&s) // sooner where a concern asks for it
	s.Cautions = v.cautions(&s)
	s.Missing = v.missing(&s)
	s.Refused = v.refused
	for _, c := range s.Concerns {
		s.Tier = max(s.Tier, c.Tier)
	}
	return s
}

// visit is the desk on which a sheet is written: the input, and what follows from it alone.
type visit struct {
	Input
	on       time.Time
	draws    []infer.Draw
	held     quantity.Band[quantity.HeldLitres]
	now      levels  // medians
	interval float64 // days between changes
	routine  quantity.Share

	lines   husbandry.Lines
	limits  husbandry.StepLimits
	rates   rates
	ranges  enclosure.Ranges
	sources []source
	faulty  []faulty // source waters whose analysis cannot be made whole

	level   level
	refused []Refused
	scratch []float64
}

// levels are medians over the draws, NaN where nothing is known.
type levels struct {
	change.Levels
	NO3  quantity.Nitrate
	TAN  quantity.TotalAmmonia
	PH   quantity.PH
	Held quantity.HeldLitres
}

func newVisit(in Input) *visit {
	v := &visit{Input: in, on: in.On, draws: asRead(in.Belief), routine: usualShare, interval: usualDays}
	if v.on.IsZero() {
		v.on = in.Now
	}
	if r := in.Facts.Routine; r != nil {
		if r.ChangeShare > 0 {
			v.routine = r.ChangeShare
		}
		if r.EveryDays > 0 {
			v.interval = float64(r.EveryDays)
		}
	}
	v.scratch = make([]float64, 0, len(v.draws))
	v.held = bandOf[quantity.HeldLitres](v, func(d *infer.Draw) float64 { return float64(d.Held) })
	v.now = levels{
		Levels: change.Levels{
			GH:   quantity.Hardness(v.median(func(d *infer.Draw) float64 { return float64(d.GH) })),
			KH:   quantity.Alkalinity(v.median(func(d *infer.Draw) float64 { return float64(d.KH) })),
			EC:   quantity.Conductivity(v.median(func(d *infer.Draw) float64 { return float64(d.EC) })),
			Temp: quantity.Celsius(v.median(func(d *infer.Draw) float64 { return float64(d.Temp) })),
		},
		NO3:  quantity.Nitrate(v.median(func(d *infer.Draw) float64 { return float64(d.NO3) })),
		TAN:  quantity.TotalAmmonia(v.median(func(d *infer.Draw) float64 { return float64(d.TAN) })),
		PH:   quantity.PH(v.median(func(d *infer.Draw) float64 { return float64(d.PH) })),
		Held: v.held.Median,
	}
	v.readRates()
	v.keeping()
	v.readSources()
	v.readLevel()
	return v
}

// asRead are the draws with what was never read made unknown. A guess from waters, feed and stock is
// worth showing, but no ground to raise an alarm or to hold a step: the sheet asks for the test
// instead. A belief without evidence for a quantity (a question's given numbers) stands as it is.
func asRead(b infer.Belief) []infer.Draw {
	nan := math.NaN()
	hide := map[quantity.Measurand]func(*infer.Draw){
		quantity.OfGH:  func(d *infer.Draw) { d.GH = quantity.Hardness(nan) },
		quantity.OfKH:  func(d *infer.Draw) { d.KH, d.KHFall = quantity.Alkalinity(nan), quantity.Alkalinity(nan) },
		quantity.OfEC:  func(d *infer.Draw) { d.EC = quantity.Conductivity(nan) },
		quantity.OfPH:  func(d *infer.Draw) { d.PH = quantity.PH(nan) },
		quantity.OfTAN: func(d *infer.Draw) { d.TAN = quantity.TotalAmmonia(nan) },
		quantity.OfNO2: func(d *infer.Draw) { d.NO2 = quantity.Nitrite(nan) },
		quantity.OfNO3: func(d *infer.Draw) { d.NO3, d.NO3Rise = quantity.Nitrate(nan), quantity.Nitrate(nan) },
	}
	out := b.Draws
	for of, blank := range hide {
		if !neverRead(b, of) {
			continue
		}
		if len(out) > 0 && &out[0] == &b.Draws[0] {
			out = slices.Clone(b.Draws)
		}
		for i := range out {
			blank(&out[i])
		}
	}
	return out
}

// neverRead reports whether the evidence says that a quantity was never read.
func neverRead(b infer.Belief, of quantity.Measurand) bool {
	e, ok := b.Evidence[of]
	return ok && e.Last.IsZero()
}

func (v *visit) refuse(r Refused) { v.refused = append(v.refused, r) }

// known reports whether a median or a bound is a number at all.
func known[Q quantity.Number](q Q) bool { return q == q }
