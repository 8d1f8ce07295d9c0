package dynamics

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"testing"
	"time"

	"halfwater/change"
	"halfwater/quantity"
	"halfwater/water"
)

func near(t *testing.T, what string, got, want, relative float64) {
	t.Helper()
	if math.IsNaN(got) || math.Abs(got-want) > relative*math.Abs(want) {
		t.Errorf("%s: %.6g, want %.6g within %.2g %%", what, got, want, 100*relative)
	}
}

// TestStoichiometry: 2 O2 and 2 eq of alkalinity per mol of ammonium; 4.57 g O2, 3.43 g of it for the first
// step, 7.14 g CaCO3 per g N (arithmetic of NH4+ + 2 O2 -> NO3- + 2 H+ + H2O). Plants: nitrate gives an
// equivalent back, ammonium costs one (Brewer and Goldman 1976).
func TestStoichiometry(t *testing.T) {
	near(t, "oxygen to nitrate", oxygenToNitrite+oxygenToNitrate, 4.57, 0.002)
	near(t, "oxygen to nitrite", oxygenToNitrite, 3.43, 0.002)
	x, d := still()
	AmmoniaOxidation.add(x, d)
	near(t, "alkalinity as CaCO3", d.Alk/d.TAN*50.04, 7.14, 0.002)
	near(t, "dKH per mg N/L", float64(quantity.AlkalinityMeq(d.Alk/d.TAN)), 0.400, 0.002)
	x, d = still()
	x.TAN = 0
	PlantUptake.add(x, d)
	near(t, "KH when plants take 10 mg NO3/L", float64(quantity.AlkalinityMeq(10/4.427*d.Alk/-d.NO3)), 0.452, 0.002)
	x, d = still()
	x.NO3 = 0
	PlantUptake.add(x, d)
	near(t, "KH when plants take 1 mg NH4-N/L", float64(quantity.AlkalinityMeq(d.Alk/-d.TAN)), -0.200, 0.002)
}

// still is a scene of some water with nothing special, and an empty slope. Phosphate is left out.
func still() (*scene, *State) {
	c := weekly(30, 100, 40, 0)
	p, dev := Book(), Deviations{}
	w := neutral(tap)
	w.PO4 = 0
	x := &scene{}
	x.begin(c, &p, c.Mature(&p, neutral(w), 0.2, 0.5))
	x.enter(c, &dev, &c.Pieces[0], 0)
	x.look()
	return x, &State{}
}

// TestTemperature: 68 and 44 kJ/mol make x2.51 and x1.81 from 20 to 30 C (Vannecke and Volcke 2015,
// supplement; Arrhenius by hand).
func TestTemperature(t *testing.T) {
	arrhenius := func(kJ float64) float64 { return math.Exp(kJ / 8.314462618e-3 * (1/293.15 - 1/303.15)) }
	near(t, "ammonia oxidisers", warmthOf(30).ammonia, arrhenius(68), 0.01)
	near(t, "nitrite oxidisers", warmthOf(30).nitrite, arrhenius(44), 0.01)
	near(t, "k 0.1/d at 20 C, theta 1.08, a week at 25 C", 1-math.Exp(-0.1*warmthOf(25).mulm*7), 0.642, 0.002) // by hand
}

// TestAcid: a culture that feels all of it works at half its rate at pH 6.5, 0.15 at 5.8 and 0.05 at 5.2 (common practice,
// no source; the form of EPA 1975, 1 - 0.833 (7.2 - pH), gives 0.42, none and none), one that feels nothing of it as
// before, as after long adaption (Tarre and Green 2004, from memory). Both steps feel it alike.
func TestAcid(t *testing.T) {
	x, _ := still()
	for _, r := range []struct{ pH, felt, want float64 }{
		{7.2, 1, 1}, {6.5, 1, 0.5}, {5.8, 1, 0.15}, {5.2, 1, 0.05}, {4.5, 1, 0.05}, {6.5, 0, 1}, {4.5, 0, 1}, {6.5, 0.5, 0.75},
	} {
		x.h = hFull
		ammonia, nitrite := x.ammoniaLimit()/monod(x.carbonate.bicarbonate(x.h), x.Params[BicarbonateHalf]), x.nitriteLimit()
		x.h, x.Params[AcidFelt] = math.Pow(10, -r.pH), r.felt
		near(t, "nitrite", x.nitriteLimit()/nitrite, r.want, 1e-6)
		near(t, "ammonia", x.ammoniaLimit()/monod(x.carbonate.bicarbonate(x.h), x.Params[BicarbonateHalf])/ammonia, r.want, 1e-6)
	}
}

// TestGrowth: x1000 at 0.35/d takes 19.7 d, five times at 0.30/d 5.4 d (exponential growth by hand): a filter
// in plenty, with the rates set so.
func TestGrowth(t *testing.T) {
	for _, g := range []struct{ net, times, days float64 }{{0.35, 1000, 19.74}, {0.30, 5, 5.365}} {
		c, p := bare(1, 20)
		p[Decay] = 0.07
		p[AmmoniaGrowth] = g.net + p[Decay]
		p[AmmoniaHalf], p[GasExchange] = 1e-7, 1e4 // plenty
		s := c.Fill(&p, neutral(tap))
		s.TAN, s.Alk, s.Na = 5000, s.Alk+5000/molarN+500, s.Na+500
		s.Strength[0].Ammonia = 1e-2
		limit := monod(s.Oxygen/s.Volume, oxygenHalfAmmonia) * monod(s.Alk/s.Volume, p[BicarbonateHalf])
		p[AmmoniaGrowth] /= limit
		d := Deviations{}
		e := c.Run(&p, &d, s, g.days, nil, nil, Careful)
		seeds := seedPerLitre * 100 / g.net * math.Expm1(g.net*g.days)
		days := math.Log(g.times) / (math.Log((e.Filter().Ammonia-seeds)/1e-2) / g.days)
		near(t, "days", days, g.days, 0.01)
	}
}

// TestResidual: at rest a filter leaves S* = K b/(mu - b), whatever the load (Monod chemostat, by hand:
// 0.0536 mg/L with K 0.4, mu 0.55, b 0.07 at 20 C and the factors of 25 C; 0.0134 with K 0.1).
func TestResidual(t *testing.T) {
	for _, r := range []struct{ k, want float64 }{{0.4, 0.0536434}, {0.1, 0.0134108}} {
		c, p := bare(40, 25)
		p[AmmoniaHalf] = r.k
		p[GasExchange] = 1e4
		c.Days, c.Pieces[0].To = 400, 400
		w := tap
		w.Alk, w.DIC = 400, 400
		s := c.Mature(&p, neutral(w), 0.2, 0)
		var strengths []float64
		d := Deviations{}
		e := c.Run(&p, &d, s, 400, nil, nil, Careful)
		strengths = append(strengths, e.Filter().Ammonia)
		// The rows leave oxygen out: O/(0.5+O) = 0.943 of the growth here, so the rate is set to make it up.
		limit := monod(e.Oxygen/e.Volume, oxygenHalfAmmonia) * monod(float64(e.Alk)/e.Volume, p[BicarbonateHalf])
		mu, b := 0.55*warmthOf(25).ammonia*limit, 0.07*warmthOf(25).decay
		near(t, "S* of the run", e.TAN/e.Volume, r.k*b/(mu-b), 0.01)
		near(t, "S* without the limit of oxygen", r.k*b/(mu/limit-b), r.want, 0.01)
		near(t, "strength holds its own", strengths[0], s.Filter().Ammonia, 0.1)
	}
}

// TestSawTooth: 20 % of 100 L each week against a plain tracer settles at S + r/x before a change
// (geometric series; package change), with and without evaporation replaced by the same water.
func TestSawTooth(t *testing.T) {
	c := weekly(7*60, 100, 40, 0.3)
	for i := range c.Pieces {
		c.Pieces[i].Evaporation = 0
	}
	p, d := Book(), Deviations{}
	p[Uptake], p[Denitrified], p[LabileRate], p[SlowRate] = 0, 0, 10, 10
	p[Seepage], p[UnwrittenSalt] = 0, 0
	s := c.Mature(&p, neutral(tap), 0.2, 0.5)
	last := c.Events[len(c.Events)-1]
	e := c.Run(&p, &d, s, last.Day, nil, nil, Careful)
	// In, less what leaves with the siphoned mulm: the rates are fast, so next to nothing lies there.
	load := c.Pieces[0].TAN + c.Pieces[0].Labile + c.Pieces[0].Slow
	want := change.Plateau(tap.NO3, load*7/100, 0.3)
	near(t, "nitrate before a change", (e.NO3+e.TAN+e.NO2)/e.Volume, want.Before, 0.01)

	chloride := change.Creep(tap.Cl, tap.Cl, 30, 7) // C = S + T E/W
	c = weekly(7*60, 100, 40, 0.3)
	c.Pieces[0].Evaporation, c.Pieces[0].TopUp = 1, len(c.Events)+1
	c.Events = append(c.Events, Event{Day: c.Days, Kind: Template, Pour: neutral(tap)})
	e = c.Run(&p, &d, s, last.Day, nil, nil, Careful)
	near(t, "chloride before a change", e.Cl/e.Volume, chloride, 0.01)
	near(t, "volume", e.Volume, 100, 1e-9)
}

// TestMineralCreep: tap 14 dGH, 3 L a week into 100 L at 8 dGH, no change: 12.2 after ten weeks (mass balance).
func TestMineralCreep(t *testing.T) {
	c := weekly(70, 100, 40, 0)
	c.Pieces[0].Evaporation = 3. / 7
	mmol := quantity.Hardness(14).Mmol()
	c.Events = append(c.Events, Event{Day: c.Days, Kind: Template, Pour: neutral(Water{Ca: mmol, Alk: 2 * mmol, DIC: 2 * mmol, Volume: 1, Temp: 20})})
	c.Pieces[0].TopUp = 1
	p, d := Book(), Deviations{}
	p[Seepage] = 0
	w := tap
	w.Ca, w.Mg = quantity.Hardness(8).Mmol(), 0
	e := c.Run(&p, &d, c.Fill(&p, neutral(w)), 70, nil, nil, Careful)
	near(t, "GH", float64(e.GH()), 12.2, 0.001)
}

// TestKHForFeed: from food to nitrate costs 1 eq per mol when ammonification brings its own alkalinity, two
// when what came was ammonium (stoichiometry).
func TestKHForFeed(t *testing.T) {
	for _, own := range []float64{1, 0} {
		c, p := bare(40, 25)
		p[Alkali], p[LabileRate] = own, 5
		d := Deviations{}
		w := tap
		w.Alk, w.DIC = 6, 6
		s := c.Mature(&p, neutral(w), 0.2, 0.5)
		e := c.Run(&p, &d, s, 30, nil, nil, Careful)
		want := -(2 - own) / molarN
		near(t, "meq per mg N", (e.Alk-s.Alk+(e.PO4-s.PO4)/molarP)/(e.NO3-s.NO3), want, 0.01)
	}
}

// TestStone: a stone brings an open water to rest with aragonite, where package water puts it.
func TestStone(t *testing.T) {
	c := weekly(400, 100, 0, 0)
	c.Pieces[0].Evaporation = 0
	p, d := Book(), Deviations{}
	p[Stone], p[TankCO2], p[Leach] = 0.2, 2e-3, 1e-12
	s := c.Fill(&p, neutral(ro))
	rest, err := water.EquilibrateOpen(s.Composition(), water.Aragonite, 2e-3)
	if err != nil {
		t.Fatal(err)
	}
	e := c.Run(&p, &d, s, 400, nil, nil, Careful)
	near(t, "calcium at rest", e.Ca/e.Volume, float64(rest.Speciation.Composition.Ca), 0.03)
	near(t, "KH at rest", float64(e.KH()), float64(rest.Speciation.Composition.KH()), 0.03)
}

// TestCarbonExhausts: 100 g that hold 40 mg/g, 200 L from 8 to 2 mg/L, 60 mg/d: 46.7 d (mass balance).
// With a rate that falls as the carbon fills, half the source breaks through near that day.
func TestCarbonExhausts(t *testing.T) {
	c := weekly(120, 200, 0, 0)
	p, d := Book(), Deviations{}
	c.Pieces[0].Leach, c.Pieces[0].Evaporation = 60, 0
	p[Leach], p[CarbonHolds] = 1e-12, 40
	s := c.Fill(&p, neutral(tap))
	s.DOC, s.Carbon = 8*200, 100
	day := 0.0
	low := math.Inf(1)
	for ; day < 120; day++ {
		s = c.Run(&p, &d, s, day, nil, nil, Careful)
		low = min(low, s.DOC/200)
		if s.Loaded > 0.95*40*100 {
			break
		}
	}
	t.Logf("lowest %.2f mg/L, 95 %% full on day %.0f", low, day)
	// The last of it fills more slowly, and bacteria take a twentieth of the source: later by a tenth.
	near(t, "day of exhaustion", day, 46.7, 0.15)
	if s.Loaded > 40*100*(1+1e-9) {
		t.Error("more than it holds", s.Loaded)
	}
}

// TestChloraminePulse: 40 % changed for tap with 2.5 mg Cl2/L of monochloramine leaves 0.198 mg N/L
// (0.1976 mg N per mg Cl2, stoichiometry).
func TestChloraminePulse(t *testing.T) {
	c := weekly(2, 100, 1e-6, 0)
	w := neutral(tap)
	w.Chloramine = 2.5 * 0.1976
	c.Events = []Event{{Day: 1, Kind: Poured, Out: 40, In: 40, ToMark: true, Pour: w, Binds: true}}
	c.Pieces[0].Evaporation = 0
	p, d := Book(), Deviations{}
	s := c.Fill(&p, neutral(tap))
	e := c.Run(&p, &d, s, 1+1e-9, nil, nil, Careful)
	near(t, "as kits read it", float64(e.AmmoniaAsRead()-s.AmmoniaAsRead()), 0.198, 0.005)
	if e.TAN-s.TAN > 1e-3 {
		t.Error("it was bound", e.TAN)
	}
}

// TestNightOxygen: closed forms of a cut of power (check values S08-014 to 016, arithmetic).
func TestNightOxygen(t *testing.T) {
	sat := water.OxygenSaturation(25, 1)
	b := func(litres, square, kl, mgPerHour float64) Breathing {
		return Breathing{sat, quantity.PerDay(kl * square * 240 / litres), mgPerHour * 24 / litres}
	}
	near(t, "rest", float64(b(120, 0.36, 2, 30).Rest()), 4.10, 0.01)
	near(t, "hours", 24*b(120, 0.36, 2, 60).Until(7.5, 3), 15.04, 0.01)
	near(t, "hours under a film", 24*b(60, 0.20, 1, 60).Until(7.5, 3), 5.01, 0.01)
}

// TestNightsOfARiver fits each night of a river's oxygen (Brandywine, USGS, public domain; half-hours) for
// exchange and respiration, and predicts the next night from its first half-hour.
func TestNightsOfARiver(t *testing.T) {
	f, err := os.Open("../../shared/reference/datasets/diel_do/brandywine_2012.csv")
	if err != nil {
		t.Skip("the measured series is not here: ", err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil || len(rows) < 1000 {
		t.Fatal(err, len(rows))
	}
	type point struct{ day, o2, sat, light float64 }
	var series []point
	var off []float64
	var first time.Time
	for _, r := range rows[1:] {
		at, err := time.Parse(time.DateTime, r[0])
		if err != nil {
			t.Fatal(err)
		}
		if first.IsZero() {
			first = at
		}
		v := func(i int) float64 { x, _ := strconv.ParseFloat(r[i], 64); return x }
		series = append(series, point{at.Sub(first).Hours() / 24, v(1), v(2), v(5)})
		off = append(off, math.Abs(v(2)/0.99/float64(water.OxygenSaturation(quantity.Celsius(v(4)), 1))-1))
	}
	// The series was reckoned with the air pressure of the day, so that single rows differ more.
	if m := median(off); m > 0.005 {
		t.Errorf("given saturation over 0.99: off by %.2f %% in the median", 100*m)
	} else {
		t.Logf("given saturation over 0.99: off by %.2f %% in the median", 100*m)
	}
	var nights [][]point
	for i := 0; i < len(series); {
		if series[i].light > 0 {
			i++
			continue
		}
		j := i
		for j < len(series) && series[j].light == 0 {
			j++
		}
		if j-i >= 12 {
			nights = append(nights, series[i:j])
		}
		i = j
	}
	if len(nights) < 30 {
		t.Fatal("nights", len(nights))
	}
	var misses []float64
	for n := range len(nights) - 1 {
		b := fitNight(len(nights[n]), func(i int) (day, o2, sat float64) { p := nights[n][i]; return p.day, p.o2, p.sat })
		next := nights[n+1]
		o2 := quantity.MgPerL(next[0].o2)
		for i := 1; i < len(next); i++ {
			b.Saturation = quantity.MgPerL((next[i].sat + next[i-1].sat) / 2)
			o2 = b.After(o2, next[i].day-next[i-1].day)
			misses = append(misses, math.Abs(float64(o2)-next[i].o2))
		}
	}
	m := median(misses)
	t.Logf("%d nights, median error %.3f mg/L", len(nights), m)
	if m > 0.3 {
		t.Errorf("median error of the next night %.3f mg/L", m)
	}
}
