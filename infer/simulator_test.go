package infer

import (
	"fmt"
	"math"
	"math/rand/v2"
	"time"

	"halfwater/book"
	"halfwater/enclosure"
	"halfwater/kit"
	"halfwater/quantity"
	"halfwater/water"
)

// truth is an enclosure that is not the model of this package: ions one by one in amounts, a tap that
// follows the season, food in pulses, plants that grow and are cut, litres that are not what was
// logged, CO2 that wanders; conductivity and pH come from the full chemistry of package water.
type truth struct {
	r *rand.Rand

	litres, missing                 float64
	ca, mg, na, k, cl, so4, no3, al float64 // mmol or meq in the box
	mulm                            float64 // mg N that has not come free
	tan, no2                        float64 // mmol N in the box
	oxTAN, oxNO2                    float64 // mmol N a day that nitrifiers could oxidise
	halfTAN, halfNO2                float64 // mmol/L
	pCO2, usualCO2                  float64
	temp                            float64

	tap            [8]float64 // mmol/L, same order, at mid-season
	ro             float64    // share of the tap that passes the membrane
	season         float64
	feedG          float64 // g/d
	eaten, uptake  float64 // mg N per mg N fed; mg N/d
	khPerN, stone  float64 // meq per mmol N; meq/d
	vapour         float64
	noLot, phBias  float64
	ecGain, khBias float64
	ghBias         float64
	tempBias       float64
	faults, soft   bool
	washed         bool
	grows          bool // nitrifiers are not where they were
	untested       bool // nobody reads anything
	week           int  // of the keeping
	forgot         int  // top-ups poured and not written down

	leak     float64 // water that leaves with its salts, L/d
	salt     float64 // sodium chloride that nobody writes down, mmol/d
	spilt    float64 // the same at once, mmol, in the middle of the record
	seldom   int     // a change every so many weeks, 0 for each
	filledBy string  // source of the top-ups

	net, lost []float64 // nitrate made less taken up, mg N/L, and KH lost, dKH, by day

	lines []book.Line
	n     int
	pairs []pair
}

// pair is a reading and the truth that it is of.
type pair struct {
	id book.ID
	m  quantity.Measurand
	x  float64
	r  book.Reading
}

var day0 = time.Date(2026, 3, 1, 18, 0, 0, 0, time.UTC)

func (t *truth) ln(median, sd float64) float64 { return median * math.Exp(sd*t.r.NormFloat64()) }

func (t *truth) write(at time.Time, body book.Body) {
	t.n++
	t.lines = append(t.lines, book.Line{ID: book.ID(fmt.Sprintf("%05d", t.n)), At: at, Recorded: at, Water: book.MainWater, By: book.Keeper, Body: body})
}

var (
	no3Card = kit.Kit{Name: "nitrate card", Of: quantity.OfNO3, Form: kit.Card, Unit: "mg/L", Basis: quantity.AsNO3, Steps: []float64{0, 1, 5, 10, 25, 50, 100}, Lot: "a"}
	tanCard = kit.Kit{Name: "ammonia card", Of: quantity.OfTAN, Form: kit.Card, Unit: "mg/L", Basis: quantity.AsNH4, Steps: []float64{0, 0.25, 0.5, 1, 2, 4}, Lot: "a"}
	no2Card = kit.Kit{Name: "nitrite card", Of: quantity.OfNO2, Form: kit.Card, Unit: "mg/L", Basis: quantity.AsNO2, Steps: []float64{0, 0.25, 0.5, 1, 2, 5}, Lot: "a"}
	khDrops = kit.Kit{Name: "KH drops", Of: quantity.OfKH, Form: kit.Drops, Unit: "dKH", PerDrop: 1, Lot: "a"}
	ghDrops = kit.Kit{Name: "GH drops", Of: quantity.OfGH, Form: kit.Drops, Unit: "dGH", PerDrop: 1, Lot: "a"}
	phPen   = kit.Kit{Name: "pH pen", Of: quantity.OfPH, Form: kit.Meter, Unit: "pH", Accuracy: 0.1, Digit: 0.01, Calibrated: day0.AddDate(0, 0, -1)}
	ecPen   = kit.Kit{Name: "EC pen", Of: quantity.OfEC, Form: kit.Meter, Unit: "uS/cm", AccuracyShare: 0.03, Digit: 1, Calibrated: day0.AddDate(0, 0, -1)}
	thermo  = kit.Kit{Name: "thermometer", Of: quantity.OfWaterTemp, Form: kit.Meter, Unit: "Cel", Accuracy: 0.5, Digit: 0.1}
)

// newTruth makes an enclosure and writes its facts down.
func newTruth(seed uint64, kind string) *truth {
	t := &truth{r: rand.New(rand.NewPCG(seed, 77)), faults: kind == "faults", soft: kind == "soft", washed: kind == "washed"}
	r := t.r
	basin := enclosure.Basin{Length: 1000, Width: 500, Height: 600, FullMark: 240, LandShare: 0.35, BedFront: 30, BedBack: 60}
	measured, err := enclosure.HeldWater(enclosure.Geometry{Basin: &basin}, nil)
	if err != nil {
		panic(err)
	}
	t.litres = float64(measured.Quantile(r.Float64()))
	t.tap = [8]float64{t.ln(1.9, 0.25), t.ln(0.45, 0.3), t.ln(0.9, 0.3), 0.05, t.ln(1.1, 0.3), t.ln(0.5, 0.3), t.ln(0.2, 0.4), 0}
	t.tap[7] = 2*t.tap[0] + 2*t.tap[1] + t.tap[2] + t.tap[3] - t.tap[4] - 2*t.tap[5] - t.tap[6]
	if t.tap[7] < 0.5 {
		t.tap[2] += 0.5 - t.tap[7]
		t.tap[7] = 0.5
	}
	t.ro = t.ln(0.02, 0.4)
	t.season = 2 * math.Pi * r.Float64()
	t.feedG = t.ln(0.35, 0.4)
	t.eaten, t.uptake = t.ln(0.75, 0.3), t.ln(0.04, 0.7)*t.litres
	t.khPerN, t.stone = 1+0.5*r.Float64(), 0.002*r.NormFloat64()*t.litres
	t.vapour = t.ln(0.4, 0.4)
	t.usualCO2 = t.ln(1.4e-3, 0.5)
	t.pCO2, t.temp = t.usualCO2, 24.5+r.NormFloat64()
	t.noLot, t.phBias = 0.2*r.NormFloat64(), 0.07*r.NormFloat64()
	t.ecGain, t.khBias, t.ghBias = 0.012*r.NormFloat64(), 0.15*r.NormFloat64(), 0.15*r.NormFloat64()
	t.tempBias = 0.4 * r.NormFloat64()
	t.filledBy = "RO"

	if kind == "planted" { // more than comes in
		t.uptake = t.feedG * 72 * t.eaten * (0.9 + 0.5*r.Float64())
	}

	daily := t.feedG * 72 * t.eaten / 14.007
	t.oxTAN, t.oxNO2 = daily*t.ln(6, 0.5), daily*t.ln(7, 0.5)
	t.halfTAN, t.halfNO2 = t.ln(0.15, 0.6)/14.007, t.ln(0.15, 0.6)/14.007
	t.mulm = daily * 14.007 / 0.35
	t.tan, t.no2 = 0.18*t.halfTAN*t.litres, 0.15*t.halfNO2*t.litres

	hard := 0.35 + 0.3*r.Float64()
	if t.soft {
		hard = 0.1
	}
	share := [8]float64{}
	for i := range share {
		share[i] = t.litres * t.tap[i] * (hard + (1-hard)*t.ro)
	}
	t.set(share)
	t.no3 += t.litres * t.ln(4, 0.6) / 14.007
	t.al -= t.litres * 0.5 * r.Float64() * t.al / t.litres
	t.na = t.balance()

	w := func(b book.Body) { t.write(day0, b) }
	w(basin)
	all := math.Exp(0.06 * r.NormFloat64())
	mgl := func(x, molar float64) water.Known[quantity.MgPerL] { return water.Stated(quantity.MgPerL(x * molar)) }
	// The report is of another day: all of it is off together, and each number by itself.
	slip := func() float64 { return all * math.Exp(0.04*r.NormFloat64()) }
	gh, kh := (t.tap[0]+t.tap[1])*slip()*5.608, t.tap[7]*slip()*2.804
	s := t.speciate(t.tap, 7.5)
	w(enclosure.SourceWater{Name: "tap", Analysis: water.Analysis{
		Kind: water.Mains, GH: water.Stated(quantity.Hardness(gh)), KH: water.Stated(quantity.Alkalinity(kh)),
		EC: water.Stated(quantity.Conductivity(float64(s.EC25()) * slip())), NO3: water.Stated(quantity.Nitrate(t.tap[6] * 14.007)), Cl: mgl(t.tap[4], 35.453),
	}})
	w(enclosure.SourceWater{Name: "RO", MadeBy: "RO unit", Analysis: water.Analysis{Kind: water.RO}})
	w(enclosure.Stage{Name: "sponge", Order: 1, Medium: "sponge", Biological: true})
	w(enclosure.Routine{ChangeShare: 0.2, EveryDays: 7, TopUpWith: "RO"})
	for _, k := range []kit.Kit{no3Card, tanCard, no2Card, khDrops, ghDrops, phPen, ecPen, thermo} {
		w(k)
	}
	w(book.Feed{What: "dry", Grams: quantity.Grams(t.feedG), ProteinShare: 0.45, InWater: true, PerDay: true})
	return t
}

func (t *truth) set(x [8]float64) {
	t.ca, t.mg, t.na, t.k, t.cl, t.so4, t.no3, t.al = x[0], x[1], x[2], x[3], x[4], x[5], x[6], x[7]
}

func (t *truth) all() [8]float64 {
	return [8]float64{t.ca, t.mg, t.na, t.k, t.cl, t.so4, t.no3, t.al}
}

// balance is the sodium that makes the charges agree.
func (t *truth) balance() float64 {
	return t.al - 2*t.ca - 2*t.mg - t.k - t.tan + t.cl + 2*t.so4 + t.no3 + t.no2
}

func (t *truth) now() float64 { return t.litres - t.missing }

func (t *truth) speciate(x [8]float64, ph quantity.PH) water.Speciation {
	s, err := water.GivenPH(water.Composition{
		Temperature: quantity.Celsius(25), Ca: water.Molality(x[0]), Mg: water.Molality(x[1]), Na: water.Molality(math.Max(x[2], 0)),
		K: water.Molality(x[3]), Cl: water.Molality(x[4]), SO4: water.Molality(x[5]), NO3: water.Molality(x[6]), Alk: water.Equivalents(x[7]),
	}, ph)
	if err != nil {
		panic(err)
	}
	return s
}

// state is the truth of every quantity at this moment.
type state map[quantity.Measurand]float64

func (t *truth) state(hour float64) state {
	x := t.all()
	for i := range x {
		x[i] /= t.now()
	}
	c := water.Composition{
		Temperature: quantity.Celsius(t.temp), Ca: water.Molality(x[0]), Mg: water.Molality(x[1]), Na: water.Molality(math.Max(x[2], 0)),
		K: water.Molality(x[3]), Cl: water.Molality(x[4]), SO4: water.Molality(x[5]), NO3: water.Molality(x[6]), Alk: water.Equivalents(x[7]),
		TAN: water.Molality(t.tan / t.now()), NO2: water.Molality(t.no2 / t.now()),
	}
	s, err := water.Open(c, quantity.Atm(t.pCO2*math.Exp(hour)))
	if err != nil {
		panic(err)
	}
	return state{
		quantity.OfTAN: t.tan / t.now() * 14.007, quantity.OfNO2: t.no2 / t.now() * 14.007,
		quantity.OfNO3: x[6] * 14.007, quantity.OfKH: x[7] * 2.804, quantity.OfGH: (x[0] + x[1]) * 5.608, quantity.OfChloride: x[4] * 35.453,
		quantity.OfEC: float64(s.EC25()), quantity.OfPH: float64(s.PH), quantity.OfWaterTemp: t.temp + hour,
	}
}

// live is one day, in steps of five minutes: what a step of ammonia or nitrite loses must be little of what
// there is, or none is ever left.
func (t *truth) live() {
	const steps = 24 * 12
	fed := 0.0
	if t.r.Float64() < 0.85 { // a day in seven or so nothing is given
		fed = t.feedG / 0.85 * t.ln(1, 0.3)
	}
	t.mulm += fed * 1000 * 0.072 * t.eaten
	n, a := t.no3, t.al
	for range steps {
		free := t.mulm * 0.35 / steps
		t.mulm -= free
		t.tan += free / 14.007
		t.al += (2 - t.khPerN) * free / 14.007
		t.so4 += (t.khPerN - 1) * free / 14.007 / 2 // protein brings sulfur, an acid of its own
		halves := math.Min(t.oxTAN/steps*t.tan/(t.tan+t.halfTAN*t.litres)*t.no3OK(), t.tan)
		t.tan -= halves
		t.no2 += halves
		made := math.Min(t.oxNO2/steps*t.no2/(t.no2+t.halfNO2*t.litres), t.no2)
		t.no2 -= made
		t.no3 += made
		grow := func(x *float64, at, half float64) { *x *= 1 + (0.5*at/(at+half*t.litres)-0.06)/steps }
		if t.grows {
			grow(&t.oxTAN, t.tan, t.halfTAN)
			grow(&t.oxNO2, t.no2, t.halfNO2)
		}
		up := math.Min(t.uptake/steps/14.007, t.no3*0.02/12)
		t.no3 -= up
		t.al += -2*halves + up + t.stone/steps
		t.ca = math.Max(t.ca+t.stone/(2*steps), 0)
		t.al = math.Max(t.al, 0.02*t.litres)
		t.missing += t.vapour / steps
		t.cl += t.salt / steps
		t.seep(t.leak / steps)
	}
	if t.week > 4 { // a pen that nobody calibrates drifts
		t.phBias += 0.02 * t.r.NormFloat64()
	}
	t.net = append(t.net, (t.no3-n)*14.007/t.litres)
	t.lost = append(t.lost, (a-t.al)*2.804/t.litres)
	t.na = t.balance()
	t.uptake *= math.Exp(0.03 * t.r.NormFloat64())
	t.pCO2 *= math.Exp(0.06*t.r.NormFloat64() - 0.05*math.Log(t.pCO2/t.usualCO2))
	t.temp += 0.15*t.r.NormFloat64() - 0.1*(t.temp-24.5)
}

// seep takes litres with what is dissolved in them.
func (t *truth) seep(litres float64) {
	if litres == 0 {
		return
	}
	left := 1 - litres/t.now()
	x := t.all()
	for i := range x {
		x[i] *= left
	}
	t.set(x)
	t.tan *= left
	t.no2 *= left
	t.missing += litres
}

// no3OK is how far want of alkalinity leaves nitrification; at the floor nothing is left.
func (t *truth) no3OK() float64 {
	spare := math.Max(t.al-0.02*t.litres, 0)
	return spare / (spare + 0.05*t.litres)
}

// pour takes litres out and pours in; what is logged is not quite what was done.
func (t *truth) pour(at time.Time, out float64, in map[string]float64, topUp bool) {
	sd := 0.06
	if t.faults {
		sd = 0.12
	}
	slip := math.Exp(sd * t.r.NormFloat64())
	x := t.all()
	f := out * slip / t.now()
	t.tan *= 1 - f
	t.no2 *= 1 - f
	for i := range x {
		x[i] *= 1 - f
	}
	season := 1 + 0.04*math.Sin(t.season+2*math.Pi*at.Sub(day0).Hours()/24/365)
	total := 0.0
	var parts []book.Poured
	for _, name := range []string{"tap", "RO"} {
		l := in[name]
		if l <= 0 {
			continue
		}
		parts = append(parts, book.Poured{Source: name, Litres: quantity.Litres(l)})
		l *= slip
		total += l
		of := season
		if name == "RO" {
			of *= t.ro
		}
		for i := range x {
			x[i] += l * of * t.tap[i]
		}
	}
	t.set(x)
	t.missing = math.Max(t.missing+out*slip-total, 0)
	if topUp {
		if t.faults && t.forgot < 2 && t.r.Float64() < 0.04 {
			t.forgot++
			return
		}
		t.write(at, book.TopUp{Source: parts[0].Source, Litres: parts[0].Litres})
		return
	}
	t.write(at, book.Change{OutLitres: quantity.Litres(out), In: parts})
}

// nextWeek is how nitrate rises, mg N/L, and KH falls, dKH, in the coming week if no water is changed.
func (t *truth) nextWeek() (rise, fall float64) {
	f := *t
	f.r = rand.New(rand.NewPCG(uint64(t.n), 99))
	f.net, f.lost = nil, nil
	for range 7 {
		f.live()
	}
	for i := range f.net {
		rise, fall = rise+f.net[i], fall+f.lost[i]
	}
	return rise, fall
}

// test reads the truth through a kit. Its errors are those that package kit states, shared between a
// bias of the lot and each reading's own.
func (t *truth) test(at time.Time, k kit.Kit, x, bias, noise float64) {
	if t.faults {
		noise *= 1.3 // worse than the kit's own word
	}
	seen := x + bias + noise*t.r.NormFloat64()
	switch k.Of {
	case quantity.OfNO3, quantity.OfTAN, quantity.OfNO2:
		shift := map[quantity.Measurand]float64{quantity.OfNO3: 0.3, quantity.OfTAN: 0.25, quantity.OfNO2: 0.06}[k.Of]
		seen = (x+shift)*math.Exp(bias+noise*t.r.NormFloat64()) - shift
		if k.Of == quantity.OfNO3 && t.r.Float64() < 0.04 {
			seen *= 0.2 + 0.3*t.r.Float64() // not shaken
		}
	case quantity.OfEC:
		seen = x * math.Exp(bias+noise*t.r.NormFloat64())
	}
	if t.faults && t.r.Float64() < 0.02 { // misread
		seen *= math.Exp(0.8 * t.r.NormFloat64())
		if k.Of == quantity.OfPH || k.Of == quantity.OfWaterTemp {
			seen = x + 0.5*t.r.NormFloat64()
		}
	}
	seen = math.Max(seen, 1e-3)
	shown := k.Shows(seen)
	iv, err := k.Read(shown, at)
	if err != nil {
		panic(fmt.Sprint(k.Name, shown, err))
	}
	r := book.Reading{Of: k.Of, Kit: k.Name, Shown: shown, Unit: k.Unit, Basis: k.Basis, Lo: iv.Lo, Hi: iv.Hi}
	t.write(at, r)
	t.pairs = append(t.pairs, pair{t.lines[len(t.lines)-1].ID, k.Of, x, r})
}

// mischief is what goes wrong in some kinds of enclosure: a new lot of nitrate reagent in mid-record, a
// filter washed in hot water.
func (t *truth) mischief(at time.Time, wk int) {
	if wk == 13 {
		t.cl += t.spilt
	}
	if t.faults && wk == 13 {
		lot := no3Card
		lot.Lot = "b"
		t.noLot = 0.2 * t.r.NormFloat64()
		t.write(at.Add(30*time.Minute), lot)
	}
	if t.washed && wk == 24 {
		left := t.ln(0.1, 0.5)
		t.oxTAN *= left
		t.oxNO2 *= left
		t.grows = true
		t.write(at.Add(30*time.Minute), book.Service{Stage: "sponge", RinsedIn: "hot tap"})
	}
}

// keep lives so many weeks: tests on Sunday, then the change, top-ups on Wednesday and Sunday.
func (t *truth) keep(weeks int) {
	hard := 0.3 + 0.4*t.r.Float64()
	if t.soft { // KH of the mix about one: it runs out
		hard = 0.1
	}
	out := math.Round(t.litres * 0.2)
	for range weeks {
		wk := t.week
		t.week++
		for d := range 7 {
			t.live()
			at := day0.AddDate(0, 0, 7*wk+d+1)
			if d == 2 || d == 6 {
				l := math.Round(2*t.missing*t.ln(1, 0.05)) / 2
				if l > 0 {
					t.pour(at.Add(-2*time.Hour), 0, map[string]float64{t.filledBy: l}, true)
				}
			}
			if d != 6 {
				continue
			}
			hour := 0.2 * t.r.NormFloat64()
			s := t.state(hour)
			on := func(every int) bool { return wk%every == 0 && t.r.Float64() > 0.15 && !t.untested }
			at = at.Add(-time.Hour)
			if on(1) {
				t.test(at, no3Card, s[quantity.OfNO3], t.noLot, 0.33)
			}
			if on(1) {
				t.test(at, khDrops, s[quantity.OfKH], t.khBias, 0.4)
			}
			if on(1) {
				t.test(at, phPen, s[quantity.OfPH], t.phBias, 0.05)
			}
			if on(2) {
				t.test(at, ghDrops, s[quantity.OfGH], t.ghBias, 0.4)
			}
			if on(2) {
				t.test(at, ecPen, s[quantity.OfEC], t.ecGain, 0.01)
			}
			if on(2) {
				t.test(at, tanCard, s[quantity.OfTAN], 0.1, 0.3)
				t.test(at, no2Card, s[quantity.OfNO2], 0.1, 0.22)
			}
			if !t.untested {
				t.test(at, thermo, s[quantity.OfWaterTemp], t.tempBias, 0.3)
			}
			t.mischief(at, wk)
			if t.r.Float64() < 0.93 && (t.seldom == 0 || wk%t.seldom == t.seldom-1) {
				l := math.Max(1, math.Round(out*hard))
				t.pour(at.Add(time.Hour), out, map[string]float64{"tap": l, "RO": out - l}, false)
			}
		}
	}
}
