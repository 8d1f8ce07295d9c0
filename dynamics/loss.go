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
}

// At is the share lost at a standard normal score: the quantile at its probability.
func (l Loss) At(z float64) float64 {
	if l.A == 0 {
		return l.Sure
	}
	p := 0.5 * math.Erfc(-z/math.Sqrt2)
	return mathext.InvRegIncBeta(l.A, l.B, min(max(p, 1e-9), 1-1e-9))
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
		return Loss{Of: name, A: below * size, B: (1 - below) * size}
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
	return at(math.Exp((a + b) / 2))
}
