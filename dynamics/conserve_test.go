package dynamics

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// anyWater is a neutral water of plausible content.
func anyWater(t *rapid.T, name string) Water {
	f := func(what string, hi float64) float64 { return rapid.Float64Range(0, hi).Draw(t, name+" "+what) }
	w := Water{
		Ca: f("Ca", 4), Mg: f("Mg", 2), Na: f("Na", 3), K: f("K", 0.5), Cl: f("Cl", 3), SO4: f("SO4", 2),
		Alk: f("Alk", 5), DIC: 0.1 + f("DIC", 6), TAN: f("TAN", 1), Chloramine: f("chloramine", 0.5), NO2: f("NO2", 0.5), NO3: f("NO3", 15),
		PO4: f("PO4", 1), DOC: f("DOC", 20), Oxygen: f("O2", 10), Volume: 1, Temp: rapid.Float64Range(5, 30).Draw(t, name+" temp"),
	}
	if open := w.Cl + 2*w.SO4 + w.Alk + (w.NO3+w.NO2-w.TAN)/molarN + w.PO4/molarP - 2*w.Ca - 2*w.Mg - w.Na - w.K; open > 0 {
		w.Na += open
	} else {
		w.Cl -= open
	}
	return w
}

func anyParams(t *rapid.T) Params {
	var z [Unknowns]float64
	for i := range z {
		z[i] = rapid.Float64Range(-2.5, 2.5).Draw(t, unknownNames[i])
	}
	return FromZ(&z)
}

// anyCourse is three weeks with events of every kind at odd moments.
func anyCourse(t *rapid.T) *Course {
	c := weekly(21, rapid.Float64Range(5, 500).Draw(t, "held"), 0, 0)
	load := c.Held * rapid.Float64Range(0, 3).Draw(t, "load")
	c.Pieces = nil
	for from := 0.0; from < c.Days; from += 7 {
		c.Pieces = append(c.Pieces, Piece{
			From: from, To: from + 7, TAN: 0.6 * load, Labile: 0.2 * load, Slow: 0.2 * load, PO4: 0.1 * load, Leach: rapid.Float64Range(0, 50).Draw(t, "leach"),
			Temp: rapid.Float64Range(8, 30).Draw(t, "temp"), Evaporation: c.Held * rapid.Float64Range(0, 0.05).Draw(t, "vapour"), NoFlow: rapid.Bool().Draw(t, "stop"),
		})
	}
	n := rapid.IntRange(0, 6).Draw(t, "events")
	for i := range n {
		e := Event{
			Day:  (float64(i) + rapid.Float64Range(0, 1).Draw(t, "when")) * c.Days / float64(n),
			Kind: Kind(rapid.IntRange(0, int(Skimmed)).Draw(t, "kind")), Mulm: 0.3,
		}
		switch e.Kind {
		case Poured:
			e.Out, e.In = c.Held*rapid.Float64Range(0, 1.2).Draw(t, "out"), c.Held*rapid.Float64Range(0, 0.6).Draw(t, "in")
			e.ToMark, e.Binds = rapid.Bool().Draw(t, "to mark"), rapid.Bool().Draw(t, "binds")
			e.Pour = anyWater(t, "pour")
			e.Tap = hardness(e.Pour)
			c.Changes++
			e.Change = c.Changes
		case Dosed:
			e.Salts = Water{Na: 5, Alk: 5, DIC: 5}
			e.Binds = rapid.Bool().Draw(t, "binds")
		case Lost:
			c.Losses = append(c.Losses, Loss{Sure: rapid.Float64Range(0, 1).Draw(t, "lost")})
			e.Loss, e.Places[rapid.IntRange(0, 2).Draw(t, "place")] = len(c.Losses), true
		case Renewed:
			e.Grams = 50
		case Disturbed:
			e.Share = rapid.Float64Range(0, 1).Draw(t, "bed")
		case Trimmed:
			e.N = 50
		}
		c.Events = append(c.Events, e)
	}
	if rapid.Bool().Draw(t, "level kept") {
		c.Events = append(c.Events, Event{Day: c.Days, Kind: Template, Pour: anyWater(t, "top-up")})
		for i := range c.Pieces {
			c.Pieces[i].TopUp = len(c.Events)
		}
	}
	return c
}

// balances are what never changes: what is there, plus what went, less what came.
func balances(s *State) map[string]float64 {
	g, o := &s.Given, &s.Gone
	return map[string]float64{
		"N": s.Nitrogen() + o.N - g.N, "P": s.PO4 + s.PlantP + o.P - g.P,
		"Ca": s.Ca + o.Ca - g.Ca, "Mg": s.Mg + o.Mg - g.Mg, "Na": s.Na + o.Na - g.Na, "K": s.K + o.K - g.K,
		"Cl": s.Cl + o.Cl - g.Cl, "SO4": s.SO4 + o.SO4 - g.SO4, "litres": s.Volume + o.Litres - g.Litres, "charge": s.Charge(),
	}
}

// sizes are how much of each was ever about, for the tolerance.
func sizes(s *State) map[string]float64 {
	g, o := &s.Given, &s.Gone
	nitrogen := s.Nitrogen() + g.N + o.N + math.Abs(s.Plants)
	return map[string]float64{
		"N": nitrogen, "P": s.PO4 + g.P + o.P + math.Abs(s.PlantP), "Ca": s.Ca + math.Abs(g.Ca) + o.Ca, "Mg": s.Mg + g.Mg + o.Mg,
		"Na": s.Na + g.Na + o.Na, "K": s.K + g.K + o.K, "Cl": s.Cl + g.Cl + o.Cl, "SO4": s.SO4 + g.SO4 + o.SO4, "litres": s.Volume + g.Litres + o.Litres,
		"charge": 2*(s.Ca+s.Mg+s.SO4+math.Abs(g.Ca)+g.Mg+g.SO4+o.Ca+o.Mg+o.SO4) + s.Na + s.Cl + g.Na + g.Cl + o.Na + o.Cl + nitrogen/molarN,
	}
}

func held(t interface{ Errorf(string, ...any) }, was, is *State, relative float64) {
	before, after, size := balances(was), balances(is), sizes(is)
	for k, x := range before {
		if d := math.Abs(after[k] - x); !(d <= relative*(size[k]+1e-3*is.Volume)) {
			t.Errorf("%s is off by %g of %g", k, d, size[k])
		}
	}
}

// TestEachProcessConserves: every law moves nitrogen, phosphorus, ions, water and charge without making any.
func TestEachProcessConserves(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, p := anyCourse(t), anyParams(t)
		d := c.Deviations()
		s := c.Mature(&p, anyWater(t, "first"), 0.3, 0.5)
		s.Bound, s.Carbon, s.Loaded, s.PCO2 = 3, 20, 5, 3e-4
		s.Alk += s.Bound / molarN // neutral still: what seeps away takes no charge with it
		var x scene
		x.begin(c, &p, s)
		x.enter(c, &d, &c.Pieces[0], 0)
		x.look()
		for _, process := range processes {
			slope := State{}
			process.add(&x, &slope)
			for k, v := range balances(&slope) {
				if scale := sizes(&x.State)[k]; math.Abs(v) > 1e-12*(scale+1) {
					t.Errorf("%s makes %s: %g a day", process.Name, k, v)
				}
			}
		}
	})
}

// TestRunsConserve: whatever happens, nothing is made or lost, nothing passes below zero, and every number
// is one.
func TestRunsConserve(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, p := anyCourse(t), anyParams(t)
		d := c.Deviations()
		for i := range d.Tap {
			d.Tap[i] = rapid.Float64Range(-0.3, 0.3).Draw(t, "tap")
		}
		for i := range d.Litres {
			d.Litres[i] = rapid.Float64Range(-0.3, 0.3).Draw(t, "litres")
		}
		var s State
		if rapid.Bool().Draw(t, "mature") {
			s = c.Mature(&p, anyWater(t, "first"), 0.3, 0.5)
		} else {
			s = c.New(&p, anyWater(t, "first"), 1e-3, 0.3)
		}
		was := s
		for _, pace := range []Pace{Coarse, Careful} {
			e := c.Run(&p, &d, s, c.Days, nil, nil, pace)
			held(t, &was, &e, 1e-10)
			for i, q := range e.all() {
				if math.IsNaN(*q) || math.IsInf(*q, 0) {
					t.Fatalf("part %d of the state is %g", i, *q)
				}
			}
			for what, q := range map[string]float64{
				"volume": e.Volume, "TAN": e.TAN, "nitrite": e.NO2, "nitrate": e.NO3, "PO4": e.PO4, "oxygen": e.Oxygen, "DOC": e.DOC, "mulm": min(e.Labile, e.Slow),
				"Ca": e.Ca, "strength": min(e.Filter().Ammonia, e.Filter().Frugal, e.Filter().Nitrite), "CO2": e.PCO2,
			} {
				if q < 0 {
					t.Errorf("%s is %g", what, q)
				}
			}
		}
	})
}

// TestResumed: a run that goes on from a written state repeats the first run to the last bit.
func TestResumed(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, p := anyCourse(t), anyParams(t)
		d := c.Deviations()
		s := c.Mature(&p, anyWater(t, "first"), 0.3, 0.5)
		at := []float64{3, 7, 11.3, 14, 18, 21}
		out, again := make([]State, len(at)), make([]State, len(at))
		from := rapid.IntRange(0, len(at)-2).Draw(t, "from")
		for _, pace := range []Pace{Quick, Careful} {
			c.Run(&p, &d, s, 21, at, out, pace)
			c.Run(&p, &d, out[from], 21, at[from+1:], again[from+1:], pace)
			for i := from + 1; i < len(at); i++ {
				if out[i] != again[i] {
					t.Fatalf("day %g differs", at[i])
				}
			}
		}
	})
}
