//go:build long

package infer

import (
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"halfwater/infer/fit"
	"halfwater/quantity"
)

// TestAheadByHistories scores whole histories (package fit) where TestAhead scores what Believe says: the
// measure of whether they should take its place. It asserts only that every history gives numbers.
func TestAheadByHistories(t *testing.T) {
	foretell(t, "histories", byHistories)
}

// byHistories is a belief whose draws are the ends of whole histories.
func byHistories(w Window) (Belief, error) {
	b, v, lines, err := believe(w)
	if err != nil {
		return b, err
	}
	q, err := v.ask(lines, b.Water, v.start, w.At.Add(time.Minute), w.At)
	if err != nil {
		return b, err
	}
	post, err := q.Solve(fit.Effort{Draws: 150, Scouts: 30}, w.Seed)
	if err != nil {
		return b, err
	}
	r := rand.New(rand.NewPCG(w.Seed, 0x686f7572))
	draws := make([]Draw, 0, len(post.Draws))
	for i := range post.Draws {
		h := &post.Draws[i]
		s := &h.End
		depart := func(m quantity.Measurand, x float64) float64 {
			k := wanderOf(m)
			return math.Max(q.Wanders[k].Apply(x, h.Wander[k]), 0)
		}
		draws = append(draws, Draw{
			TAN: quantity.TotalAmmonia(depart(quantity.OfTAN, float64(s.AmmoniaAsRead()))),
			NO2: quantity.Nitrite(depart(quantity.OfNO2, float64(s.Nitrite()))),
			NO3: quantity.Nitrate(depart(quantity.OfNO3, float64(s.Nitrate()))),
			GH:  quantity.Hardness(depart(quantity.OfGH, float64(s.GH()))),
			KH:  quantity.Alkalinity(depart(quantity.OfKH, float64(s.KH()))),
			EC:  quantity.Conductivity(depart(quantity.OfEC, conducted(q.conducts*ownStrength(s)))),
			PH:  quantity.PH(depart(quantity.OfPH, float64(s.PH())) + value("wander.ph_hour")*r.NormFloat64()),
		})
	}
	b.Draws = draws
	return b, nil
}

// BenchmarkHistories is 26 weeks cold.
func BenchmarkHistories(b *testing.B) {
	e := newTruth(3, "plain")
	e.keep(26)
	at := day0.AddDate(0, 0, 7*26+3)
	w := Window{Lines: e.lines, At: at, Recorded: at, Seed: 1}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := byHistories(w); err != nil {
			b.Fatal(err)
		}
	}
}
