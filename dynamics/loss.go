package dynamics

import (
	"math"
	"sync"

	"gonum.org/v1/gonum/mathext"
)

// Loss is a prior of a share lost: a Beta distribution.
type Loss struct {
	Of   string // the row of losses.txt
	A, B float64
	Sure float64 // when the share is known instead (1: all); A and B are then 0

	quantiles func() *[2*lossReach*lossSteps + 1]float64 // logit of the quantile, by score
}

const (
	lossReach = 4 // scores
	lossSteps = 4 // per score
)

// beta is the distribution; its quantiles are found when the first is asked for, so that further draws cost next
// to nothing, and a course that is compiled and never run nothing at all.
func beta(of string, a, b float64) Loss {
	return Loss{Of: of, A: a, B: b, quantiles: sync.OnceValue(func() *[2*lossReach*lossSteps + 1]float64 {
		var out [2*lossReach*lossSteps + 1]float64
		for i := range out {
			p := 0.5 * math.Erfc(-(float64(i)/lossSteps-lossReach)/math.Sqrt2)
			out[i] = logit(min(max(mathext.InvRegIncBeta(a, b, p), 1e-9), 1-1e-9))
		}
		return &out
	})}
}

// At is the share lost at a standard normal score: the quantile at its probability, straight between
// quarters of a score on the logit scale; scores beyond 4 count as 4.
func (l Loss) At(z float64) float64 {
	if l.quantiles == nil {
		return l.Sure
	}
	x := (min(max(z, -lossReach), lossReach) + lossReach) * lossSteps
	ready := l.quantiles()
	i := min(int(x), len(ready)-2)
	q := ready[i] + (x-float64(i))*(ready[i+1]-ready[i])
	return 1 / (1 + math.Exp(-q))
}

// Median is the share lost at even odds.
func (l Loss) Median() float64 { return l.At(0) }

// LossOf is the prior of an event of losses.txt by name; a name that is not there is a fault of the
// program.
func LossOf(name string) Loss { return betas()[name] }

var betas = sync.OnceValue(func() map[string]Loss {
	out := map[string]Loss{}
	for _, c := range losses.List {
		lo, hi := spanOf(c)
		out[c.Name] = betaOf(c.Name, lo, c.Value, hi)
	}
	return out
})

// betaOf finds the Beta distribution with a median whose 5 % and 95 % quantiles come nearest to a span
// on the logit scale: for each size a+b one mean gives the median, and the size is searched.
func betaOf(name string, lo, median, hi float64) Loss {
	at := func(size float64) Loss {
		below, above := 0.0, 1.0 // mean
		for range 60 {
			m := (below + above) / 2
			if mathext.RegIncBeta(m*size, (1-m)*size, median) > 0.5 {
				below = m
			} else {
				above = m
			}
		}
		return Loss{A: below * size, B: (1 - below) * size}
	}
	miss := func(ln float64) float64 {
		l := at(math.Exp(ln))
		q := func(p float64) float64 {
			return logit(min(max(mathext.InvRegIncBeta(l.A, l.B, p), 1e-6), 1-1e-6))
		}
		return math.Hypot(q(0.05)-logit(lo), q(0.95)-logit(hi))
	}
	const golden = 0.6180339887498949
	a, b := math.Log(0.5), math.Log(500.0)
	for range 30 {
		c, d := b-golden*(b-a), a+golden*(b-a)
		if miss(c) < miss(d) {
			b = d
		} else {
			a = c
		}
	}
	l := at(math.Exp((a + b) / 2))
	return beta(name, l.A, l.B)
}
