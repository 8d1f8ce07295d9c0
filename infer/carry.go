package infer

import (
	"math"
	"time"

	"halfwater/book"
	"halfwater/enclosure"
	"halfwater/load"
	"halfwater/quantity"
)

// walk goes through the lines of the book, carrying what is believed from one to the next.
type walk struct {
	g     gauss
	at    time.Time
	facts enclosure.Facts

	from   time.Time         // lines before it are not read, but facts are
	start  time.Time         // of the carrying
	warmAt time.Time         // temperature keeps its own time: nothing else hangs on it
	met    [levels]bool      // slots that were read
	far    [levels]*evidence // the last reading, when it was far from what was expected
	boxes  []box
	box    box // in force
	phRead bool

	missing float64          // litres short of the full mark
	known   [levels]bool     // slots that rest on something
	feed    load.Course      // what was put in
	ref     float64          // mg N/d put in at the end: what rise and fall refer to
	topped  bool             // top-ups are written down
	brews   map[string]brew  // analyses in force, by source
	doubts  map[string]doubt // of the sources
	taken   int              // slots of doubt in use
	kits    map[string]int   // slot of the bias of a lot
	tan     pool
	no2     pool
}

// elapse carries the belief to a moment.
func (w *walk) elapse(to time.Time) {
	for w.at.Before(to) {
		step := to.Sub(w.at)
		if step > longest {
			step = longest
		}
		w.step(w.at.Add(step), step.Hours()/24)
	}
}

const longest = 7 * 24 * time.Hour

func (w *walk) step(to time.Time, dt float64) {
	g := &w.g
	put := float64(w.feed.Between(w.at, to)) / dt // mg N/d
	w.at = to
	extra := value("yield.nitrate") * (put - w.ref) / w.box.litres

	// Nitrogen. Where little is left plants cannot take it up, where no alkalinity is left nitrifiers
	// cannot make it: both are taken at the present mean.
	limit := 1.0
	if g.mean[rise]+extra < 0 {
		n := math.Max(g.mean[nitrate], 0)
		limit = n / (n + 0.3)
	}
	k := math.Max(g.mean[kh], 0)
	alkaline := k / (k + value("kh.half"))
	perN := value("kh.per_nitrate")
	slope := logSlope(g.mean[kh])
	g.move(nitrate, []term{{nitrate, 1}, {rise, dt * limit}}, dt*extra*limit)
	lost := dt * extra * perN * alkaline
	g.move(ions, []term{{ions, 1}, {fall, value("ec.per_kh") * dt * alkaline}}, value("ec.per_kh")*lost)
	w.mix(kh, []term{{fall, -dt * alkaline}}, -lost, 0)

	// A week's feed and growth differ from the mean, and go to nitrate, KH and conductivity together.
	made := math.Max(math.Abs(g.mean[rise]+extra), value("yield.nitrate")*put/w.box.litres)
	week := value("wander.feed") * made
	g.shake(week*week*7*dt, term{nitrate, limit}, term{kh, -perN * alkaline}, term{ph, -slope * perN * alkaline},
		term{ions, perN * alkaline * value("ec.per_kh")})
	rate := math.Max(value("wander.rate")*made, value("wander.rate_floor")*value("wander.rate"))
	g.shake(rate*rate*dt/28, term{rise, 1}, term{fall, perN})
	other := value("kh.other") / 2
	g.shake(other*other*dt/28, term{fall, 1})

	wander := func(slot int, sd float64) { g.shake(sd*sd*dt, term{slot, 1}) }
	wander(gh, value("wander.gh"))
	wander(ions, value("wander.ec"))
	wander(chloride, value("wander.chloride"))
	wander(ph, value("wander.ph"))
	sd := value("wander.kh")
	g.shake(sd*sd*dt, term{kh, 1}, term{ph, slope})
	for _, d := range w.doubts {
		if s := value("wander.source"); d.all > 0 && g.sd(d.all) < 2*value("source.mineral") {
			g.shake(s*s*dt/28, term{d.all, 1})
		}
	}
	w.evaporate(dt)
}

// warm carries the temperature to a moment: a thermostat holds it, more or less.
func (w *walk) warm(to time.Time) {
	dt := math.Max(to.Sub(w.warmAt).Hours()/24, 0)
	w.warmAt = to
	room := square(value("wander.temp_most")) - square(w.g.sd(warmth))
	if more := math.Min(square(value("wander.temp"))*dt, room); more > 0 {
		w.g.shake(more, term{warmth, 1})
	}
}

// evaporate: the ions stay. Where the keeper writes top-ups down the level is followed; where not, it
// is taken as kept, with the top-up water of the routine.
func (w *walk) evaporate(dt float64) {
	e := math.Max(w.g.mean[vapour], 0)
	if w.topped {
		w.missing = math.Max(w.missing, math.Min(w.missing+e*dt, value("level.unseen")*w.box.litres))
		return
	}
	b, of, known := w.source(w.topUpSource())
	for i := nitrate; i <= chloride; i++ {
		if !b.has[i] {
			continue
		}
		if !known { // pure or hard: nobody wrote it down
			most := e * dt / w.box.litres * (b.mean[i] + b.own[i])
			w.g.shake(most*most/4, term{i, 1})
			continue
		}
		per := dt / w.box.litres * b.mean[i]
		more, noise := of.terms(b, i, dt/w.box.litres*e)
		w.mix(i, append(more, term{vapour, per}), 0, noise)
	}
}

func (w *walk) topUpSource() string {
	if w.facts.Routine != nil {
		return w.facts.Routine.TopUpWith
	}
	return ""
}

// source gives a source water in force and its doubt; false when it was never described, and then
// whatever was described stands in, as wide as it is.
func (w *walk) source(name string) (brew, doubt, bool) {
	if b, ok := w.brews[name]; ok && name != "" {
		return b, w.doubts[name], true
	}
	return unknownBrew(w.brews), doubt{}, false
}

// doubt holds the slots of what may be wrong with an analysis; 0 is none. All is a share of all that
// the source holds, own an amount of one ion.
type doubt struct {
	all int
	own [chloride + 1]int
}

// terms are what litres per litre held of a source bring in doubt to one slot, and the variance of
// what has no slot.
func (d doubt) terms(b brew, slot int, share float64) (sum []term, noise float64) {
	if d.all > 0 {
		sum = append(sum, term{d.all, share * b.mean[slot]})
	} else {
		noise += square(share * b.share * b.mean[slot])
	}
	if d.own[slot] > 0 {
		sum = append(sum, term{d.own[slot], share})
	} else {
		noise += square(share * b.own[slot])
	}
	return sum, noise
}

// doubtOf makes room for the doubt of a source.
func (w *walk) doubtOf(name string, b brew) doubt {
	d := w.doubts[name]
	slot := func(have int, sd float64) int {
		if have == 0 {
			if w.taken >= manyDoubts {
				return 0
			}
			have = sources + w.taken
			w.taken++
		}
		w.g.put(have, 0, sd)
		return have
	}
	d.all = slot(d.all, b.share)
	for i := range d.own {
		if b.has[i] && b.mean[i] > 0 && !b.pure {
			d.own[i] = slot(d.own[i], b.own[i])
		}
	}
	w.doubts[name] = d
	return d
}

// logSlope is how far pH moves per dKH at a given CO2: 1/(KH ln 10), held near the end of the buffer.
func logSlope(mean float64) float64 { return math.Log10(math.E) / math.Max(mean, 0.5) }

// pour takes litres out and pours others in, at once.
func (w *walk) pour(out float64, in []book.Poured, salts []book.SaltPoured, mixEC quantity.Conductivity) {
	total := 0.0
	for _, p := range in {
		total += float64(p.Litres)
	}
	v := math.Max(w.box.litres-w.missing, 0.3*w.box.litres)
	f := math.Min(out/v, 1)
	w.missing = math.Max(w.missing+out-total, math.Min(w.missing, 0))

	g := &w.g
	for slot := nitrate; slot <= chloride; slot++ {
		before := g.mean[slot]
		delta := []term{{slot, -f}}
		plus, poured, noise := 0.0, 0.0, 0.0
		for _, p := range in {
			b, doubts, _ := w.source(p.Source)
			share := float64(p.Litres) / w.box.litres
			switch {
			case slot == ions && mixEC > 0:
				x := strength(float64(mixEC))
				poured += share * x
				noise += square(share * 0.03 * x)
			case b.has[slot]:
				poured += share * b.mean[slot]
				more, rest := doubts.terms(b, slot, share)
				delta = append(delta, more...)
				noise += rest
			default: // nothing is known of it: it may be as the enclosure is, or quite another
				poured += share * before
				noise += square(share * (0.5*before + 0.5))
			}
		}
		plus += poured
		if !(slot == ions && mixEC > 0) {
			plus += saltsIn(salts, slot) / w.box.litres
		}
		// More water held means a smaller share.
		delta = append(delta, term{held, f*before - plus})
		// Litres are logged by eye; what is out and in is one error.
		noise += square(value("litres.logged") * (plus - f*before))
		w.mix(slot, delta, plus, noise)
	}
	w.mixPools(f, total/w.box.litres, in)
}

// mix adds a change to a slot, and moves pH along when it is KH: at a given CO2 pH goes with its
// logarithm.
func (w *walk) mix(slot int, delta []term, plus, noise float64) {
	g := &w.g
	if slot == kh {
		// The mean moves by the logarithm, what is in doubt by its slope.
		mean, _, _ := g.project(delta)
		now, then := math.Max(g.mean[kh], 0.1), math.Max(g.mean[kh]+mean+plus, 0.1)
		c := logSlope((now + then) / 2)
		sum := []term{{ph, 1}}
		for _, t := range delta {
			sum = append(sum, term{t.at, c * t.by})
		}
		was := g.mean[ph]
		g.move(ph, sum, 0)
		g.mean[ph] = was + math.Log10(then/now)
		g.shake(square(0.1*math.Log10(then/now)), term{ph, 1})
		g.move(kh, append([]term{{kh, 1}}, delta...), plus)
		g.shake(noise, term{kh, 1}, term{ph, c})
		return
	}
	g.move(slot, append([]term{{slot, 1}}, delta...), plus)
	g.shake(noise, term{slot, 1})
}

func square(x float64) float64 { return x * x }

func (w *walk) mixPools(f, in float64, poured []book.Poured) {
	total, tan, no2 := 0.0, 0.0, 0.0
	for _, p := range poured {
		b, _, _ := w.source(p.Source)
		l := float64(p.Litres)
		total += l
		tan += l * b.tan
		no2 += l * b.no2
	}
	if total > 0 {
		tan, no2 = tan/total, no2/total
	}
	w.tan.mix(w.at, f, in*tan)
	w.no2.mix(w.at, f, in*no2)
}
