package fit

import (
	"math/rand/v2"

	"halfwater/dynamics"
)

// Moment is how one history stands at one moment that lies ahead of it.
type Moment struct {
	State  dynamics.State
	Wander []float64 // departures, as in [History]
}

// Onward runs histories on over a longer course: one that begins like that of the problem and has lines that
// are expected after it. What weeks, litres and departures to come will be is drawn as beforehand. It gives,
// by future, the moments at, days of the course that ascend from the end of the shorter one on. Future i goes
// on from draw i modulo their number. It is a pure function of its arguments but the watch. Error: [ErrStopped].
func (p *Problem) Onward(w Watch, longer *Problem, post *Posterior, futures int, at []float64, seed uint64) ([][]Moment, error) {
	from, to := p.layout(), longer.layout()
	was, will := p.parts(&from), longer.parts(&to)
	b := &bench{Problem: longer, layout: to}
	out := make([][]Moment, futures)
	w.each(futures, func(i int, r *run) {
		rnd := rand.New(rand.NewPCG(seed, 1<<33+uint64(i)))
		h := &post.Draws[i%len(post.Draws)]
		z := make([]float64, to.n)
		for j := range z {
			z[j] = rnd.NormFloat64()
		}
		was.onto(will, h.Z, z)
		longer.set(&to, z, &r.scene)
		states := make([]dynamics.State, len(at))
		r.course.Run(&r.params, &r.dev, h.End, at[len(at)-1], at, states, longer.Pace)
		for m, s := range states {
			moment := Moment{State: s}
			for k := range longer.Wanders {
				moment.Wander = append(moment.Wander, b.wander(z, k, at[m]))
			}
			out[i] = append(out[i], moment)
		}
	})
	if w.Stopped() {
		return nil, ErrStopped
	}
	return out, nil
}

// parts are where each family of scores stands, by name.
type parts map[string]part

type part struct{ at, n int }

func (p *Problem) parts(l *layout) parts {
	out := parts{
		"params": {l.params, int(dynamics.Unknowns)}, "feed": {l.feed, l.uptake - l.feed}, "uptake": {l.uptake, l.tap - l.uptake},
		"tap": {l.tap, l.litres - l.tap}, "litres": {l.litres, l.losses - l.litres}, "losses": {l.losses, l.runs - l.losses},
	}
	for i, name := range p.Starts {
		out["start "+name] = part{l.starts + i, 1}
	}
	for i := range p.Slants {
		out["slant "+p.Slants[i].Name] = part{l.slants + i, 1}
	}
	for i := range p.Lots {
		out["lot "+p.Lots[i].Name] = part{l.lots + i, 1}
		if l.drifts[i] > 0 {
			out["drift "+p.Lots[i].Name] = part{l.drifts[i], l.fortnights}
		}
	}
	for i := range p.Wanders {
		out["wander "+p.Wanders[i].Name] = part{l.wanders + i*l.fortnights, l.fortnights}
	}
	return out
}

// onto copies the scores of what both have to where the other has them.
func (p parts) onto(o parts, z, out []float64) {
	for name, a := range p {
		if b, ok := o[name]; ok {
			copy(out[b.at:b.at+min(a.n, b.n)], z[a.at:a.at+min(a.n, b.n)])
		}
	}
}
