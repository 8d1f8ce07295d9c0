package fit

import "math"

// Sight is what the kits of a problem are to see before any of its readings was made, by reading: a normal
// that is linear about a place. Biases of lots are in it as they are in a usual lot, without their tails.
type Sight struct {
	Mean []float64
	Cov  [][]float64 // of what is seen, without each reading's own error
}

// Sight looks from a place, usually the mode, where the effects of the unknowns are taken.
func (p *Problem) Sight(z []float64) Sight {
	b := newBench(p)
	m := mode{z: z}
	b.live(z, &m.run)
	s := b.effects(&m)
	lotless := append([]float64(nil), z...)
	put := func(at, n int) {
		for j := at; j < at+n; j++ {
			lotless[j] = 0
		}
	}
	put(b.lots, len(b.Lots))
	for _, at := range b.drifts {
		if at > 0 {
			put(at, b.fortnights)
		}
	}
	out := Sight{Mean: make([]float64, len(b.Readings)), Cov: make([][]float64, len(b.Readings))}
	for i, row := range s.of {
		for l := range b.Lots {
			if _, slope := b.Lots[l].at(z[b.lots+l]); slope > 0 {
				row[b.lots+l] *= b.Lots[l].SD / slope
			}
		}
		out.Mean[i] = b.asKit(i, lotless, m.run.seen[i]) - dot(row, lotless)
		out.Cov[i] = make([]float64, len(b.Readings))
		for k := 0; k <= i; k++ {
			out.Cov[i][k] = dot(row, s.of[k])
			out.Cov[k][i] = out.Cov[i][k]
		}
	}
	return out
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
// is normal, with its first and second slope with the mean. The number shown stands for times as much as it
// says. No reading is odd here. The reading counts with a weight as in [Problem.Power], 1 for all of it; the
// chance of a point is that of a span of one SD about it, so that chances of one reading under several accounts
// compare.
func (r *Reading) Chance(mean, variance, times, weight float64) (ln, slope, curve float64) {
	as := *r
	as.Lo, as.Hi = r.Lo*times, r.Hi*times
	lo, hi := as.ends()
	width := 0.0
	if !r.Point && !math.IsInf(lo, 0) && !math.IsInf(hi, 0) {
		width = hi - lo
	}
	s := math.Sqrt(variance + (r.SD*r.SD+width*width/12)/weight - width*width/12)
	if r.Point {
		at := (lo + hi) / 2
		z := (at - mean) / s
		span := r.SD * times
		if r.Log {
			was, _ := r.ends()
			span = r.SD * times * math.Exp(was-lo)
		}
		return math.Log(span/s/math.Sqrt(2*math.Pi)) - z*z/2, z / s, -1 / (s * s)
	}
	a, b := (lo-mean)/s, (hi-mean)/s
	ln = lnBetween(a, b)
	da, db := lnDensity(a)-ln, lnDensity(b)-ln
	pa, pb := math.Exp(da), math.Exp(db)
	slope = (pa - pb) / s
	up, down := 0.0, 0.0
	if !math.IsInf(a, 0) {
		up = a * pa
	}
	if !math.IsInf(b, 0) {
		down = b * pb
	}
	curve = math.Min((up-down)/(s*s)-slope*slope, 0)
	return ln, slope, curve
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
