package dynamics

import "math"

// Pace is how finely a run steps.
type Pace struct {
	Step float64 // longest step, days
	// Within is how much of half a printed step of a usual kit a step may miss before extrapolation: steps are then as
	// long as that allows, up to Step, and nothing else of the pace is looked at. 0 steps by the rules below.
	Within float64
	// Fine steps, of third order (one sweep and two half ones, extrapolated), are taken while the nitrifiers could take
	// less than Young times what plants leave of the load, while nitrite passes Uneasy, for Watch days after nitrifiers
	// were lost, and while oxygen is below Thin; half of Fine below a quarter of Thin.
	Fine   float64
	Young  float64
	Uneasy float64 // mg N/L
	Watch  float64 // days
	Thin   float64 // mg O2/L
}

// The paces. Errors of each against [Course.Reference] stand in doc/dynamics.md. Far is Quick without finer steps for
// want of oxygen, for what oxygen is not told of: of 27 simulated enclosures of five kinds, with 4, 10 or 26 weeks of
// record, it moved no decile and no median of 1000 futures over twelve weeks by more than 1.1 % of the width of the 80 %
// band (TestFarMovesNoBand in package infer), and by 0.4 % in a book in which oxygen was never read. Coarse
// moved KH and pH by more than the width where KH had run out.
var (
	Careful = Pace{Step: 2, Within: 0.002}                                                 // what the others are held to in tests
	Quick   = Pace{Step: 1. / 2, Fine: 1. / 4, Young: 2, Uneasy: 0.25, Watch: 14, Thin: 2} // inside an inference
	Far     = Pace{Step: 1. / 2, Fine: 1. / 4, Young: 2, Uneasy: 0.25, Watch: 14}          // for outlooks
	Coarse  = Pace{Step: 1, Fine: 1. / 2, Young: 1, Uneasy: 0.5, Watch: 7, Thin: 1}        // for a grid of plans
)

// Run carries s from its own day to the day to, and writes the state at each day of outAt, which
// must ascend and lie between the two, into out. A state written for a moment at which something happens
// is the one before it; a run that goes on from it does what happens. The course begins no later than s
// and ends no earlier than to.
//
// Run is a pure function of its arguments and allocates nothing. Two runs with the same outAt step
// alike, so that a run resumed from a written state repeats the first one exactly.
func (c *Course) Run(p *Params, d *Deviations, s State, to float64, outAt []float64, out []State, pace Pace) State {
	var x scene
	x.begin(c, p, s)
	x.pace = pace
	w := walk{c: c, d: d, to: to, outAt: outAt, out: out, until: s.Day}
	for span, more := w.next(&x); more; span, more = w.next(&x) {
		x.steps(span)
	}
	return x.State
}

// begin makes a scene of a state of its own.
func (x *scene) begin(c *Course, p *Params, s State) {
	x.own, x.State, x.grown, x.warmFor = c.own(p), s, Nitrifiers{1, 1, 1}, 1e9
}

// walk goes from break to break of the forcing: pieces, weeks, events, moments wanted.
type walk struct {
	c                    *Course
	d                    *Deviations
	to                   float64
	outAt                []float64
	out                  []State
	until                float64 // where the last stretch ended
	piece, event, wanted int
	begun                bool
}

// next does what is due and gives the length of the stretch of even forcing that follows.
func (w *walk) next(x *scene) (span float64, more bool) {
	s, c := &x.State, w.c
	s.Day = w.until
	for ; !w.begun && w.event < len(c.Events) && c.Events[w.event].Day < s.Day; w.event++ {
	}
	if !w.begun { // what is due at once falls into the stretch that ends here
		for w.piece < len(c.Pieces)-1 && c.Pieces[w.piece].To < s.Day {
			w.piece++
		}
		x.piece, x.noFlow = &c.Pieces[w.piece], c.Pieces[w.piece].NoFlow
	}
	w.begun = true
	for ; w.wanted < len(w.outAt) && w.outAt[w.wanted] <= s.Day; w.wanted++ {
		x.settle()
		w.out[w.wanted] = *s
	}
	if s.Day >= w.to {
		x.settle()
		return 0, false
	}
	for ; w.event < len(c.Events) && c.Events[w.event].Day <= s.Day; w.event++ {
		x.settle()
		x.happen(&c.Events[w.event], c, w.d)
	}
	for w.piece < len(c.Pieces)-1 && c.Pieces[w.piece].To <= s.Day {
		w.piece++
	}
	piece := &c.Pieces[w.piece]
	week := math.Floor(s.Day/Week) + 1
	w.until = min(w.to, week*Week)
	if piece.To > s.Day {
		w.until = min(w.until, piece.To)
	}
	if w.event < len(c.Events) {
		w.until = min(w.until, c.Events[w.event].Day)
	}
	if w.wanted < len(w.outAt) {
		w.until = min(w.until, w.outAt[w.wanted])
	}
	x.enter(c, w.d, piece, int(week)-1)
	return w.until - s.Day, true
}

// enter takes up the forcing of a stretch.
func (x *scene) enter(c *Course, d *Deviations, p *Piece, week int) {
	x.settle()
	x.piece, x.noFlow = p, p.NoFlow
	month := week / (Month / Week)
	x.load = x.Params[Load]
	if f := at(d.Feed, week); f != 0 {
		x.load *= math.Exp(f)
	}
	x.uptake = x.Params[Uptake] * x.held
	if f := at(d.Uptake, month); f != 0 {
		x.uptake *= math.Exp(f)
	}
	x.toppedUp = p.TopUp > 0
	if x.toppedUp {
		e := &c.Events[p.TopUp-1]
		x.topUp = e.Pour.following(&e.Tap, at(d.Tap, month))
	}
	x.mature = x.working(p.NoFlow)
	if x.h == 0 {
		x.look()
	}
}

// steps divides a span into equal steps, as long as the water stays as calm as it is.
func (x *scene) steps(span float64) {
	pace := &x.pace
	if pace.Within > 0 {
		x.controlled(span)
		return
	}
	for left := span; left > 0; {
		step, third := pace.Step, false
		if x.NO2 > pace.Uneasy*x.Volume || x.Day < x.Shaken+pace.Watch || x.young(pace.Young) {
			step, third = pace.Fine, true
		}
		if x.Oxygen < pace.Thin*x.Volume {
			step, third = pace.Fine, true
			if x.Oxygen < pace.Thin/4*x.Volume {
				step = pace.Fine / 2
			}
		}
		n := max(1, math.Ceil(left/step-1e-9))
		h := left / n
		if third {
			x.extrapolate(h)
		} else {
			x.sweep(h)
		}
		x.Day += h
		if n <= 1 {
			return
		}
		left -= h
	}
}

// young reports whether the nitrifiers could not yet take so many times what plants leave of the load.
func (x *scene) young(times float64) bool {
	p := x.piece
	left := times * (x.load*(p.TAN+p.Labile+p.Slow) - x.uptake)
	return x.mature.Ammonia+x.mature.Frugal < left || x.mature.Nitrite < left
}
