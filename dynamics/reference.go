package dynamics

import "math"

// Reference does what [Course.Run] does by the sum of [Processes] and the pair of Dormand and Prince of
// orders 5 and 4 with its step set by the error (tolerance relative to each amount, 1e-9 is tight). It is the
// oracle that the fast sweep is tested against: slow, with no step of its own choosing that could hide an
// error.
func (c *Course) Reference(p *Params, d *Deviations, s State, to float64, outAt []float64, out []State, tolerance float64) State {
	var x scene
	x.begin(c, p, s)
	w := walk{c: c, d: d, to: to, outAt: outAt, out: out, until: s.Day}
	for span, more := w.next(&x); more; span, more = w.next(&x) {
		x.dormandPrince(span, tolerance)
	}
	return x.State
}

// slope is the sum of all processes at a state.
func (x *scene) slope(at *State, d *State) {
	kept := x.State
	x.State = *at
	x.look()
	*d = State{}
	for i := range processes {
		processes[i].add(x, d)
	}
	x.State = kept
}

// Dormand and Prince 1980, J. Comput. Appl. Math. 6:19-26.
var (
	dpA = [7][6]float64{
		{},
		{1. / 5},
		{3. / 40, 9. / 40},
		{44. / 45, -56. / 15, 32. / 9},
		{19372. / 6561, -25360. / 2187, 64448. / 6561, -212. / 729},
		{9017. / 3168, -355. / 33, 46732. / 5247, 49. / 176, -5103. / 18656},
		{35. / 384, 0, 500. / 1113, 125. / 192, -2187. / 6784, 11. / 84},
	}
	dpE = [7]float64{71. / 57600, 0, -71. / 16695, 71. / 1920, -17253. / 339200, 22. / 525, -1. / 40}
)

func (x *scene) dormandPrince(span, tolerance float64) {
	var k [7]State
	s := &x.State
	h := min(span, 1e-3)
	for t := 0.0; t < span*(1-1e-12); {
		h = min(h, span-t)
		x.slope(s, &k[0])
		var next State
		for stage := 1; stage < 7; stage++ {
			next = *s
			for j := range stage {
				next.plus(&k[j], h*dpA[stage][j])
			}
			x.slope(&next, &k[stage])
		}
		var miss State
		for j := range k {
			miss.plus(&k[j], h*dpE[j])
		}
		e := 0.0
		was, off := s.all(), miss.all()
		for i := range was {
			e = max(e, math.Abs(*off[i])/(tolerance*(math.Abs(*was[i])+1e-3)))
		}
		e = max(e, math.Abs(miss.PCO2)/(tolerance*(s.PCO2+1e-6)))
		if e <= 1 {
			*s = next
			t += h
		}
		h *= min(max(0.9*math.Pow(e+1e-10, -0.2), 0.2), 5)
	}
}

// plus adds h times a slope.
func (s *State) plus(d *State, h float64) {
	if h == 0 {
		return
	}
	to, from := s.all(), d.all()
	for i := range to {
		*to[i] += h * *from[i]
	}
}

// all are the parts of a state that processes move, in a fixed order.
func (s *State) all() [26 + 2*9 + 3*Parts]*float64 {
	a := [26 + 2*9 + 3*Parts]*float64{
		&s.Volume, &s.Ca, &s.Mg, &s.Na, &s.K, &s.Cl, &s.SO4, &s.Alk, &s.DOC, &s.Carbon, &s.Loaded,
		&s.Labile, &s.Slow, &s.TAN, &s.Bound, &s.Chloramine, &s.NO2, &s.NO3, &s.PO4,
		&s.Oxygen, &s.PCO2, &s.Temp, &s.Film, &s.Plants, &s.Gas, &s.PlantP,
	}
	i := 26
	for _, l := range [...]*Ledger{&s.Given, &s.Gone} {
		for _, q := range [...]*float64{&l.N, &l.P, &l.Ca, &l.Mg, &l.Na, &l.K, &l.Cl, &l.SO4, &l.Litres} {
			a[i] = q
			i++
		}
	}
	for j := range s.Strength {
		n := &s.Strength[j]
		a[i], a[i+1], a[i+2] = &n.Ammonia, &n.Frugal, &n.Nitrite
		i += 3
	}
	return a
}
