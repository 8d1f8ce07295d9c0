package infer

import "math"

// room is how many unknowns a belief can carry at most: see slots.go.
const room = 44

// gauss is a joint normal distribution over the unknowns: what is believed between two lines of the
// book. Every step of the balance is linear in it, and every reading leaves it normal again by
// matching its mean and variance (assumed density; minka2001 shows when that is good: for
// intervals, whose likelihood has one hump, it is).
type gauss struct {
	n    int
	mean [room]float64
	cov  [room][room]float64
}

// term is one unknown by a factor.
type term struct {
	at int
	by float64
}

// put makes an unknown independent of all others, with a mean and a standard deviation.
func (g *gauss) put(i int, mean, sd float64) {
	g.n = max(g.n, i+1)
	for k := range g.n {
		g.cov[i][k], g.cov[k][i] = 0, 0
	}
	g.mean[i], g.cov[i][i] = mean, sd*sd
}

// link adds a share of an independent unknown to another: x_i := x_i + by x_j, keeping the mean of i.
func (g *gauss) link(i, j int, by float64) {
	g.move(i, []term{{i, 1}, {j, by}}, -by*g.mean[j])
}

// move replaces an unknown by a sum of unknowns and a number: x_i := sum(by x_at) + plus.
func (g *gauss) move(i int, sum []term, plus float64) {
	mean, variance, with := g.project(sum)
	g.mean[i] = mean + plus
	for k := range g.n {
		g.cov[i][k], g.cov[k][i] = with[k], with[k]
	}
	g.cov[i][i] = variance
}

// shake adds independent doubt along a direction: x_at := x_at + by e, e with this variance.
func (g *gauss) shake(variance float64, along ...term) {
	for _, a := range along {
		for _, b := range along {
			g.cov[a.at][b.at] += a.by * b.by * variance
		}
	}
}

// project gives the mean and variance of a sum of unknowns and its covariance with each of them.
func (g *gauss) project(sum []term) (mean, variance float64, with [room]float64) {
	for _, t := range sum {
		mean += t.by * g.mean[t.at]
		row := &g.cov[t.at]
		for k := range g.n {
			with[k] += t.by * row[k]
		}
	}
	for _, t := range sum {
		variance += t.by * with[t.at]
	}
	return mean, max(variance, 0), with
}

// learn takes in that a sum of unknowns, of which the present mean and variance and the covariances
// with all unknowns are given, has another mean and variance after a reading. The unknown held is
// taken into account and not learnt (schmidt1966): its dilutions were counted before.
func (g *gauss) learn(mean, variance float64, with *[room]float64, newMean, newVariance float64) {
	if variance <= 0 {
		return
	}
	shift := (newMean - mean) / variance
	// A reading that fits badly can leave more doubt than there was; then only the mean moves.
	shrink := max(variance-newVariance, 0) / (variance * variance)
	for i := range g.n {
		if i != held {
			g.mean[i] += with[i] * shift
		}
		wi := with[i] * shrink
		if wi == 0 {
			continue
		}
		for k := range g.n {
			if i == held && k == held {
				continue
			}
			g.cov[i][k] -= wi * with[k]
		}
	}
}

func (g *gauss) sd(i int) float64 { return math.Sqrt(max(g.cov[i][i], 0)) }

// root is the lower triangular root of the covariance of the first n unknowns. An unknown without
// doubt gives a row of zeros.
func (g *gauss) root(n int) (l [room][room]float64) {
	for i := range n {
		for j := 0; j <= i; j++ {
			s := g.cov[i][j]
			for k := range j {
				s -= l[i][k] * l[j][k]
			}
			switch {
			case i == j && s > 1e-12*g.cov[i][i]:
				l[i][i] = math.Sqrt(s)
			case i != j && l[j][j] > 0:
				l[i][j] = s / l[j][j]
			}
		}
	}
	return l
}
