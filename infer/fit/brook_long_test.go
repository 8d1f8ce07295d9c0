//go:build long

package fit

import (
	"fmt"
	"math"
	"testing"
	"time"

	"halfwater/book"
	"halfwater/dynamics"
	"halfwater/enclosure"
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
		{Name: "tan", Ratio: true, SD: 0.3},
		{Name: "no2", Ratio: true, SD: 0.3},
		{Name: "no3", Ratio: true, SD: 0.12},
		{Name: "ph", SD: 0.1},
		{Name: "gh", Ratio: true, SD: 0.015},
		{Name: "kh", SD: 0.08},
		{Name: "ec", Ratio: true, SD: 0.01},
	} {
		w.Phi = 0.6
		p.Wanders = append(p.Wanders, w)
	}
	for k, r := range readBy {
		tab := tableOf(t, r.kit)
		r.lot.Name = r.kit.Of.Label()
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
