package fit

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"halfwater/book"
	"halfwater/dynamics"
	"halfwater/enclosure"
	"halfwater/kit"
	"halfwater/quantity"
	"halfwater/water"
)

// brook is a small book as a problem with every kind of unknown in it: eight weeks with a change each but one, a
// filter rinsed under the tap in the fourth, cards, drops and pens for the first six. The readings stand there
// without a value; tables says what each may show.
func brook(t testing.TB) (p Problem, tables []table) {
	t.Helper()
	monday := time.Date(2026, 3, 2, 8, 0, 0, 0, time.UTC)
	tap := water.Analysis{
		Kind: water.Mains, GH: water.Stated[quantity.Hardness](11), KH: water.Stated[quantity.Alkalinity](7),
		EC: water.Stated[quantity.Conductivity](480), NO3: water.Stated[quantity.Nitrate](2), Cl: water.Stated[quantity.MgPerL](28),
	}
	moreNitrate, thicker := tap, tap
	moreNitrate.NO3.Value = 3
	thicker.GH.Value *= 1.08
	thicker.KH.Value *= 1.08
	thicker.EC.Value *= 1.08
	thicker.Cl.Value *= 1.08
	compile := func(of water.Analysis) *dynamics.Course {
		var lines []book.Line
		add := func(day float64, b book.Body) {
			at := monday.Add(time.Duration(day * 24 * float64(time.Hour)))
			lines = append(lines, book.Line{ID: book.ID(fmt.Sprintf("%03d", len(lines))), At: at, Recorded: at, Water: book.WaterOf(b), Body: b})
		}
		add(0, enclosure.SourceWater{Name: "tap", Analysis: of})
		add(0, enclosure.SourceWater{Name: "RO", MadeBy: "RO unit", Analysis: water.Analysis{
			Kind: water.RO, GH: water.Stated[quantity.Hardness](0.2), KH: water.Stated[quantity.Alkalinity](0.2), EC: water.Stated[quantity.Conductivity](12),
		}})
		add(0, enclosure.Stage{Name: "sponge", Order: 1, Medium: "sponge", Biological: true})
		add(0, book.Feed{What: "dry", Grams: 0.2, ProteinShare: 0.45, InWater: true, PerDay: true})
		for week := range brookWeeks {
			day := 7*float64(week) + 6.5
			add(day-3, book.TopUp{Source: "RO", Litres: 2})
			if week == 3 {
				add(day-0.3, book.Service{Stage: "sponge", RinsedIn: "tap"})
			}
			if week != 2 {
				add(day, book.Change{OutLitres: 18, In: []book.Poured{{Source: "tap", Litres: 8}, {Source: "RO", Litres: 10}}})
			}
		}
		c, err := dynamics.Compile(lines, dynamics.Window{From: monday, To: monday.AddDate(0, 0, 7*brookWeeks), Held: 90})
		if err != nil {
			t.Fatal(err)
		}
		return &c
	}
	course := compile(tap)
	p = Problem{Course: course, Pace: dynamics.Quick, Power: 1}
	for u := range p.Priors {
		p.Priors[u] = dynamics.Unknown(u).Prior()
	}
	for name, other := range map[string]*dynamics.Course{"tap: all": compile(thicker), "tap: nitrate": compile(moreNitrate)} {
		s := Slant{Name: name}
		for i := range course.Events {
			s.Pour = append(s.Pour, Less(other.Events[i].Pour, course.Events[i].Pour))
		}
		p.Slants = append(p.Slants, s)
	}
	if p.Slants[0].Name > p.Slants[1].Name {
		p.Slants[0], p.Slants[1] = p.Slants[1], p.Slants[0]
	}
	var begun dynamics.Water
	for _, e := range course.Events {
		if e.Change > 0 {
			begun = e.Pour
			break
		}
	}
	p.Starts = []string{"hardness", "alkalinity", "salt", "nitrate", "mulm", "nitrifiers"}
	p.Start = func(own *dynamics.Params, z []float64) dynamics.State {
		w := begun
		w.Ca, w.Mg = w.Ca*math.Exp(0.4*z[0]), w.Mg*math.Exp(0.4*z[0])
		w.Alk *= math.Exp(0.4 * z[1])
		w.Na, w.Cl = w.Na*math.Exp(0.4*z[2]), w.Cl*math.Exp(0.4*z[2])
		w.NO3 = 4 * math.Exp(0.8*z[3])
		w.PO4, w.DOC = 0.2, 3
		open := 2*w.Ca + 2*w.Mg + w.Na + w.K - w.Cl - 2*w.SO4 - w.NO3/water.MolarN - w.PO4/water.MolarP - w.Alk
		if w.SO4+open/2 >= 0 {
			w.SO4 += open / 2
		} else {
			w.Na, w.SO4 = w.Na-open-2*w.SO4, 0
		}
		s := course.Mature(own, w, 0.2, 0.5)
		s.Labile, s.Slow = s.Labile*math.Exp(0.5*z[4]), s.Slow*math.Exp(0.5*z[4])
		f := math.Exp(math.Min(0.5*z[5], 1.5*z[5])) // more is less likely than less
		for i := range s.Strength {
			n := &s.Strength[i]
			n.Ammonia, n.Frugal, n.Nitrite = n.Ammonia*f, n.Frugal*f, n.Nitrite*f
		}
		return s
	}
	for _, w := range []Wander{
		{Name: "tan", Ratio: true, SD: 0.3}, {Name: "no2", Ratio: true, SD: 0.3}, {Name: "no3", Ratio: true, SD: 0.12},
		{Name: "ph", SD: 0.1}, {Name: "gh", Ratio: true, SD: 0.015}, {Name: "kh", SD: 0.08}, {Name: "ec", Ratio: true, SD: 0.01},
	} {
		w.Phi = 0.6
		p.Wanders = append(p.Wanders, w)
	}
	for k, r := range readBy {
		tab := tableOf(t, r.kit)
		p.Lots = append(p.Lots, r.lot)
		for week := range brookWeeks - 2 {
			if week%r.every != 0 {
				continue
			}
			x := tab.as
			x.Day, x.See, x.Lot, x.Wander = 7*float64(week)+6, r.see, k, k
			p.Readings = append(p.Readings, x)
			tables = append(tables, tab)
		}
	}
	return p, tables
}

const brookWeeks = 8

// readBy are the kits of the brook, in the order of its wanders, with what each looks at, the bias of its lot
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
			borders[i] = r.scale(x)
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
			g := r.scale(x) + 0.3*r.SD
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
