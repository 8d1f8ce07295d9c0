package dynamics_test

import (
	"math"
	"testing"
	"time"

	"pgregory.net/rapid"

	"halfwater/book"
	"halfwater/dynamics"
	"halfwater/enclosure"
	"halfwater/quantity"
	"halfwater/water"
)

var monday = time.Date(2026, 3, 2, 8, 0, 0, 0, time.UTC)

// pond is the facts of an invented enclosure: two stages, a tap with chloramine, RO.
func pond() []enclosure.Fact {
	return []enclosure.Fact{
		enclosure.Basin{Length: 800, Width: 400, Height: 500, FullMark: 300},
		enclosure.SourceWater{Name: "tap", Chloramine: true, Analysis: water.Analysis{
			GH: water.Stated[quantity.Hardness](10), KH: water.Stated[quantity.Alkalinity](6), EC: water.Stated[quantity.Conductivity](420),
			Chloramine: water.Stated[quantity.MgPerL](1.5),
		}},
		enclosure.SourceWater{Name: "RO", Analysis: water.Analysis{Kind: water.RO, EC: water.Stated[quantity.Conductivity](12)}},
		enclosure.Stage{Name: "sponge", Order: 1, Medium: "sponge", Biological: true},
		enclosure.Stage{Name: "carbon", Order: 2, Medium: "carbon", Biological: true, Carbon: true},
		enclosure.Fitting{Name: "pump", What: "pump"},
	}
}

func compiled(t testing.TB, bodies ...book.Body) dynamics.Course {
	t.Helper()
	var lines []book.Line
	add := func(at time.Time, b book.Body) {
		lines = append(lines, book.Line{ID: book.ID(rune('a' + len(lines))), At: at, Recorded: at, Water: book.WaterOf(b), Body: b})
	}
	for _, f := range pond() {
		add(monday.AddDate(0, 0, -30), f.(book.Body))
	}
	for i, b := range bodies {
		add(monday.Add(time.Duration(i+1)*24*time.Hour), b)
	}
	c, err := dynamics.Compile(lines, dynamics.Window{From: monday, To: monday.AddDate(0, 0, 30)})
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// TestEachKindOfLine: what a line becomes.
func TestEachKindOfLine(t *testing.T) {
	one := func(t *testing.T, c dynamics.Course, kind dynamics.Kind) dynamics.Event {
		t.Helper()
		for _, e := range c.Events {
			if e.Kind == kind && e.Line != "" {
				return e
			}
		}
		t.Fatalf("no event of kind %d in %+v", kind, c.Events)
		return dynamics.Event{}
	}
	t.Run("change", func(t *testing.T) {
		c := compiled(t, book.Change{OutLitres: 20, In: []book.Poured{{Source: "tap", Litres: 5}, {Source: "RO", Litres: 15}}, Salts: []book.SaltPoured{{Formula: "NaHCO3", Grams: 1}}, Temp: 22})
		e := one(t, c, dynamics.Poured)
		if e.Out != 20 || e.In != 20 || !e.ToMark || e.Change != 1 || c.Changes != 1 || e.Pour.Temp != 22 {
			t.Errorf("%+v", e)
		}
		if kh := float64(quantity.AlkalinityMeq(e.Pour.Alk)); math.Abs(kh-1.5) > 0.15 { // a quarter of 6
			t.Error("KH of the blend", kh)
		}
		if math.Abs(e.Salts.Alk-11.90) > 0.01 || e.Salts.Na != e.Salts.Alk { // 1 g over 84.01 g/mol
			t.Error("bicarbonate", e.Salts)
		}
		if math.Abs(e.Pour.Chloramine-0.25*1.5*0.1976) > 1e-3 {
			t.Error("chloramine without a neutraliser stays", e.Pour.Chloramine)
		}
	})
	t.Run("neutralised", func(t *testing.T) {
		c := compiled(t, enclosure.Neutraliser{Name: "drops", MlPer: 5, ForLitres: 40}, book.Change{OutLitres: 20, In: []book.Poured{{Source: "tap", Litres: 20}}})
		e := one(t, c, dynamics.Poured)
		if e.Pour.Chloramine != 0 || math.Abs(e.Pour.TAN-1.5*0.1976) > 1e-3 {
			t.Error("its ammonia is left", e.Pour)
		}
	})
	t.Run("levels", func(t *testing.T) {
		c := compiled(t, book.Change{LevelBefore: 300, LevelAfter: 240, In: []book.Poured{{Source: "RO", Litres: 17}}})
		if e := one(t, c, dynamics.Poured); e.Out < 12 || e.Out > 20 { // 60 mm of 0.32 m2, less what stands in it
			t.Error("litres by the levels", e.Out)
		}
	})
	t.Run("top-up", func(t *testing.T) {
		if e := one(t, compiled(t, book.TopUp{Source: "RO", Litres: 3}), dynamics.Poured); e.In != 3 || e.Out != 0 || e.Change != 0 {
			t.Errorf("%+v", e)
		}
	})
	t.Run("service", func(t *testing.T) {
		c := compiled(t, book.Service{Stage: "sponge", RinsedIn: "tap", NoFlowMinutes: 240})
		e := one(t, c, dynamics.Lost)
		if !e.Places[1] || e.Places[2] || c.Losses[e.Loss-1].Of != "tap chloramine" {
			t.Errorf("%+v %v", e, c.Losses)
		}
		if len(c.Losses) != 2 || math.Abs(c.Losses[1].Median()-0.10) > 0.02 { // four hours still
			t.Errorf("%+v", c.Losses)
		}
		still := false
		for _, p := range c.Pieces {
			still = still || p.NoFlow && p.To-p.From < 0.2
		}
		if !still {
			t.Error("no stretch without flow")
		}
	})
	t.Run("carbon", func(t *testing.T) {
		e := one(t, compiled(t, book.Service{Stage: "carbon", RinsedIn: "replaced"}), dynamics.Renewed)
		if e.Grams <= 0 || !e.Places[2] {
			t.Errorf("%+v", e)
		}
	})
	t.Run("trim", func(t *testing.T) {
		if e := one(t, compiled(t, book.Trim{What: "stems", WetGrams: 100}), dynamics.Trimmed); math.Abs(e.N-200) > 1 { // 5 % dry, 4 % N
			t.Errorf("%+v", e)
		}
	})
	t.Run("dose", func(t *testing.T) {
		if e := one(t, compiled(t, book.Dose{What: "CaCl2.2H2O", Grams: 14.701}), dynamics.Dosed); math.Abs(e.Salts.Ca-100) > 0.1 {
			t.Errorf("%+v", e)
		}
		if e := one(t, compiled(t, book.Dose{What: "medicine as prescribed", Millilitres: 3}), dynamics.Lost); !e.Places[0] || !e.Places[1] {
			t.Errorf("%+v", e)
		}
	})
	t.Run("food", func(t *testing.T) {
		c := compiled(t, book.Feed{What: "dry", Grams: 1, ProteinShare: 0.45, PerDay: true, InWater: true})
		last := c.Pieces[len(c.Pieces)-1]
		if n := last.TAN + last.Labile + last.Slow; n < 55 || n > 72 { // 72 mg N in it; grown animals keep a little
			t.Error("mg N a day", n)
		}
	})
}

// TestCompileSurvives: any order of lines of any size compiles and runs to finite numbers.
func TestCompileSurvives(t *testing.T) {
	sources := []string{"tap", "RO", "", "nobody knows"}
	rapid.Check(t, func(r *rapid.T) {
		n := rapid.IntRange(0, 12).Draw(r, "n")
		var bodies []book.Body
		for range n {
			litres := quantity.Litres(rapid.Float64Range(0, 200).Draw(r, "litres"))
			source := rapid.SampledFrom(sources).Draw(r, "source")
			grams := quantity.Grams(rapid.Float64Range(0, 500).Draw(r, "grams"))
			bodies = append(bodies, rapid.SampledFrom([]book.Body{
				book.Change{OutLitres: litres},
				book.Change{In: []book.Poured{{Source: source, Litres: litres}}},
				book.Change{OutLitres: litres, In: []book.Poured{{Source: source, Litres: litres / 2}}, BedShare: 0.5, Salts: []book.SaltPoured{{Formula: "salt", Grams: grams}}},
				book.TopUp{Source: source, Litres: litres},
				book.Service{Stage: source, RinsedIn: "hot tap"},
				book.Service{Stage: "sponge", NoFlowMinutes: book.Minutes(grams * 10)},
				book.SwitchedOn{OffSince: monday.Add(-time.Hour * 100)},
				book.SwitchedOn{OffSince: monday.Add(time.Hour * 2000)},
				book.Feed{What: source, Grams: grams},
				book.Feed{What: "dry", Grams: grams / 100, PerDay: true},
				book.Added{What: "leaf", Grams: grams},
				book.TakenOut{What: "carcass", Grams: grams},
				book.Dose{What: source, Grams: grams},
				book.Droppings{Grams: grams},
				book.Added{What: "carbon", Grams: grams},
				book.Reading{Of: quantity.OfWaterTemp, Lo: 20, Hi: 21},
				book.Note{Text: "-"},
			}).Draw(r, "line"))
		}
		c := compiled(t, bodies...)
		p, d := dynamics.Book(), c.Deviations()
		s := c.Run(&p, &d, c.Mature(&p, dynamics.Water{Ca: 1, Alk: 2, DIC: 2.1, Temp: 20}, 0.2, 0.5), c.Days, nil, nil, dynamics.Quick)
		for _, x := range []float64{s.Volume, s.TAN, s.NO2, s.NO3, s.Alk, float64(s.PH()), float64(s.EC()), s.Oxygen, s.PCO2} {
			if math.IsNaN(x) || math.IsInf(x, 0) {
				r.Fatalf("%+v", s)
			}
		}
		if s.Volume <= 0 {
			r.Fatal("dry", s.Volume)
		}
	})
}

// TestConstants: every median lies within its span, every prior can be drawn, every unknown has one.
func TestConstants(t *testing.T) {
	if len(dynamics.Constants()) < 60 {
		t.Fatal("constants", len(dynamics.Constants()))
	}
	for u := range dynamics.Unknowns {
		prior := u.Prior()
		if prior.SD <= 0 || prior.Work == "" || prior.At(0) != prior.Median && math.Abs(prior.At(0)/prior.Median-1) > 1e-12 {
			t.Errorf("%s: %+v", u, prior)
		}
		for _, z := range []float64{-2, -0.3, 1, 2.5} {
			if back := prior.Z(prior.At(z)); math.Abs(back-z) > 1e-9 {
				t.Errorf("%s: %g came back as %g", u, z, back)
			}
		}
	}
	for _, of := range []string{"tank water", "tap", "hot tap", "stopped 24 h", "medicine"} {
		l := dynamics.LossOf(of)
		if !(l.At(-1.645) < l.Median() && l.Median() < l.At(1.645)) || l.At(9) > 1 || l.At(-9) < 0 {
			t.Errorf("%s: %+v", of, l)
		}
	}
	// The Beta of a rinse in tank water: median 0.15, 0.05 to 0.40 (the design's section 5.4, memory).
	if l := dynamics.LossOf("tank water"); math.Abs(l.Median()-0.15) > 0.005 || math.Abs(l.At(1.645)-0.40) > 0.07 || math.Abs(l.At(-1.645)-0.05) > 0.02 {
		t.Errorf("%.3f %.3f %.3f", l.At(-1.645), l.Median(), l.At(1.645))
	}
}

// TestEvaporationLeavesGapsOut: what was topped up over the days between, of which those that nobody wrote of are none.
func TestEvaporationLeavesGapsOut(t *testing.T) {
	var lines []book.Line
	add := func(day int, b book.Body) {
		at := monday.AddDate(0, 0, day)
		lines = append(lines, book.Line{ID: book.ID(at.Format(time.RFC3339)), At: at, Recorded: at, Water: book.WaterOf(b), Body: b})
	}
	for _, from := range []int{0, 150} {
		for d := 0; d <= 20; d += 4 {
			add(from+d, book.TopUp{Source: "RO", Litres: 2})
		}
	}
	c, err := dynamics.Compile(lines, dynamics.Window{From: monday.AddDate(0, 0, -1), To: monday.AddDate(0, 0, 175), Held: 90})
	if err != nil {
		t.Fatal(err)
	}
	if got := c.Pieces[0].Evaporation; math.Abs(got-0.5) > 1e-9 {
		t.Errorf("%.3f L a day, 2 L every four days", got)
	}
}

// TestOneDayIsNoBeginning: mulm and nitrifiers at the beginning, and the reserve at the end, go by what is usual in four weeks, not by
// what lay in the water in that minute: a meal that is written down ten minutes after the first line feeds the same filter.
func TestOneDayIsNoBeginning(t *testing.T) {
	course := func(first time.Duration, meals bool) dynamics.Course {
		t.Helper()
		var lines []book.Line
		add := func(at time.Time, b book.Body) {
			lines = append(lines, book.Line{ID: book.ID(at.Format(time.RFC3339Nano)), At: at, Recorded: at, Water: book.WaterOf(b), Body: b})
		}
		add(monday, enclosure.Stage{Name: "sponge", Order: 1, Medium: "sponge", Biological: true})
		if !meals {
			add(monday.Add(first), book.Feed{What: "dry", Grams: 0.5, ProteinShare: 0.45, InWater: true, PerDay: true})
		}
		for week := 0; meals && week < 8; week++ {
			add(monday.Add(first).AddDate(0, 0, 7*week), book.Feed{What: "dry", Grams: 3.5, ProteinShare: 0.45, InWater: true})
		}
		c, err := dynamics.Compile(lines, dynamics.Window{From: monday, To: monday.AddDate(0, 0, 55), Held: 64})
		if err != nil {
			t.Fatal(err)
		}
		return c
	}
	var p dynamics.Params
	for u := range p {
		p[u] = dynamics.Unknown(u).Prior().At(0)
	}
	begun := func(c dynamics.Course) (strength, reserve, labile float64) {
		s := c.Mature(&p, dynamics.Water{Ca: 1, Alk: 2, Volume: 1, Temp: 22}, 0.2, 0.5)
		return s.Strength[1].Nitrite, c.Reserve(&p, &s), s.Labile
	}
	strength, reserve, labile := begun(course(0, false))
	if !(strength > 0) || !(labile > 0) || math.IsInf(reserve, 0) {
		t.Fatalf("strength %g, reserve %g, labile %g", strength, reserve, labile)
	}
	for name, c := range map[string]dynamics.Course{
		"ten minutes later": course(10*time.Minute, false), "once a week": course(0, true), "once a week, from the sixth day": course(6*24*time.Hour, true),
	} {
		s, r, l := begun(c)
		if math.Abs(s/strength-1) > 0.3 || math.Abs(r/reserve-1) > 0.3 || math.Abs(l/labile-1) > 0.3 {
			t.Errorf("%s: strength %g of %g, reserve %g of %g, labile mulm %g of %g", name, s, strength, r, reserve, l, labile)
		}
	}
}

// TestCarbonateIsNoCarbon: a stone that is put in renews no activated carbon; carbonate that is dosed without water moves CO2 as it does
// in a change.
func TestCarbonateIsNoCarbon(t *testing.T) {
	c := compiled(t, book.Added{What: "stone, calcium carbonate", Grams: 500}, book.Added{What: "activated carbon", Grams: 50})
	renewed := 0
	for _, e := range c.Events {
		if e.Kind == dynamics.Renewed {
			renewed++
		}
	}
	if renewed != 1 {
		t.Errorf("carbon is renewed %d times", renewed)
	}
	var p dynamics.Params
	for u := range p {
		p[u] = dynamics.Unknown(u).Prior().At(0)
	}
	soda := dynamics.Water{Na: 70, Alk: 70, DIC: 35} // Na2CO3
	after := func(e dynamics.Event) (co2, ph float64) {
		c := dynamics.Course{Days: 2, Held: 100, Surface: 0.3, Pieces: []dynamics.Piece{{To: 2, Temp: 24}}}
		e.Day = 1
		c.Events = []dynamics.Event{e}
		d := c.Deviations()
		s := c.Mature(&p, dynamics.Water{Ca: 0.5, Na: 0.3, Alk: 0.7, SO4: 0.3, Volume: 1, Temp: 24}, 0.2, 0.5)
		end := c.Run(&p, &d, s, 1+1e-6, nil, nil, dynamics.Careful)
		return end.PCO2, float64(end.PH())
	}
	co2, ph := after(dynamics.Event{Kind: dynamics.Dosed, Salts: soda})
	wantCO2, wantPH := after(dynamics.Event{Kind: dynamics.Poured, Out: 1e-6, In: 1e-6, Salts: soda, Pour: dynamics.Water{Volume: 1, Temp: 24}})
	if math.Abs(ph-wantPH) > 0.02 || math.Abs(co2/wantCO2-1) > 0.05 || ph < 8.5 {
		t.Errorf("dosed: pH %.2f, %.3g atm; in a change pH %.2f, %.3g atm", ph, co2, wantPH, wantCO2)
	}
}

// TestEvaporationByFillingUp: who fills to the mark at each change and writes no top-up has told what evaporated.
func TestEvaporationByFillingUp(t *testing.T) {
	var lines []book.Line
	for week := range 10 {
		at := monday.AddDate(0, 0, 7*week)
		lines = append(lines, book.Line{ID: book.ID(at.Format(time.RFC3339)), At: at, Recorded: at, Water: book.MainWater, Body: book.Change{OutLitres: 12, In: []book.Poured{{Source: "tap", Litres: 15.5}}}})
	}
	c, err := dynamics.Compile(lines, dynamics.Window{From: monday.AddDate(0, 0, -1), To: monday.AddDate(0, 0, 70), Held: 90})
	if err != nil {
		t.Fatal(err)
	}
	if got := c.Pieces[0].Evaporation; math.Abs(got-0.5) > 1e-9 {
		t.Errorf("%.3f L a day, 3.5 L a week", got)
	}
}

// TestUnwrittenTopUps: who writes no top-ups is taken to fill up with RO where there is some, and with the tap where there is nothing else.
func TestUnwrittenTopUps(t *testing.T) {
	poured := func(sources ...enclosure.SourceWater) dynamics.Water {
		var lines []book.Line
		add := func(day int, b book.Body) {
			at := monday.AddDate(0, 0, day)
			lines = append(lines, book.Line{ID: book.ID(rune('a' + len(lines))), At: at, Recorded: at, Water: book.WaterOf(b), Body: b})
		}
		for _, s := range sources {
			add(0, s)
		}
		add(7, book.Change{OutLitres: 10, In: []book.Poured{{Source: "tap", Litres: 10}}})
		c, err := dynamics.Compile(lines, dynamics.Window{From: monday, To: monday.AddDate(0, 0, 20), Held: 90})
		if err != nil {
			t.Fatal(err)
		}
		return c.Events[c.Pieces[0].TopUp-1].Pour
	}
	tap := enclosure.SourceWater{Name: "tap", Analysis: water.Analysis{Kind: water.Mains, GH: water.Stated[quantity.Hardness](14), KH: water.Stated[quantity.Alkalinity](9)}}
	ro := enclosure.SourceWater{Name: "RO", Analysis: water.Analysis{Kind: water.RO}}
	if hard := poured(tap); hard.Alk < 2 {
		t.Errorf("with a tap alone the top-ups bring %.2f meq/L", hard.Alk)
	}
	if soft := poured(tap, ro); soft.Alk > 0.3 {
		t.Errorf("with RO beside it the top-ups bring %.2f meq/L", soft.Alk)
	}
}
