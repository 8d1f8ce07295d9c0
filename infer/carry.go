package infer

import (
	"math"
	"time"

	"halfwater/book"
	"halfwater/enclosure"
	"halfwater/load"
)

// walk goes through the lines of the book, carrying what is believed from one to the next.
type walk struct {
	g     gauss
	at    time.Time
	facts enclosure.Facts

	from   time.Time         // lines before it are not read, but facts are
	start  time.Time         // of the carrying
	before *past             // what histories that end where those of this walk begin have found, or nil
	warmAt time.Time         // temperature keeps its own time: nothing else hangs on it
	met    [levels]bool      // slots that were read
	far    [levels]*evidence // the last reading, when it was far from what was expected
	boxes  []box
	box    box // in force
	phRead bool

	witnesses []witness        // readings taken in, in order
	means     map[book.ID]mean // of probes
	tests     []book.Line      // of other waters

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
	g.move(ions, []term{{ions, 1}, {harden, value("ec.per_gh") * dt}}, 0)
	g.move(gh, []term{{gh, 1}, {harden, dt}}, 0)
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

// now is the water in the box at the present level.
func (w *walk) now() float64 { return math.Max(w.box.litres-w.missing, 0.3*w.box.litres) }

func (w *walk) topUpSource() string {
	if w.facts.Routine != nil {
		return w.facts.Routine.TopUpWith
	}
	return ""
}
