package dynamics

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
)

// halfSteps is what the error of a run is measured in: half the gap between the printed steps of usual
// kits around a value (cards of section 13 of the design's reference, common practice), in canonical
// units.
var halfSteps = []struct {
	name  string
	of    func(s *State) float64
	steps []float64 // printed, in canonical units; one value is the same gap everywhere
}{
	{"TAN", func(s *State) float64 { return s.TAN / s.Volume }, scaled(1/1.288, 0, .25, .5, 1, 2, 4, 8, 16)},
	{"NO2", func(s *State) float64 { return s.NO2 / s.Volume }, scaled(1/3.284, 0, .25, .5, 1, 2, 5, 10, 50)},
	{"NO3", func(s *State) float64 { return s.NO3 / s.Volume }, scaled(1/4.427, 0, 5, 10, 20, 40, 80, 160, 320)},
	{"PO4", func(s *State) float64 { return s.PO4 / s.Volume }, scaled(1/3.066, 0, .25, .5, 1, 2, 5, 10, 20)},
	{"pH", func(s *State) float64 { return float64(s.PH()) }, []float64{0.2}},
	{"KH", func(s *State) float64 { return float64(s.KH()) }, []float64{1}},
	{"GH", func(s *State) float64 { return float64(s.GH()) }, []float64{1}},
	{"O2", func(s *State) float64 { return s.Oxygen / s.Volume }, []float64{1}},
	{"DOC", func(s *State) float64 { return s.DOC / s.Volume }, []float64{1}},
}

func scaled(k float64, x ...float64) []float64 {
	for i := range x {
		x[i] *= k
	}
	return x
}

func halfStep(steps []float64, x float64) float64 {
	if len(steps) == 1 {
		return steps[0] / 2
	}
	i, _ := slices.BinarySearch(steps, x)
	i = min(max(i, 1), len(steps)-1)
	return (steps[i] - steps[i-1]) / 2
}

// worst runs draws of the priors through a course and gives, for each quantity, the largest error of a
// pace over all days and draws, in per cent of half a kit step.
// Draws in which the mean oxygen falls under 3 mg/L on a day are counted apart: near the end of oxygen
// everything is stiff.
func worst(c *Course, start func(p *Params) State, draws int, paces []Pace) (airy, airless [][]float64, n int) {
	r := rand.New(rand.NewPCG(7, 3))
	var days []float64
	for d := 0.5; d < c.Days; d++ {
		days = append(days, d)
	}
	airy, airless = make([][]float64, len(paces)), make([][]float64, len(paces))
	for i := range airy {
		airy[i], airless[i] = make([]float64, len(halfSteps)), make([]float64, len(halfSteps))
	}
	truth, got := make([]State, len(days)), make([]State, len(days))
	for range draws {
		p := drawn(r)
		d := c.Deviations()
		for i := range d.Feed {
			d.Feed[i] = 0.25 * r.NormFloat64()
		}
		s := start(&p)
		c.Reference(&p, &d, s, c.Days, days, truth, 1e-8)
		out := airy
		if slices.ContainsFunc(truth, func(s State) bool { return s.Oxygen < airyLine*s.Volume }) {
			out = airless
			n++
		}
		for k, pace := range paces {
			c.Run(&p, &d, s, c.Days, days, got, pace)
			for i := range days {
				for q, h := range halfSteps {
					x, y := h.of(&truth[i]), h.of(&got[i])
					e := 100 * math.Abs(x-y) / halfStep(h.steps, x)
					if math.IsNaN(e) {
						e = math.Inf(1)
					}
					out[k][q] = max(out[k][q], e)
				}
			}
		}
	}
	return airy, airless, n
}

var namedPaces = []struct {
	name string
	Pace
}{
	{"coarse", Coarse},
	{"quick", Quick},
	{"careful", Careful},
	{"1/2", Pace{Step: 1. / 2, Laden: 1e9, Uneasy: 1e9, Fine: 1}},
	{"1/4", Pace{Step: 1. / 4, Laden: 1e9, Uneasy: 1e9, Fine: 1}},
	{"1/8", Pace{Step: 1. / 8, Laden: 1e9, Uneasy: 1e9, Fine: 1}},
	{"1/2 third", Pace{Step: 1. / 2, Third: true, Laden: 1e9, Uneasy: 1e9, Fine: 1}},
	{"1/4 third", Pace{Step: 1. / 4, Third: true, Laden: 1e9, Uneasy: 1e9, Fine: 1}},
	{"1/8 third", Pace{Step: 1. / 8, Third: true, Laden: 1e9, Uneasy: 1e9, Fine: 1}},
}

func report(t *testing.T, kind string, errors [][]float64) {
	var b strings.Builder
	fmt.Fprintf(&b, "%s: error in %% of half a kit step\n%-10s", kind, "")
	for _, h := range halfSteps {
		fmt.Fprintf(&b, "%8s", h.name)
	}
	for i, n := range namedPaces {
		fmt.Fprintf(&b, "\n%-10s", n.name)
		for _, e := range errors[i] {
			fmt.Fprintf(&b, "%8.2g", e)
		}
	}
	t.Log(b.String())
}

func paces() (out []Pace) {
	for _, n := range namedPaces {
		out = append(out, n.Pace)
	}
	return out
}

// oracleDraws is how many draws of the priors are compared; the long tests take more.
var oracleDraws = 3

// TestAgainstReference holds the sweep to the tight integration of the same laws (self-computed: it
// says that the sweep is right, not that the laws are). What it gave stands in doc/dynamics.md.
func TestAgainstReference(t *testing.T) {
	c := withService(weekly(182, 100, 40, 0.2), 60)
	for _, kind := range []struct {
		name  string
		start func(p *Params) State
		most  float64 // of half a kit step, careful pace, %
	}{
		{"mature, one stage rinsed under the tap on day 60", func(p *Params) State { return c.Mature(p, neutral(tap), 0.2, 0.5) }, 2},
		{"new", func(p *Params) State { return c.New(p, neutral(tap), 1e-3, 0.2) }, 2},
	} {
		airy, airless, n := worst(c, kind.start, oracleDraws, paces())
		report(t, kind.name, airy)
		report(t, fmt.Sprintf("%s, %d of %d draws with a day under %g mg O2/L", kind.name, n, oracleDraws, airyLine), airless)
		for i, e := range airy[carefulAt] {
			if e > kind.most {
				t.Errorf("%s: %s is off by %.2g %% of half a kit step", kind.name, halfSteps[i].name, e)
			}
		}
	}
}

const (
	airyLine  = 3.0 // mg O2/L
	carefulAt = 2   // in namedPaces
)
