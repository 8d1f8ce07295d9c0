package fit

import (
	"math"

	"halfwater/dynamics"
)

// mode is where a climb ended.
type mode struct {
	z      []float64
	weight float64
	rounds int
	done   bool
	run    run
	slopes slopes
	lean   lean // found about a mode near by
}

const (
	nudge      = 0.05 // of a score, for the effect of an unknown
	longest    = 1.5  // step of any score in one round
	mostRounds = 40
	much       = 1 // gain of log posterior from which effects found before serve on
)

// care is how far a climb goes: in how many rounds the effects may be found anew, and what gain is none.
type care struct {
	anew   int
	enough float64
}

var (
	strictly = care{4, 0.5}
	roughly  = care{2, 0.05}
	truly    = care{1, 1e-4}
)

// climb goes from a start to the mode next to it. The effects of the unknowns are found anew only when a
// round with those of the last, corrected by what the step showed (Broyden 1965), gains little, and no more
// than so many times.
func (b *bench) climb(m mode, c care) mode {
	if m.run.states == nil {
		b.live(m.z, &m.run)
	}
	m.weight, m.done = b.weight(m.z, &m.run), false
	damp, anew := 0.1, m.slopes.of == nil
	try := make([]float64, len(m.z))
	var next run
	for m.rounds = 1; m.rounds <= mostRounds; m.rounds++ {
		fresh := anew && c.anew > 0
		if fresh {
			m.slopes = b.effects(&m)
			c.anew--
		}
		if b.stop.Stopped() {
			return m
		}
		gained := 0.0
		for range 8 {
			step := b.step(&m, damp)
			far := 0.0
			for _, s := range step {
				far = math.Max(far, math.Abs(s))
			}
			if math.IsNaN(far) || math.IsInf(far, 0) {
				return m
			}
			cut := math.Min(1, longest/math.Max(far, 1e-12))
			for i := range try {
				try[i] = m.z[i] + cut*step[i]
			}
			b.live(try, &next)
			if w := b.weight(try, &next); w > m.weight {
				gained = w - m.weight
				m.weight = w
				break
			}
			damp = math.Max(damp*6, 0.05)
		}
		if gained > 0 {
			b.learn(&m, try, &next)
			m.z, try = try, m.z
			m.run, next = next, m.run
			damp /= 4
		}
		if gained < c.enough && (fresh || c.anew == 0) {
			m.done = true
			return m
		}
		anew = gained < much && (!fresh || gained > c.enough)
	}
	return m
}

// slopes are the effects of each unknown on what each kit sees, by reading.
type slopes struct {
	of [][]float64 // by reading, by unknown
}

// effects finds them by one-sided differences where a run is needed. Coarse steps do: what they miss is
// missed on both sides.
func (b *bench) effects(m *mode) slopes {
	readings := len(b.Readings)
	s := slopes{of: make([][]float64, readings)}
	rough := b.coarse()
	was := &m.run
	if b.Pace != rough.Pace {
		was = new(run)
		rough.live(m.z, was)
	}
	base := make([]float64, readings)
	for i := range b.Readings {
		base[i] = b.asKit(i, m.z, was.seen[i])
		s.of[i] = make([]float64, b.n)
	}
	b.stop.each(b.runs, func(j int, r *run) {
		z := append([]float64(nil), m.z...)
		z[j] += nudge
		rough.liveFrom(z, b.from[j], was, r)
		for i := range base {
			s.of[i][j] = (b.asKit(i, m.z, r.seen[i]) - base[i]) / nudge
		}
	})
	b.plain(m, &s)
	return s
}

// coarse is the bench with coarse steps.
func (b *bench) coarse() *bench {
	p := *b.Problem
	p.Pace = dynamics.Coarse
	rough := *b
	rough.Problem = &p
	return &rough
}

// plain adds the effects of what needs no run: what readings share and departures of the world.
func (b *bench) plain(m *mode, s *slopes) {
	for i := range b.Readings {
		r := &b.Readings[i]
		last := min(int(r.Day/fortnight), b.fortnights-1)
		b.share(r, m.z, s.of[i])
		if r.Wander < 0 {
			continue
		}
		w := &b.Wanders[r.Wander]
		by := b.wander(m.z, r.Wander, r.Day)
		const small = 1e-4
		share := w.SD * (r.Scale(w.Apply(m.run.seen[i], by+small)) - r.Scale(w.Apply(m.run.seen[i], by))) / small
		first := b.layout.wanders + r.Wander*b.fortnights
		for k := last; k >= 0; k-- {
			own := math.Sqrt(1 - w.Phi*w.Phi)
			if k == 0 {
				own = 1
			}
			s.of[i][first+k] = share * own
			share *= w.Phi
		}
	}
}

// learn corrects the effects by what a step did.
func (b *bench) learn(m *mode, to []float64, after *run) {
	length := 0.0
	for j := range to {
		length += (to[j] - m.z[j]) * (to[j] - m.z[j])
	}
	if length == 0 {
		return
	}
	for i := range b.Readings {
		row := m.slopes.of[i]
		miss := b.asKit(i, to, after.seen[i]) - b.asKit(i, m.z, m.run.seen[i])
		for j := range to {
			miss -= row[j] * (to[j] - m.z[j])
		}
		miss /= length
		for j := range to {
			row[j] += miss * (to[j] - m.z[j])
		}
	}
}

// weighed is what the readings say at a mode: the root of the information of each, and the slope of its
// log chance.
func (b *bench) weighed(m *mode) (root, score []float64) {
	root, score = make([]float64, len(b.Readings)), make([]float64, len(b.Readings))
	for i := range b.Readings {
		_, s, info := b.Readings[i].Weigh(b.asKit(i, m.z, m.run.seen[i]))
		score[i], root[i] = b.Power*s, math.Sqrt(b.Power*info)
	}
	return root, score
}

// step is that of Gauss and Newton with so much damping: it solves ((1+damp) I + J'WJ) step = slope, by
// way of the readings, of which there are fewer than unknowns.
func (b *bench) step(m *mode, damp float64) []float64 {
	root, score := b.weighed(m)
	slope := make([]float64, b.n)
	for j := range slope {
		slope[j] = -m.z[j]
	}
	for i, row := range m.slopes.of {
		for j, x := range row {
			slope[j] += x * score[i]
		}
	}
	k := kernelOf(m.slopes.of, root, 1+damp)
	for j := range slope {
		slope[j] /= 1 + damp
	}
	return k.shrink(slope, nil)
}
