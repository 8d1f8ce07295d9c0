package dynamics

import "math"

// Pace is how finely a run steps. Agree and Within are counted in halves of a printed step of a usual kit.
type Pace struct {
	Step   float64 // longest step, days
	Agree  float64 // a step stands if its second pass corrects the first by no more
	Within float64 // what any other may miss before extrapolation
	Least  float64 // the shortest step, days, whatever it misses: a run must end, in a history that cannot be too
}

// The paces. Errors of each against [Course.Reference] stand in doc/dynamics.md.
var (
	Careful = Pace{Step: 2, Within: 0.002, Least: 1e-4}            // what the others are held to in tests
	Quick   = Pace{Step: 0.75, Agree: 2, Within: 0.5, Least: 0.01} // inside an inference, and for outlooks
	Coarse  = Pace{Step: 2, Agree: 8, Within: 4, Least: 0.05}      // for effects by differences, and a grid of plans
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

// steps goes through a span of even forcing.
func (x *scene) steps(span float64) {
	for left := span; left > 0; {
		h := x.step(left)
		x.Day += h
		if h >= left {
			return
		}
		left -= h
	}
}
