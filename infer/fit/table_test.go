package fit

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"halfwater/dynamics"
	"halfwater/kit"
	"halfwater/quantity"
)

// readBy are the kits of the brook, in the order of its wanders (see the calibration in the long tests), with what each looks at, the bias of its lot
// and every how many weeks it is used.
var readBy = []struct {
	kit   kit.Kit
	see   func(*dynamics.State) float64
	lot   Lot
	every int
}{
	{kit.Kit{Of: quantity.OfTAN, Form: kit.Card, Unit: "mg/L", Basis: quantity.AsNH4, Steps: []float64{0, 0.25, 0.5, 1, 2, 4}}, func(s *dynamics.State) float64 { return float64(s.AmmoniaAsRead()) }, Lot{SD: 0.2}, 2},
	{kit.Kit{Of: quantity.OfNO2, Form: kit.Card, Unit: "mg/L", Basis: quantity.AsNO2, Steps: []float64{0, 0.25, 0.5, 1, 2, 5}}, func(s *dynamics.State) float64 { return float64(s.Nitrite()) }, Lot{SD: 0.2}, 2},
	{kit.Kit{Of: quantity.OfNO3, Form: kit.Card, Unit: "mg/L", Basis: quantity.AsNO3, Steps: []float64{0, 1, 5, 10, 25, 50, 100}}, nitrate, Lot{SD: 0.2, Tail: 0.7}, 1},
	{kit.Kit{Of: quantity.OfPH, Form: kit.Meter, Unit: "pH", Accuracy: 0.1, Digit: 0.01}, func(s *dynamics.State) float64 { return float64(s.PH()) }, Lot{SD: 0.1, Walk: 0.1, From: 13}, 1},
	{kit.Kit{Of: quantity.OfGH, Form: kit.Drops, Unit: "dGH", PerDrop: 1}, func(s *dynamics.State) float64 { return float64(s.GH()) }, Lot{SD: 0.15}, 2},
	{kit.Kit{Of: quantity.OfKH, Form: kit.Drops, Unit: "dKH", PerDrop: 1}, func(s *dynamics.State) float64 { return float64(s.KH()) }, Lot{SD: 0.15, Tail: 0.7}, 1},
	{kit.Kit{Of: quantity.OfEC, Form: kit.Meter, Unit: "uS/cm", AccuracyShare: 0.03, Digit: 1}, func(s *dynamics.State) float64 { return float64(s.EC()) }, Lot{SD: 0.012}, 2},
}

// table is all that a kit may show: the borders of its classes, ascending, or, of a pen, the place on the scale of
// the kit where what an odd reading shows begins.
type table struct {
	kit     kit.Kit
	as      Reading // without a day, a value, a lot
	borders []float64
	from    float64
}

// most drops that anyone counts.
const mostDrops = 20

func tableOf(t testing.TB, k kit.Kit) table {
	t.Helper()
	k.Name = "kit"
	m := k.Error(time.Time{})
	tab := table{kit: k, as: Reading{Log: m.Log, SD: m.SD, Shift: m.Shift, Odd: m.Odd, Classes: m.Classes}}
	border := func(shown string) {
		iv, err := k.Read(shown, time.Time{})
		if err != nil {
			t.Fatal(err)
		}
		tab.borders = append(tab.borders, iv.Hi)
	}
	switch k.Form {
	case kit.Meter:
		tab.as.Point, tab.as.Odd = true, 0.01
		from, to := 5.0, 9.8
		if k.Of == quantity.OfPH {
			tab.as.SD = 0.12
		} else {
			tab.as.SD, from, to = 0.02, math.Log(20.0), math.Log(2000.0)
		}
		tab.from, tab.as.Classes = from, int((to-from)/tab.as.SD)
	case kit.Drops:
		for n := 1; n < mostDrops; n++ {
			border(fmt.Sprint(n))
		}
	default:
		for _, x := range k.Steps[:len(k.Steps)-1] {
			border(fmt.Sprint(x))
		}
	}
	return tab
}

// show draws what the kit shows of what it sees, exactly as Weigh has it, and sets the reading to it.
func (tab *table) show(r *Reading, g float64, rnd *rand.Rand) {
	if !r.Point {
		borders := make([]float64, len(tab.borders))
		for i, x := range tab.borders {
			borders[i] = r.Scale(x)
		}
		show(r, g, borders, rnd)
		for i, b := range borders { // back from the scale of the kit
			if r.Lo == b {
				r.Lo = tab.borders[i]
			}
			if r.Hi == b {
				r.Hi = tab.borders[i]
			}
		}
		return
	}
	g += r.SD * rnd.NormFloat64()
	if rnd.Float64() < r.Odd {
		g = tab.from + r.SD*float64(r.Classes)*rnd.Float64()
	}
	if r.Log {
		g = math.Exp(g) - r.Shift
	}
	r.Lo, r.Hi = g, g
}

// TestWeighIsProper: over all that a kit may show the chances of a reading sum to one, whatever the truth. The
// number shown by a pen is a density on the scale of the kit, and an odd one falls anywhere on a window of so many
// SDs; what is shown outside that window is for a truth near its end only.
func TestWeighIsProper(t *testing.T) {
	for _, r := range readBy {
		tab := tableOf(t, r.kit)
		truths := []float64{0, 0.01, 0.1, 0.3, 1, 4, 12, 40}
		switch r.kit.Of {
		case quantity.OfPH:
			truths = []float64{6, 7, 8.5}
		case quantity.OfEC:
			truths = []float64{30, 150, 600}
		case quantity.OfGH, quantity.OfKH:
			truths = []float64{0, 0.2, 3, 19, 26}
		}
		for _, x := range truths {
			r := tab.as
			g := r.Scale(x) + 0.3*r.SD
			sum := 0.0
			if r.Point {
				const steps = 40
				for k := range steps * r.Classes {
					at := tab.from + (float64(k)+0.5)*r.SD/steps
					if r.Log {
						at = math.Exp(at) - r.Shift
					}
					r.Lo, r.Hi = at, at
					ln, _, _ := r.Weigh(g)
					sum += math.Exp(ln) * r.SD / steps
				}
			} else {
				for k := range len(tab.borders) + 1 {
					r.Lo, r.Hi = math.Inf(-1), math.Inf(1)
					if k > 0 {
						r.Lo = tab.borders[k-1]
					}
					if k < len(tab.borders) {
						r.Hi = tab.borders[k]
					}
					ln, _, _ := r.Weigh(g)
					sum += math.Exp(ln)
				}
			}
			if math.Abs(sum-1) > 1e-6 {
				t.Errorf("%s at %g: chances sum to %.7f", tab.kit.Of, x, sum)
			}
		}
	}
}

// TestShownAsWeighed: what a table shows comes as often as Weigh says.
func TestShownAsWeighed(t *testing.T) {
	rnd := rand.New(rand.NewPCG(3, 9))
	const times = 4000
	for _, by := range readBy {
		tab := tableOf(t, by.kit)
		r := tab.as
		x := map[quantity.Measurand]float64{quantity.OfPH: 7.2, quantity.OfEC: 300, quantity.OfGH: 6.3, quantity.OfKH: 3.9}[by.kit.Of]
		g := r.Scale(x) + 0.2*r.SD
		seen, chance := map[float64]float64{}, map[float64]float64{}
		for range times {
			tab.show(&r, g, rnd)
			at := r.Lo
			if r.Point { // by bins of one SD about the truth
				at = math.Floor((r.Scale(r.Lo) - g) / r.SD)
				if math.Abs(at) > 5 {
					at = math.Inf(1)
				}
			}
			seen[at]++
			if _, ok := chance[at]; ok || math.IsInf(at, 1) {
				continue
			}
			if !r.Point {
				ln, _, _ := r.Weigh(g)
				chance[at] = math.Exp(ln)
				continue
			}
			const steps = 50
			for k := range steps {
				y := g + r.SD*(at+(float64(k)+0.5)/steps)
				if r.Log {
					y = math.Exp(y) - r.Shift
				}
				r.Lo, r.Hi = y, y
				ln, _, _ := r.Weigh(g)
				chance[at] += math.Exp(ln) * r.SD / steps
			}
		}
		for at, p := range chance {
			if se := math.Sqrt(p * (1 - p) * times); math.Abs(seen[at]-p*times) > 4.5*se+1 {
				t.Errorf("%s at %g: %.0f times of %d, by Weigh %.1f", by.kit.Of, at, seen[at], times, p*times)
			}
		}
	}
}
