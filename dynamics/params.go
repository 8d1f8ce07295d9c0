package dynamics

import (
	"fmt"
	"math"
	"strings"

	"halfwater/cite"
)

// Unknown names one of an enclosure's own constants: an index into [Params].
type Unknown int

// The unknowns, each with its unit; medians, spans and works stand in params.txt.
const (
	HeldWater       Unknown = iota // factor on [Course.Held]
	Evaporation                    // factor on the litres a day that the course loses between changes and top-ups replace
	GasExchange                    // kL of oxygen at 20 C, cm/h
	TankCO2                        // atm at rest, mean of the day
	Respiration                    // factor on the oxygen that food and mulm ask for
	Background                     // respiration beside it, mg O2/L/d
	Load                           // factor on the nitrogen of the book
	LabileRate                     // 1/d at 20 C
	SlowRate                       // 1/d at 20 C
	Alkali                         // share of ammonified N that brings its own alkalinity
	Leach                          // mg C/L/d
	AmmoniaGrowth                  // 1/d at 20 C
	NitriteGrowth                  // 1/d at 20 C
	Decay                          // 1/d at 20 C
	AmmoniaHalf                    // mg N/L
	NitriteHalf                    // mg N/L
	FrugalGrowth                   // 1/d at 20 C
	FrugalHalf                     // mg N/L
	AcidFelt                       // share of the book's slowing of both steps by acid water
	BicarbonateHalf                // meq/L
	Uptake                         // mg N/L/d per litre of full held water
	Denitrified                    // 1/d
	Stone                          // meq/L/d: + dissolves, - acid sink
	CarbonHolds                    // mg C/g
	Seepage                        // share of those litres that leave as water, with all that is dissolved in it
	UnwrittenSalt                  // mmol/L/d per litre of full held water: neutral salts that nobody writes down
	Unknowns                       // how many there are
)

var unknownNames = [Unknowns]string{
	"held water", "evaporation", "gas exchange", "tank co2", "respiration", "background respiration",
	"load", "labile rate", "slow rate", "alkali of ammonia", "leach",
	"ammonia growth", "nitrite growth", "decay", "ammonia half", "nitrite half", "frugal growth", "frugal half",
	"acid felt", "bicarbonate half",
	"uptake", "denitrification", "stone", "carbon holds", "seepage", "unwritten salt",
}

func (u Unknown) String() string { return unknownNames[u] }

// Params are the own constants of one enclosure, by [Unknown], each in its natural unit.
type Params [Unknowns]float64

// Book are the medians of the priors: what is taken while an enclosure has taught nothing.
func Book() Params {
	var p Params
	for u, prior := range priors {
		p[u] = prior.Median
	}
	return p
}

// FromZ are the params at standard normal scores, one per [Unknown].
func FromZ(z *[Unknowns]float64) Params {
	var p Params
	for u := range priors {
		p[u] = priors[u].At(z[u])
	}
	return p
}

// Shape is the scale on which a prior is normal.
type Shape string

// The shapes.
const (
	Ln    Shape = "ln"    // positive
	Logit Shape = "logit" // a share, 0 to 1
	Plain Shape = "plain" // any
)

// Prior is what is believed of one unknown before any reading.
type Prior struct {
	cite.Constant
	Shape  Shape
	Median float64
	SD     float64 // on the scale of the shape
}

// Prior is the prior of an unknown.
func (u Unknown) Prior() Prior { return priors[u] }

// At is the value at z standard deviations from the median.
func (p Prior) At(z float64) float64 {
	switch p.Shape {
	case Ln:
		return p.Median * math.Exp(p.SD*z)
	case Logit:
		return 1 / (1 + (1-p.Median)/p.Median*math.Exp(-p.SD*z))
	}
	return p.Median + p.SD*z
}

// Z is the inverse of [Prior.At]. x must lie where the shape allows it.
func (p Prior) Z(x float64) float64 {
	switch p.Shape {
	case Ln:
		return math.Log(x/p.Median) / p.SD
	case Logit:
		return (logit(x) - logit(p.Median)) / p.SD
	}
	return (x - p.Median) / p.SD
}

// About is the prior with another median, for what is known of the enclosure already (a planting, an
// age, an estimate of the held water).
func (p Prior) About(median float64) Prior { p.Median = median; return p }

func logit(x float64) float64 { return math.Log(x / (1 - x)) }

var priors = func() (out [Unknowns]Prior) {
	for u := range out {
		out[u] = priorOf(params, unknownNames[u])
	}
	return out
}()

// span95 is how many standard deviations lie between the 5 % and 95 % quantiles of a normal.
const span95 = 2 * 1.6448536269514722

func priorOf(t cite.Table, name string) Prior {
	for _, c := range t.List {
		if c.Name != name {
			continue
		}
		shape, rest, _ := strings.Cut(c.Doubt, ", ")
		p := Prior{Constant: c, Shape: Shape(shape), Median: c.Value}
		if n, _ := fmt.Sscanf(rest, "sd %g", &p.SD); n == 1 {
			return p
		}
		lo, hi := spanOf(c)
		switch p.Shape {
		case Ln:
			p.SD = math.Log(hi/lo) / span95
		case Logit:
			p.SD = (logit(hi) - logit(lo)) / span95
		default:
			p.SD = (hi - lo) / span95
		}
		return p
	}
	panic("dynamics: no prior for " + name)
}

// spanOf reads "5-95 %: lo-hi" out of a doubt.
func spanOf(c cite.Constant) (lo, hi float64) {
	_, span, ok := strings.Cut(c.Doubt, "5-95 %: ")
	for i := 1; ok && i < len(span)-1; i++ {
		if span[i] != '-' || span[i-1] == 'e' {
			continue
		}
		n, _ := fmt.Sscan(span[:i]+" "+span[i+1:], &lo, &hi)
		if n == 2 {
			return lo, hi
		}
	}
	panic("dynamics: no span for " + c.Name)
}
