package water

import (
	_ "embed"
	"math"
	"sort"

	"halfwater/cite"
	"halfwater/quantity"
)

//go:embed priors.txt
var priorsText string

var priors = cite.MustParse(priorsText)

// draw is one choice among the usual, each 0 to 1: Ca:Mg, NO3, K share, Cl share, Na, KH share, EC error.
type draw [7]float64

// prior is what is usual of one free number: log-normal with a median and 5 % and 95 %.
type prior struct{ middle, low, high float64 }

func priorOf(name string) prior {
	return prior{priors.Value(name + ", middle"), priors.Value(name + ", low"), priors.Value(name + ", high")}
}

// at is the quantile u.
func (p prior) at(u float64) float64 {
	const z95 = 1.6448536269514722
	z := math.Sqrt2 * math.Erfinv(2*u-1) / z95
	if z < 0 {
		return p.middle * math.Exp(z*math.Log(p.middle/p.low))
	}
	return p.middle * math.Exp(z*math.Log(p.high/p.middle))
}

// span is a free number with even odds between two ends.
type span struct{ low, high float64 }

func spanOf(name string) span {
	return span{priors.Value(name + ", low"), priors.Value(name + ", high")}
}

func (s span) at(u float64) float64 { return s.low + u*(s.high-s.low) }

var (
	usualCaMg, usualNO3     = priorOf("Ca:Mg"), priorOf("NO3")
	usualNa, usualKShare    = priorOf("Na"), priorOf("K:Na+K")
	usualClShare, usualAlk  = spanOf("Cl share"), spanOf("alkalinity share")
	ecError, ecDisagreement = priors.Value("EC error"), priors.Value("EC disagreement")
	pureEC, mostImbalance   = priors.Value("pure EC"), priors.Value("imbalance")
)

// bands draws the freedoms and takes quantiles.
func (p *puzzle) bands(out *Completed) {
	const draws = 200
	var got [8][]float64
	q := *p
	q.known.Temperature = 25 // conductivity is stated at 25 C; the pH's own shift is nothing to a band
	for i := range draws {
		d := halton(i + 1)
		c, err := q.solve(d)
		if err != nil || c.check() != nil {
			continue
		}
		for k, x := range [...]float64{float64(c.Ca), float64(c.Mg), float64(c.Na), float64(c.K), float64(c.Cl), float64(c.SO4), float64(c.NO3), float64(c.Alk)} {
			got[k] = append(got[k], x)
		}
	}
	for k, b := range [...]*quantity.Band[Molality]{&out.Ca, &out.Mg, &out.Na, &out.K, &out.Cl, &out.SO4, &out.NO3} {
		*b = bandOf[Molality](got[k])
	}
	out.Alk = bandOf[Equivalents](got[7])
}

func bandOf[Q quantity.Number](x []float64) quantity.Band[Q] {
	if len(x) == 0 {
		return quantity.Band[Q]{}
	}
	sort.Float64s(x)
	at := func(q float64) Q {
		i := q * float64(len(x)-1)
		k := min(int(i), len(x)-2)
		if len(x) == 1 {
			return Q(x[0])
		}
		return Q(x[k] + (i-float64(k))*(x[k+1]-x[k]))
	}
	return quantity.Band[Q]{Low: at(0.05), Lo: at(0.1), Median: at(0.5), Hi: at(0.9), High: at(0.95)}
}

// halton is the i-th point of the Halton sequence in seven dimensions.
func halton(i int) (d draw) {
	for k, base := range [...]int{2, 3, 5, 7, 11, 13, 17} {
		f, n := 1.0, i
		for n > 0 {
			f /= float64(base)
			d[k] += f * float64(n%base)
			n /= base
		}
	}
	return d
}
