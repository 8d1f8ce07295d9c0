package blame

import (
	"math"

	"halfwater/infer/fit"
	"halfwater/kit"

	"gonum.org/v1/gonum/floats"
)

// jury is a group of readings by which charges are judged: what all others let us expect of them, before what
// they say themselves. It is called reading by reading from the last on, so that all groups that end alike are
// had on the way.
type jury struct {
	*scales
	its  []int // that may be called, ascending
	from int   // those from here on are

	v       [][]float64 // covariance of their numbers by the others: the inverse of their part of the inverse
	plainly float64     // log chance of the book when nothing is wrong; NaN before it was asked for

	apart      []float64 // scratch
	mean       []float64
	cov        [][]float64
	off, pulls []float64
}

func (s *scales) jury(its []int) *jury {
	k := len(its)
	all := make([]float64, 2*k*k+2*k)
	return &jury{
		scales: s, its: its, from: k, plainly: math.NaN(),
		v: rows(all[:k*k], k), cov: rows(all[k*k:2*k*k], k), apart: all[2*k*k : 2*k*k+k], mean: all[2*k*k+k:],
	}
}

// take calls one reading more; false when all are there, or when the numbers do not bear it.
func (j *jury) take() bool {
	if j.from == 0 {
		return false
	}
	f, to := j.from-1, len(j.its)
	row := j.inverse[j.its[f]]
	// With V that of those already here, p the new part of the inverse: u = V p, s = its own less p'u.
	own := row[j.its[f]]
	u := j.apart[f+1 : to]
	clear(u)
	for b := j.from; b < to; b++ {
		floats.AddScaled(u, row[j.its[b]], j.v[b][f+1:])
	}
	for b := j.from; b < to; b++ {
		own -= row[j.its[b]] * u[b-j.from]
	}
	if !(own > 0) || bad(own) {
		return false
	}
	j.v[f][f] = 1 / own
	for b := j.from; b < to; b++ {
		by := u[b-j.from] / own
		j.v[f][b], j.v[b][f] = -by, -by
		floats.AddScaled(j.v[b][f+1:], by, u)
	}
	j.from, j.plainly = f, math.NaN()
	return true
}

// told gives the logarithm of how much likelier the book is under a charge than when nothing is wrong.
func (j *jury) told(c *charge) float64 {
	if math.IsNaN(j.plainly) {
		j.plainly = j.judge(&charge{})
	}
	return j.judge(c) - j.plainly
}

// judge gives the logarithm of the chance of the book under a charge, up to what is the same for all charges
// that are judged by the same group of readings. The lines of the charge must be among the group.
func (j *jury) judge(c *charge) float64 {
	k := len(j.its)
	off, pull := j.under(c)

	// What the others let us expect of the group.
	moved, cov := j.mean[j.from:], j.cov
	clear(moved)
	for b := j.from; b < k; b++ {
		floats.AddScaled(moved, pull[j.its[b]], j.v[b][j.from:])
		copy(cov[b][b:], j.v[b][b:])
		cov[b][b] -= j.wide[j.its[b]]
	}
	ln := -0.5 * floats.Dot(off, pull)
	for b := j.from; b < k; b++ {
		ln += 0.5 * pull[j.its[b]] * moved[b-j.from]
	}
	for b := j.from; b < k; b++ {
		j.mean[b] = j.at[j.its[b]] - j.mean[b]
	}
	j.lend(c)

	next := 0 // among the lines of the charge
	for a := j.from; a < k; a++ {
		i := j.its[a]
		charged := next < len(c.lines) && c.lines[next] == i
		times := j.times[i]
		if charged {
			next++
			if c.times != 0 {
				times *= c.times
			}
		}
		r := &j.readings[i]
		switch {
		case j.odd[i]: // found to say nothing: under every charge alike
			continue
		case charged && c.odd:
			ln += oddly(r, j.mean[a], math.Max(cov[a][a], 0))
			continue
		}
		more, slope, curve := r.Chance(j.mean[a], math.Max(cov[a][a], 0), times, j.weight)
		ln += more
		j.learn(a, slope, curve)
	}
	return ln
}

// under is how far numbers lie from what was to be seen, and the inverse times that, under the water of a charge.
func (j *jury) under(c *charge) (off, pull []float64) {
	if c.shift == nil {
		return j.scales.off, j.scales.pull
	}
	if j.off == nil {
		j.off, j.pulls = make([]float64, len(j.at)), make([]float64, len(j.at))
	}
	floats.SubTo(j.off, j.scales.off, c.shift)
	copy(j.pulls, j.scales.pull)
	for i, by := range c.shift {
		if by != 0 {
			floats.AddScaled(j.pulls, -by, j.inverse[i])
		}
	}
	return j.off, j.pulls
}

// lend adds what the readings of a charge share.
func (j *jury) lend(c *charge) {
	if c.sd == 0 {
		return
	}
	shared := j.apart // by place
	clear(shared)
	next := 0
	for a := j.from; a < len(j.its) && next < len(c.lines); a++ {
		if c.lines[next] == j.its[a] {
			shared[a] = c.sd * c.loads[next]
			next++
		}
	}
	for a := j.from; a < len(j.its); a++ {
		if shared[a] != 0 {
			floats.AddScaled(j.cov[a][a:], shared[a], shared[a:])
		}
	}
}

// learn narrows what is expected of the readings after a by what a says, given the slopes of its log chance with
// the mean. Of the covariance only what is right of the diagonal is kept.
func (j *jury) learn(a int, slope, curve float64) {
	with := j.cov[a]
	for b := a + 1; b < len(j.its); b++ {
		if x := with[b]; x != 0 {
			j.mean[b] += x * slope
			floats.AddScaled(j.cov[b][b:], x*curve, with[b:])
		}
	}
}

// oddly is the logarithm of the chance of a reading that says nothing, where its kit was to see g, known to a variance.
func oddly(r *fit.Reading, g, variance float64) float64 {
	if r.Log && !r.Point {
		lo, hi := r.Ends()
		return math.Log(kit.Misread(lo, hi, g, variance))
	}
	return -math.Log(float64(max(r.Classes, 2)))
}
