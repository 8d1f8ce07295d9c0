package fit

import "math"

// How far a lean goes. Judgement.
const (
	steepest = 2    // deviation of the logarithm of the density that is taken away at most
	astray   = 0.5  // nats by which the history in the middle may be less likely than foretold
	least    = 0.05 // of what bends tell that is worth adding
	unseen   = 0.99 // how dull a kit is that says nothing of a number: the number is a hundredth of the shift
)

// lean is what is added to the shakes of the prior, so that draws lie about a place as the posterior does.
type lean struct {
	at []float64 // the mode about which it was worked out
	by []float64
}

// leanAbout works a lean out. The density of draws is that of the shakes times |det(I + J'W G)|, J being the effects at the
// mode and G those where the draw lies (Bardsley and others 2014): they crowd where the readings see much of a change,
// which is where the posterior has little room. The logarithm of that is c·x to first order, and shakes that lean by -c take
// it away; c adds up, over the directions about which readings say something, how the effects change along them.
func (b *bench) leanAbout(w Watch, m *mode, k *kernel, bends bool) lean {
	out := lean{append([]float64(nil), m.z...), make([]float64, b.n)}
	b.dulls(m, k, nil, out.by)
	if !bends {
		return out
	}
	more, gone := make([]float64, b.n), k.directions(told)
	b.bends(w, m, k, gone, more)
	b.dulls(m, k, gone, more)
	for j, x := range out.by {
		more[j] -= x
	}
	if sound(more) {
		b.hold(m, k, out.by, more)
	}
	return out
}

// hold adds to a lean what bends tell, cut until the history to which the lean leads the middle of the draws is what the
// effects foretell of it.
func (b *bench) hold(m *mode, k *kernel, by, more []float64) {
	var r run
	sum, z := make([]float64, b.n), make([]float64, b.n)
	for cut := 1.0; cut > least; cut /= 2 {
		for j := range sum {
			sum[j] = by[j] + cut*more[j]
		}
		to := k.shrink(sum, nil)
		steep := dot(sum, to)
		if steep > square(steepest) {
			continue
		}
		for j := range z {
			z[j] = m.z[j] + to[j]
		}
		if b.live(z, &r); b.weight(z, &r) > m.weight-steep/2-astray {
			copy(by, sum)
			return
		}
	}
}

// dulls adds, for what lies across some directions, how cards that show the logarithm of a number plus a Shift grow dull where
// the number is small. A number that is a product of unknowns is straight in its logarithm, so that the bend of what the
// kit sees follows from how dull it is there, at no run.
func (b *bench) dulls(m *mode, k *kernel, directions []direction, to []float64) {
	for i := range b.Readings {
		r := &b.Readings[i]
		if !r.Log || r.Shift <= 0 {
			continue
		}
		dull := r.Shift / math.Exp(b.unbiased(i, m.z, m.run.seen[i]))
		if !(dull > 0 && dull < unseen) {
			continue
		}
		row := append([]float64(nil), m.slopes.of[i]...)
		b.clearLots(row) // a bias adds to what is seen and bends nothing
		room := dot(m.slopes.of[i], k.shrink(row, nil))
		for _, d := range directions {
			room -= dot(m.slopes.of[i], d.along) * dot(row, d.along) / (1 + d.says)
		}
		by := square(k.weight[i]) * dull / (1 - dull) * math.Max(room, 0)
		for j, x := range row {
			to[j] -= by * x
		}
	}
}
