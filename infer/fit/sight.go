package fit

import "math"

// Sight is what some kits of a problem are to see before any of its readings was made, by reading: a normal
// that is linear about a place. Biases of lots are in it as they are in a usual lot, without their tails
// and without those that are faults.
type Sight struct {
	Seen []float64 // at the place
	Mean []float64
	Cov  [][]float64 // of what is seen, without each reading's own error
}

// Sight looks from the mode of a posterior of the problem, where the effects of the unknowns are taken, at what
// the kits of some of the readings see.
func (p *Problem) Sight(post *Posterior, which []int) Sight {
	b := newBench(p)
	z := post.Mode
	m := mode{z: z}
	b.live(z, &m.run)
	effects := post.effects
	if len(effects) != len(b.Readings) || len(effects) > 0 && len(effects[0]) != b.n {
		effects = b.effects(&m).of
	}
	lotless := append([]float64(nil), z...)
	b.clearLots(lotless)
	n := len(which)
	out := Sight{Seen: make([]float64, n), Mean: make([]float64, n), Cov: make([][]float64, n)}
	none := make([]float64, b.n)
	rows := make([][]float64, n)
	for a, i := range which {
		row := append([]float64(nil), effects[i]...)
		b.clearLots(row)
		b.shareLots(&b.Readings[i], none, row)
		for l := range b.Lots {
			if b.Lots[l].Fault {
				row[b.lots+l] = 0
				if at := b.drifts[l]; at > 0 {
					clear(row[at : at+b.fortnights])
				}
			}
		}
		rows[a] = row
		out.Seen[a] = b.asKit(i, z, m.run.seen[i])
		out.Mean[a] = b.asKit(i, lotless, m.run.seen[i]) - dot(row, lotless)
		out.Cov[a] = make([]float64, n)
	}
	each(n, func(a int, _ *run) {
		for k := range a + 1 {
			out.Cov[a][k] = dot(rows[a], rows[k])
		}
	})
	for a := range n {
		for k := range a {
			out.Cov[k][a] = out.Cov[a][k]
		}
	}
	return out
}

// clearLots clears the scores, or the effects, of what lots are off.
func (b *bench) clearLots(z []float64) {
	clear(z[b.lots : b.lots+len(b.Lots)])
	for _, at := range b.drifts {
		if at > 0 {
			clear(z[at : at+b.fortnights])
		}
	}
}

// Seen is what each kit sees under a vector of scores, by reading.
func (p *Problem) Seen(z []float64) []float64 {
	b := newBench(p)
	var r run
	b.live(z, &r)
	out := make([]float64, len(b.Readings))
	for i := range out {
		out[i] = b.asKit(i, z, r.seen[i])
	}
	return out
}

// Chance is the logarithm of the chance of the reading when what its kit sees, before the reading's own error,
// is normal, with its first and second slope with the mean. What the kit shows stands for times as much as it
// says: it sees so much less. No reading is odd here. The reading counts with a weight as in [Problem.Power], 1
// for all of it; the chance of a point is that of a span of one SD about it, so that chances of one reading under
// several accounts compare.
func (r *Reading) Chance(mean, variance, times, weight float64) (ln, slope, curve float64) {
	mean, per := r.shrunk(mean, times)
	lo, hi := r.Ends()
	width := 0.0
	if !r.Point && !math.IsInf(lo, 0) && !math.IsInf(hi, 0) {
		width = hi - lo
	}
	s := math.Sqrt(variance*per*per + (r.SD*r.SD+width*width/12)/weight - width*width/12)
	if r.Point {
		z := ((lo+hi)/2 - mean) / s
		return math.Log(r.SD/s/math.Sqrt(2*math.Pi)) - z*z/2, per * z / s, -per * per / (s * s)
	}
	a, b := (lo-mean)/s, (hi-mean)/s
	ln = lnBetween(a, b)
	pa, pb := math.Exp(lnDensity(a)-ln), math.Exp(lnDensity(b)-ln)
	slope = (pa - pb) / s
	up, down := 0.0, 0.0
	if !math.IsInf(a, 0) {
		up = a * pa
	}
	if !math.IsInf(b, 0) {
		down = b * pb
	}
	curve = math.Min((up-down)/(s*s)-slope*slope, 0)
	return ln, per * slope, per * per * curve
}

// shrunk is what a kit sees, and its slope, that shows so many times less.
func (r *Reading) shrunk(g, times float64) (seen, slope float64) {
	if times == 1 {
		return g, 1
	}
	if !r.Log {
		return g / times, 1 / times
	}
	x := math.Max(math.Exp(g)-r.Shift, 0)
	return math.Log(x/times + r.Shift), (x + r.Shift) / (x + times*r.Shift)
}

func lnDensity(z float64) float64 {
	if math.IsInf(z, 0) {
		return math.Inf(-1)
	}
	return -z*z/2 - math.Log(2*math.Pi)/2
}

// lnBetween is the logarithm of the chance of a standard normal between two ends, far out too.
func lnBetween(a, b float64) float64 {
	if a > 0 {
		a, b = -b, -a
	}
	if b > -8 {
		return math.Log(math.Max(phi(b)-phi(a), 1e-300))
	}
	// Mills: phi(z) is near density(z)/-z in that tail.
	ln := lnDensity(b) - math.Log(-b)
	if !math.IsInf(a, 0) {
		ln += math.Log1p(-math.Min(math.Exp(lnDensity(a)-lnDensity(b)), 1-1e-12))
	}
	return ln
}

// Number is the reading as a number that its kit saw with a variance, near what the kit is taken to see, for
// where a normal must do. Times and weight are as in [Reading.Chance].
func (r *Reading) Number(near, times, weight float64) (at, variance float64) {
	strict := *r
	strict.Odd = 0
	lo, hi := r.Ends()
	at, variance = (lo+hi)/2, r.SD*r.SD
	switch {
	case math.IsInf(lo, 0) || math.IsInf(hi, 0):
		seen, _ := r.shrunk(near, times)
		_, score, info := strict.Weigh(seen)
		info = math.Max(info, 1e-4/(r.SD*r.SD))
		at, variance = seen+score/info, 1/info
	case !r.Point:
		variance += (hi - lo) * (hi - lo) / 12
	}
	grown, per := r.shrunk(at, 1/times)
	return grown, variance * per * per / weight
}
