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

// worst runs draws of the priors through a course and gives, for each pace and quantity, the largest error over all
// days and draws, in per cent of half a kit step.
func worst(c *Course, start func(p *Params) State, draws int, paces []Pace) [][]float64 {
	r := rand.New(rand.NewPCG(7, 3))
	var days []float64
	for d := 0.5; d < c.Days; d++ {
		days = append(days, d)
	}
	off := make([][]float64, len(paces))
	for i := range off {
		off[i] = make([]float64, len(halfSteps))
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
		for k, pace := range paces {
			c.Run(&p, &d, s, c.Days, days, got, pace)
			for i := range days {
				for q, h := range halfSteps {
					x, y := h.of(&truth[i]), h.of(&got[i])
					e := 100 * math.Abs(x-y) / halfStep(h.steps, x)
					if math.IsNaN(e) {
						e = math.Inf(1)
					}
					off[k][q] = max(off[k][q], e)
				}
			}
		}
	}
	return off
}

var namedPaces = []struct {
	name string
	Pace
}{
	{"careful", Careful},
	{"quick", Quick},
	{"coarse", Coarse},
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
var oracleDraws = 20

// TestAgainstReference holds the careful pace to the tight integration of the same laws on every draw, those that run
// out of oxygen or of KH among them (self-computed: it says that the sweep is right, not that the laws are). The quick
// pace may miss three half steps, a bound set after it was seen to miss 2.3 at worst of 200 draws. What all gave stands in
// doc/dynamics.md.
func TestAgainstReference(t *testing.T) {
	calm := weekly(182, 100, 40, 0.2)
	serviced := withService(weekly(182, 100, 40, 0.2), 60)
	soft := withService(weekly(182, 100, 40, 0.2), 60)
	weak := neutral(Water{Ca: 0.3, Mg: 0.1, Na: 0.9, K: 0.05, Cl: 1.0, SO4: 0.1, Alk: 0.6, DIC: 0.65, NO3: 2.8, PO4: 0.1, DOC: 1.5, Oxygen: 9, Volume: 1, Temp: 18})
	for i := range soft.Events {
		soft.Events[i].Pour, soft.Events[i].Tap = weak, hardness(weak)
	}
	most := map[string]float64{"careful": 1, "quick": 300} // of half a kit step, %
	for _, kind := range []struct {
		name  string
		c     *Course
		start func(p *Params) State
	}{
		{"mature", calm, func(p *Params) State { return calm.Mature(p, neutral(tap), 0.2, 0.5) }},
		{"one stage rinsed under the tap on day 60", serviced, func(p *Params) State { return serviced.Mature(p, neutral(tap), 0.2, 0.5) }},
		{"new", serviced, func(p *Params) State { return serviced.New(p, neutral(tap), 1e-3, 0.2) }},
		{"soft: KH runs out", soft, func(p *Params) State { return soft.Mature(p, weak, 0.2, 0.5) }},
	} {
		off := worst(kind.c, kind.start, oracleDraws, paces())
		report(t, kind.name, off)
		for k, pace := range namedPaces {
			for i, e := range off[k] {
				if bound, held := most[pace.name]; held && !(e <= bound) {
					t.Errorf("%s, %s: %s is off by %.2g %% of half a kit step", kind.name, pace.name, halfSteps[i].name, e)
				}
			}
		}
	}
}
