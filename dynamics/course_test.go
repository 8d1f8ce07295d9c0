package dynamics

import (
	"math"
	"math/rand/v2"
	"testing"
	"time"
)

// tap is a moderately hard tap water; rain is nearly nothing. Invented.
var (
	tap = Water{Ca: 1.6, Mg: 0.4, Na: 0.9, K: 0.05, Cl: 1.0, SO4: 0.5, Alk: 2.6 + 0.1 - 0.2, DIC: 2.7, NO3: 2.8, PO4: 0.1, DOC: 1.5, Oxygen: 9, Volume: 1, Temp: 18}
	ro  = Water{Ca: 0.02, Mg: 0.01, Na: 0.1, Cl: 0.06, Alk: 0.1, DIC: 0.12, Oxygen: 8, Volume: 1, Temp: 20}
)

func neutral(w Water) Water {
	w.Na += w.Cl + 2*w.SO4 + w.Alk + w.NO3/molarN + w.NO2/molarN + w.PO4/molarP - 2*w.Ca - 2*w.Mg - w.Na - w.K - w.TAN/molarN
	return w
}

// weekly is an enclosure with two stages, fed so much a day, with a change every week.
func weekly(days, held, load, changed float64) *Course {
	c := &Course{
		From: time.Date(2025, 3, 3, 0, 0, 0, 0, time.UTC), Days: days, Held: held, Surface: held / 400, Pressure: 1,
		Stages: []string{"sponge", "ceramic"}, Light: Light{8, 10, 18},
		Pieces: []Piece{{To: days, TAN: 0.6 * load, Labile: 0.25 * load, Slow: 0.1 * load, Temp: 25, Evaporation: held / 100}},
	}
	blend := neutral(tap)
	for day := 7.0; day < days && changed > 0; day += 7 {
		c.Changes++
		c.Events = append(c.Events, Event{
			Day: day + 0.4, Kind: Poured, Out: changed * held, In: changed * held, ToMark: true,
			Pour: blend, Tap: Water{Ca: blend.Ca, Mg: blend.Mg, Alk: blend.Alk, DIC: blend.DIC}, Mulm: 0.3, Change: c.Changes,
		})
	}
	return c
}

// withService adds a rinse of the first stage under the tap.
func withService(c *Course, day float64) *Course {
	c.Losses = append(c.Losses, LossOf("tap"))
	e := Event{Day: day, Kind: Lost, Loss: len(c.Losses)}
	e.Places[1] = true
	for i := range c.Events {
		if c.Events[i].Day > day {
			c.Events = append(c.Events[:i], append([]Event{e}, c.Events[i:]...)...)
			return c
		}
	}
	c.Events = append(c.Events, e)
	return c
}

// drawn are params from their priors. What leaves and comes in unseen has a stream of its own, so that the others
// are drawn as before there was any.
func drawn(r *rand.Rand) Params {
	var z [Unknowns]float64
	for i := range Seepage {
		z[i] = r.NormFloat64()
	}
	unseen := rand.New(rand.NewPCG(math.Float64bits(z[0]), 5))
	for i := Seepage; i < Unknowns; i++ {
		z[i] = unseen.NormFloat64()
	}
	p := FromZ(&z)
	return p
}

func levels(s *State) map[string]float64 {
	return map[string]float64{
		"TAN": float64(s.TotalAmmonia()), "NO2": float64(s.Nitrite()), "NO3": float64(s.Nitrate()),
		"pH": float64(s.PH()), "KH": float64(s.KH()), "GH": float64(s.GH()), "PO4": float64(s.Phosphate()), "O2": float64(s.DissolvedOxygen()),
	}
}

func TestFirstRun(t *testing.T) {
	c := weekly(182, 100, 40, 0.2)
	p := Book()
	d := c.Deviations()
	s := c.Mature(&p, neutral(tap), 0.2, 0.5)
	n := s.Nitrogen()
	for _, pace := range []Pace{Coarse, Quick, Careful} {
		e := c.Run(&p, &d, s, 182, nil, nil, pace)
		t.Log(levels(&e), e.Volume, e.Filter())
		if x := math.Abs(e.Nitrogen() + e.Gone.N - e.Given.N - n); x > 1e-9*e.Given.N {
			t.Error("nitrogen", x)
		}
	}
	e := c.Reference(&p, &d, s, 182, nil, nil, 1e-8)
	t.Log(levels(&e), e.Volume)
}

func BenchmarkRun(b *testing.B) {
	c := weekly(182, 100, 40, 0.2)
	p := Book()
	d := c.Deviations()
	mature, fresh := c.Mature(&p, neutral(tap), 0.2, 0.5), c.New(&p, neutral(tap), 1e-3, 0.2)
	for _, of := range []struct {
		name string
		Pace
		State
	}{
		{"coarse/mature", Coarse, mature},
		{"quick/mature", Quick, mature},
		{"careful/mature", Careful, mature},
		{"quarter/mature", Pace{Step: 1. / 4, Agree: 1e9, Within: 1, Least: 0.1}, mature},
		{"quick/new", Quick, fresh},
		{"careful/new", Careful, fresh},
	} {
		b.Run(of.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				c.Run(&p, &d, of.State, 182, nil, nil, of.Pace)
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/182/1000, "us/day")
		})
	}
}
