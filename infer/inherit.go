package infer

import (
	"math"
	"slices"

	"halfwater/dynamics"
	"halfwater/infer/fit"
)

// inherit puts what was found before in the place of what books say: own constants as they hang together, drawn
// towards the books by what half a year may change, and the water at the beginning with half as much
// doubt again. Lots begin anew.
func (q *question) inherit(p *past) {
	q.Carried = q.constants(p)
	q.levels(p)
}

// anew are the own constants that are not carried over: each course has its evaporation from its own top-ups; and
// the water's CO2 is told by the pH pen alone, whose bias goes on from window to window and would count as new evidence in each.
var anew = []dynamics.Unknown{dynamics.Evaporation, dynamics.TankCO2}

// constants is a normal of the own constants: rho times what was found, with what that leaves of the book's doubt.
func (q *question) constants(p *past) *fit.Carried {
	draws := slices.Clone(p.draws)
	for i := range draws { // the same litres under another nominal volume
		draws[i].Params[dynamics.HeldWater] *= p.held / q.Course.Held
	}
	keeps := math.Pow(value("carry.keeps"), float64(2*season/week)/2)
	scores := q.scores(draws)
	found := fit.NewSymmetric(len(scores))
	var c fit.Carried
	for u := range scores {
		c.Mean[u] = keeps * middling(scores[u])
		for v := range u + 1 {
			x := keeps * keeps * covariance(scores[u], scores[v])
			if u == v {
				x += 1 - keeps*keeps
			}
			found[u][v] = x
		}
	}
	for _, u := range anew {
		for v := range scores {
			found[max(int(u), v)][min(int(u), v)] = 0
		}
		found[u][u] = 1
		c.Mean[u] = 0
	}
	root, _ := found.Root() // positive definite: what half a year leaves open stands on the diagonal
	for u, row := range root {
		copy(c.Root[u][:], row)
	}
	return &c
}

// level is a quantity of the water, or of what lives in it, that is carried over by its logarithm.
type level struct {
	name  string
	doubt string  // the least that is left of it: a row of the constants
	shift float64 // added before the logarithm is taken
	of    func(s *dynamics.State) float64
}

const carriedOn = 13

var levelsCarried = [carriedOn]level{
	{"begin hardness", "carry.ions", 0.01, func(s *dynamics.State) float64 { return (s.Ca + s.Mg) / s.Volume }},
	{"begin alkalinity", "carry.ions", 0.1, func(s *dynamics.State) float64 { return math.Max(s.Alk/s.Volume, 0) }},
	{"begin salt", "carry.ions", 0.01, func(s *dynamics.State) float64 { return (s.Na + s.K + s.Cl) / s.Volume }},
	{"begin nitrate", "carry.nitrate", 0.5, func(s *dynamics.State) float64 { return s.NO3 / s.Volume }},
	{"begin ammonia", "carry.made", 1e-3, func(s *dynamics.State) float64 { return s.TAN / s.Volume }},
	{"begin nitrite", "carry.made", 1e-3, func(s *dynamics.State) float64 { return s.NO2 / s.Volume }},
	{"begin phosphate", "carry.made", 0.02, func(s *dynamics.State) float64 { return s.PO4 / s.Volume }},
	{"begin humic matter", "carry.made", 0.2, func(s *dynamics.State) float64 { return s.DOC / s.Volume }},
	{"begin labile mulm", "carry.made", 1e-3, func(s *dynamics.State) float64 { return s.Labile }},
	{"begin slow mulm", "carry.made", 1e-3, func(s *dynamics.State) float64 { return s.Slow }},
	{"begin ammonia oxidisers", "carry.made", 1e-3, func(s *dynamics.State) float64 { f := s.Filter(); return f.Ammonia }},
	{"begin frugal oxidisers", "carry.made", 1e-3, func(s *dynamics.State) float64 { f := s.Filter(); return f.Frugal }},
	{"begin nitrite oxidisers", "carry.made", 1e-3, func(s *dynamics.State) float64 { f := s.Filter(); return f.Nitrite }},
}

// levels is the beginning as the histories before left it.
func (q *question) levels(p *past) {
	var logs [carriedOn][]float64
	for k, l := range levelsCarried {
		for i := range p.draws {
			logs[k] = append(logs[k], math.Log(l.of(&p.draws[i].End)+l.shift))
		}
	}
	doubt := fit.NewSymmetric(carriedOn)
	var middle [carriedOn]float64
	wider := square(value("carry.wider"))
	q.Starts = nil
	for k, l := range levelsCarried {
		q.Starts = append(q.Starts, l.name)
		middle[k] = middling(logs[k])
		for j := range k + 1 {
			x := wider * covariance(logs[k], logs[j])
			if j == k {
				x += square(value(l.doubt))
			}
			doubt[k][j] = x
		}
	}
	root, _ := doubt.Root()
	end := meanEnd(p.draws)
	course := q.Course
	q.Problem.Start = func(own *dynamics.Params, z []float64) dynamics.State {
		var at [carriedOn]float64
		for k, row := range root {
			x := middle[k]
			for j, r := range row {
				x += r * z[j]
			}
			at[k] = math.Max(math.Exp(x)-levelsCarried[k].shift, 0)
		}
		return resumed(course, own, &end, &at)
	}
}

// resumed is the enclosure of a state with other levels, in the order of levelsCarried, at the beginning of a course.
func resumed(c *dynamics.Course, own *dynamics.Params, end *dynamics.State, at *[carriedOn]float64) dynamics.State {
	hard, salty := at[0]/math.Max(end.Ca+end.Mg, 1e-9), at[2]/math.Max(end.Na+end.K+end.Cl, 1e-9)
	w := dynamics.Water{
		Ca: hard * end.Ca, Mg: hard * end.Mg, Na: salty * end.Na, K: salty * end.K, Cl: salty * end.Cl, SO4: end.SO4,
		Alk: at[1], NO3: at[3], TAN: at[4], NO2: at[5], PO4: at[6], DOC: at[7],
	}
	neutral(&w)
	s := c.Fill(own, w)
	s.Labile, s.Slow = at[8], at[9]
	elsewhere := end.Strength[dynamics.Elsewhere].Ammonia / math.Max(end.Filter().Ammonia, 1e-9)
	c.Place(&s, dynamics.Nitrifiers{Ammonia: at[10], Frugal: at[11], Nitrite: at[12]}, elsewhere)
	s.Carbon, s.Loaded, s.Film = end.Carbon, end.Loaded, end.Film
	return s
}

// meanEnd is the mean of where histories ended, ions per litre.
func meanEnd(draws []fit.History) dynamics.State {
	end := draws[0].End
	end.Ca, end.Mg, end.Na, end.K, end.Cl, end.SO4 = 0, 0, 0, 0, 0, 0
	for i := range draws {
		s := &draws[i].End
		per := 1 / (s.Volume * float64(len(draws)))
		end.Ca += s.Ca * per
		end.Mg += s.Mg * per
		end.Na += s.Na * per
		end.K += s.K * per
		end.Cl += s.Cl * per
		end.SO4 += s.SO4 * per
	}
	return end
}
