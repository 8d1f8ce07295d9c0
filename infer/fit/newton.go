package fit

import (
	"math"
)

// mode is where a climb ended.
type mode struct {
	z      []float64
	weight float64
	rounds int
	done   bool
	run    run
	h      *square // curvature there
}

const (
	nudge      = 0.05 // of a score, for the effect of an unknown
	longest    = 1.5  // step of any score in one round
	mostRounds = 25
	enough     = 0.01 // of log posterior
)

// climb goes from a start to the mode next to it.
func (b *bench) climb(z []float64) mode {
	m := mode{z: append([]float64(nil), z...)}
	b.live(m.z, &m.run)
	m.weight = b.weight(m.z, &m.run)
	damp := 1e-3
	try := make([]float64, len(z))
	var next run
	for m.rounds = 1; m.rounds <= mostRounds; m.rounds++ {
		h, slope := b.curvature(&m)
		m.h = h
		gained := -1.0
		for range 8 {
			step, ok := h.damped(damp).solve(slope)
			if !ok {
				damp = math.Max(10*damp, 1e-3)
				continue
			}
			far := 0.0
			for _, s := range step {
				far = math.Max(far, math.Abs(s))
			}
			cut := math.Min(1, longest/math.Max(far, 1e-12))
			for i := range try {
				try[i] = m.z[i] + cut*step[i]
			}
			b.live(try, &next)
			w := b.weight(try, &next)
			if w > m.weight {
				gained = w - m.weight
				m.weight = w
				m.z, try = try, m.z
				m.run, next = next, m.run
				damp /= 5
				break
			}
			damp = math.Max(damp*8, 1e-3)
		}
		if gained < enough {
			m.done = true
			break
		}
	}
	return m
}

// curvature gives the information matrix about the scores (prior and expected information of the readings)
// and the slope of the log posterior.
func (b *bench) curvature(m *mode) (*square, []float64) {
	n, readings := b.n, len(b.Readings)
	jac := make([][]float64, n) // by unknown: change of what each kit sees per unit of score
	base := make([]float64, readings)
	for i := range b.Readings {
		base[i] = b.asKit(i, m.z, m.run.seen[i])
	}
	each(b.runs, func(j int, r *run) {
		z := append([]float64(nil), m.z...)
		z[j] += nudge
		b.liveFrom(z, b.from[j], &m.run, r)
		row := make([]float64, readings)
		for i := range row {
			row[i] = (b.asKit(i, m.z, r.seen[i]) - base[i]) / nudge
		}
		jac[j] = row
	})
	for j := b.runs; j < n; j++ {
		jac[j] = make([]float64, readings)
	}
	for i := range b.Readings {
		r := &b.Readings[i]
		if r.Lot >= 0 {
			jac[b.lots+r.Lot][i] = b.Lots[r.Lot]
		}
		if r.Wander < 0 {
			continue
		}
		w := &b.Wanders[r.Wander]
		by := b.wander(m.z, r.Wander, r.Day)
		const small = 1e-4
		slope := (r.scale(w.Apply(m.run.seen[i], by+small)) - r.scale(w.Apply(m.run.seen[i], by))) / small
		last := min(int(r.Day/fortnight), b.fortnights-1)
		first := b.layout.wanders + r.Wander*b.fortnights
		share := w.SD * slope
		for k := last; k >= 0; k-- {
			own := math.Sqrt(1 - w.Phi*w.Phi)
			if k == 0 {
				own = 1
			}
			jac[first+k][i] = share * own
			share *= w.Phi
		}
	}

	info, score := make([]float64, readings), make([]float64, readings)
	for i := range b.Readings {
		_, score[i], info[i] = b.Readings[i].Weigh(base[i])
		score[i] *= b.Power
		info[i] *= b.Power
	}
	h, slope := newSquare(n), make([]float64, n)
	scaled := make([]float64, readings)
	for j := range n {
		slope[j] = -m.z[j]
		any := false
		for i, x := range jac[j] {
			scaled[i] = x * info[i]
			slope[j] += x * score[i]
			any = any || x != 0
		}
		if any {
			for k := j; k < n; k++ {
				sum := 0.0
				for i, x := range jac[k] {
					sum += x * scaled[i]
				}
				h.set(j, k, sum)
			}
		}
		h.set(j, j, h.at(j, j)+1)
	}
	return h, slope
}
