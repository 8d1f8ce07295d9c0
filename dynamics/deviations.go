package dynamics

import "math"

// Deviations are what one history has beside its constants: how each week, month, change and service
// strayed from the book. The zero of every entry is "as the book has it"; [Course.Deviations] makes
// a set of the right lengths. Indices past the end count as zero.
type Deviations struct {
	Feed   []float64 // ln factor on the load of week i (7 days from Course.From)
	Uptake []float64 // ln factor on plant uptake of month i (28 days)
	Tap    []float64 // ln factor on Ca, Mg and alkalinity of tap water of month i
	Litres []float64 // ln factor on the litres of change i, see [Event.Change]
	// Loss is the share of nitrifiers lost in event i, see [Event.Loss]; [Course.Losses] has the priors.
	Loss []float64
}

// Week and Month are the lengths of the deviations, days.
const (
	Week  = 7
	Month = 28
)

// Deviations are those of the book: no deviation, and every loss at its median.
func (c *Course) Deviations() Deviations {
	weeks := int(math.Ceil(c.Days/Week)) + 1
	months := int(math.Ceil(c.Days/Month)) + 1
	d := Deviations{
		Feed: make([]float64, weeks), Uptake: make([]float64, months), Tap: make([]float64, months),
		Litres: make([]float64, c.Changes), Loss: make([]float64, len(c.Losses)),
	}
	for i, l := range c.Losses {
		d.Loss[i] = l.Median()
	}
	return d
}

// Chain is an autoregression of the first order with a stationary standard deviation, or, with Phi 1, a
// random walk from zero whose steps have that deviation.
type Chain struct{ Phi, SD float64 }

// FeedChain, UptakeChain and TapChain are the priors of the deviations; LitresSD is that of each
// change's ln litres.
var (
	FeedChain   = Chain{table.Value("week feed phi"), table.Value("week feed sd")}
	UptakeChain = Chain{1, table.Value("month uptake sd")}
	TapChain    = Chain{table.Value("month tap phi"), table.Value("month tap sd")}
	LitresSD    = table.Value("change litres sd")
)

// From turns independent standard normal scores into a history of the chain. out may be z.
func (c Chain) From(z, out []float64) {
	x := 0.0
	for i, e := range z {
		switch {
		case c.Phi == 1:
			x += c.SD * e
		case i == 0:
			x = c.SD * e
		default:
			x = c.Phi*x + math.Sqrt(1-c.Phi*c.Phi)*c.SD*e
		}
		out[i] = x
	}
}

func at(x []float64, i int) float64 {
	if i < len(x) {
		return x[i]
	}
	return 0
}
