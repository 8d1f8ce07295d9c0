package fit

import (
	"math"
	"slices"

	"halfwater/dynamics"
)

// Problem is what a fit is made from. It is not changed by a fit.
type Problem struct {
	Course *dynamics.Course
	Pace   dynamics.Pace
	Priors [dynamics.Unknowns]dynamics.Prior // of this enclosure's own constants
	// Carried, when set, is what was found of them before: then the scores of Priors are not standard normal but so.
	Carried *Carried
	// Start makes the state at the beginning from the own constants and scores of its own.
	Start    func(p *dynamics.Params, z []float64) dynamics.State
	Starts   []string // names of those scores
	Slants   []Slant
	Lots     []Lot
	Wanders  []Wander
	Readings []Reading
	// Power is the weight of the readings against the prior, 1 for plain belief in the model.
	Power float64
}

// Carried is a normal of the scores of the own constants: Mean + Root times a standard normal vector. Root is
// lower triangular.
type Carried struct {
	Mean [dynamics.Unknowns]float64
	Root [dynamics.Unknowns][dynamics.Unknowns]float64
}

// own are the own constants at standard normal scores.
func (p *Problem) own(z []float64, out *dynamics.Params) {
	for u := range out {
		x := z[u]
		if c := p.Carried; c != nil {
			x = c.Mean[u] + dot(c.Root[u][:u+1], z)
		}
		out[u] = p.Priors[u].At(x)
	}
}

// Slant is one doubt about poured waters: what one standard deviation of it adds to the pour of each event
// of the course, per litre.
type Slant struct {
	Name string
	Pour []dynamics.Water // by event of the course
}

// Wander is a slow departure of one quantity from the model: an autoregression with a stationary standard
// deviation, a value for each fortnight. With Ratio the quantity is multiplied by its exponential, else it is
// added.
type Wander struct {
	Name  string
	Ratio bool
	SD    float64
	Phi   float64
}

// Lot is the bias that all readings of one lot, bottle or pen share, as the kit sees: SD sinh(Tail z)/Tail
// of a standard normal score z. Small biases are as usual as with a normal of SD (which no Tail is), and a
// large one, of a spoiled lot, costs far less: with a Tail of 0.7 one of 5 SD is a score of 2.8.
type Lot struct {
	Name  string
	SD    float64
	Tail  float64
	Walk  float64 // standard deviation of the step that the bias takes each fortnight after From: a pen drifts
	From  float64 // day
	Fault bool    // to have it is a fault: where faults are looked for it does not explain anything away ([Sight])
}

// fortnight is the step of a wander, days.
const fortnight = 14

// Apply departs from a number of the model.
func (w *Wander) Apply(x, by float64) float64 {
	if w.Ratio {
		return x * math.Exp(by)
	}
	return x + by
}

// layout is where the unknowns stand in the vector of scores.
type layout struct {
	params, starts, slants, feed, uptake, tap, litres, losses, lots, wanders, n int

	fortnights int
	drifts     []int     // by lot: where its steps stand, 0 for none
	from       []float64 // the day from which an unknown acts; of those that need a run
	runs       int       // how many need a run: the first ones
}

func (p *Problem) layout() layout {
	c := p.Course
	d := c.Deviations()
	var l layout
	next := 0
	put := func(n int) int { at := next; next += n; return at }
	l.params, l.starts = put(int(dynamics.Unknowns)), put(len(p.Starts))
	l.slants = put(len(p.Slants))
	l.feed, l.uptake, l.tap = put(len(d.Feed)), put(len(d.Uptake)), put(len(d.Tap))
	l.litres, l.losses = put(len(d.Litres)), put(len(d.Loss))
	l.runs = next
	l.lots = put(len(p.Lots))
	l.fortnights = int(c.Days/fortnight) + 1
	l.wanders = put(len(p.Wanders) * l.fortnights)
	l.drifts = make([]int, len(p.Lots))
	for i, lot := range p.Lots {
		if lot.Walk > 0 {
			l.drifts[i] = put(l.fortnights)
		}
	}
	l.n = next

	l.from = make([]float64, l.runs)
	for i := range d.Feed {
		l.from[l.feed+i] = dynamics.Week * float64(i)
	}
	for i := range d.Uptake {
		l.from[l.uptake+i] = dynamics.Month * float64(i)
	}
	for i := range d.Tap {
		l.from[l.tap+i] = dynamics.Month * float64(i)
	}
	for _, e := range slices.Backward(c.Events) {
		if e.Change > 0 {
			l.from[l.litres+e.Change-1] = e.Day
		}
		if e.Loss > 0 {
			l.from[l.losses+e.Loss-1] = e.Day
		}
	}
	return l
}

// scene is one setting of all unknowns that need a run, ready to run.
type scene struct {
	params dynamics.Params
	dev    dynamics.Deviations
	start  dynamics.State
	course dynamics.Course
}

// set lays a vector of scores out.
func (p *Problem) set(l *layout, z []float64, s *scene) {
	p.own(z[l.params:], &s.params)
	if s.dev.Feed == nil {
		s.dev = p.Course.Deviations()
	}
	dynamics.FeedChain.From(z[l.feed:l.uptake], s.dev.Feed)
	dynamics.UptakeChain.From(z[l.uptake:l.tap], s.dev.Uptake)
	dynamics.TapChain.From(z[l.tap:l.litres], s.dev.Tap)
	for i := range s.dev.Litres {
		s.dev.Litres[i] = dynamics.LitresSD * z[l.litres+i]
	}
	for i, loss := range p.Course.Losses {
		s.dev.Loss[i] = loss.At(z[l.losses+i])
	}
	s.start = p.Start(&s.params, z[l.starts:l.slants])

	events := s.course.Events
	s.course = *p.Course
	if len(p.Slants) > 0 {
		s.course.Events = append(events[:0], p.Course.Events...)
		for k := range p.Slants {
			by := z[l.slants+k]
			if by == 0 {
				continue
			}
			for i := range s.course.Events {
				slanted(&s.course.Events[i].Pour, &p.Slants[k].Pour[i], by)
			}
		}
	}
}

// slanted adds by times what a slant brings; nothing falls below zero but alkalinity.
func slanted(w, d *dynamics.Water, by float64) {
	add := func(x *float64, dx float64) {
		if dx != 0 {
			*x = math.Max(*x+by*dx, 0)
		}
	}
	add(&w.Ca, d.Ca)
	add(&w.Mg, d.Mg)
	add(&w.Na, d.Na)
	add(&w.K, d.K)
	add(&w.Cl, d.Cl)
	add(&w.SO4, d.SO4)
	add(&w.NO3, d.NO3)
	add(&w.DIC, d.DIC)
	w.Alk += by * d.Alk
}

// Less is what one water has more than another, per litre.
func Less(a, b dynamics.Water) dynamics.Water {
	return dynamics.Water{
		Ca: a.Ca - b.Ca, Mg: a.Mg - b.Mg, Na: a.Na - b.Na, K: a.K - b.K, Cl: a.Cl - b.Cl, SO4: a.SO4 - b.SO4,
		Alk: a.Alk - b.Alk, DIC: a.DIC - b.DIC, NO3: a.NO3 - b.NO3, NO2: a.NO2 - b.NO2, TAN: a.TAN - b.TAN, PO4: a.PO4 - b.PO4, DOC: a.DOC - b.DOC,
	}
}
