package blame

import (
	"fmt"
	"math"
	"slices"
	"time"

	"halfwater/book"
	"halfwater/dynamics"
	"halfwater/enclosure"
	"halfwater/infer/fit"
	"halfwater/quantity"
)

// otherwise are the ways in which the water may really have gone another way between the readings that a
// charge is about and the ones before: something that is not written down, litres that were others, or what
// no line could tell.
func (court *court) otherwise(c *charge) []charge {
	q := court.q
	if len(c.lines) == 0 {
		return nil
	}
	first := c.lines[0]
	for _, i := range c.lines {
		if q.Readings[i].Day < q.Readings[first].Day {
			first = i
		}
	}
	if !court.inside[q.Witnesses[first].Line.ID] {
		return nil
	}
	if had, ok := court.others[first]; ok {
		return had
	}
	out := court.before(first)
	court.others[first] = out
	return out
}

// before are the ways in which the water may have gone before a reading.
func (court *court) before(first int) []charge {
	q := court.q
	of, until := q.Witnesses[first].Of, q.Readings[first].Day
	since := math.Inf(-1)
	for i, w := range q.Witnesses {
		if d := q.Readings[i].Day; w.Of == of && d < until && court.inside[w.Line.ID] {
			since = math.Max(since, d)
		}
	}
	out := court.wandered(of)
	if until-since < value("soon")/24 || math.IsInf(since, 0) {
		return out
	}
	out = append(out, court.stepped(of, since, until)...)
	return append(out, court.unwritten(of, since, until)...)
}

// unwritten is what is not written down, or otherwise than it was, between two days: each run through the model.
func (court *court) unwritten(of quantity.Measurand, since, until float64) []charge {
	q := court.q
	day := until - math.Min(1, (until-since)/2)
	var ways []fit.Otherwise
	var out []charge // by way
	add := func(code, name string, prior float64, these ...fit.Otherwise) {
		for range these {
			out = append(out, charge{code: code, name: name, prior: prior / float64(len(these))})
		}
		ways = append(ways, these...)
	}
	var changes []fit.Otherwise
	for _, e := range court.pours(day) {
		for _, share := range []float64{0.15, 0.3, 0.5} {
			e.Out, e.In = share*q.Course.Held, share*q.Course.Held
			changes = append(changes, with(e))
		}
	}
	add(ByLog, "change", value("change"), changes...)
	add(ByLog, "top-up", value("topup"), toppedUp(q.Course, day, 0.05), toppedUp(q.Course, day, 0.12))
	for i, e := range slices.Backward(q.Course.Events) {
		if e.Kind == dynamics.Poured && e.Change > 0 && e.Day < until && e.Day > since-dynamics.Week {
			add(ByLog, string(e.Line), value("litres"), resized(e.Day, i, 0), resized(e.Day, i, 0.5), resized(e.Day, i, 2))
			break
		}
	}
	switch of {
	case quantity.OfKH, quantity.OfPH, quantity.OfEC, quantity.OfGH:
		const meq, mmol = 1 / 2.804, 1 / 5.608 // of a degree
		for _, d := range []dynamics.Water{{Na: meq, Alk: meq, DIC: meq}, {Ca: mmol, Cl: 2 * mmol}} {
			add(ByLog, "dose", value("dose")/2, dosed(q.Course, day, d, 1), dosed(q.Course, day, d, 3))
		}
	case quantity.OfTAN, quantity.OfNO2, quantity.OfNO3:
		const molarN = 14.007
		d := dynamics.Water{TAN: 1, Alk: 1 / molarN}
		add(ByWater, "", value("pulse"), dosed(q.Course, day, d, 0.3), dosed(q.Course, day, d, 1), dosed(q.Course, day, d, 3))
	}
	if court.retelling == nil {
		coarse := q.Problem
		coarse.Pace = dynamics.Coarse
		court.retelling = coarse.Retell(court.mode)
	}
	for i, shift := range court.retelling.With(ways) {
		out[i].shift = shift
	}
	return slices.DeleteFunc(out, func(c charge) bool { return slices.ContainsFunc(c.shift, bad) })
}

// wandered is the water itself: one quantity went another way than the model can, from the beginning on and ever
// further, and all that read it see so: more is fed than the book says, plants take what nobody knew of.
func (court *court) wandered(of quantity.Measurand) []charge {
	q := court.q
	c := charge{code: ByWater, prior: value("wander"), sd: value("lot")}
	for i, w := range q.Witnesses {
		if w.Of == of && court.inside[w.Line.ID] {
			c.lines, c.loads = append(c.lines, i), append(c.loads, q.Readings[i].Day/q.Course.Days*court.part(i))
		}
	}
	return []charge{c}
}

// part is what a share of the value of a reading is, as its kit sees.
func (court *court) part(i int) float64 {
	r := &court.q.Readings[i]
	if r.Log || court.q.Witnesses[i].Reads == quantity.OfPH {
		return 1
	}
	return math.Max(court.scales.seen[i], 1)
}

// stepped is the water itself: one quantity went another way, more than it usually departs, and all that read
// it see so. Ammonia and nitrite go back within weeks. A service, a stop, newcomers or a carcass not long before
// make it likelier; then that line is named.
func (court *court) stepped(of quantity.Measurand, since, until float64) []charge {
	q := court.q
	c := charge{code: ByWater, prior: value("water"), sd: value("water_by")}
	lasts := value("water_lasts")
	switch of {
	case quantity.OfTAN, quantity.OfNO2:
		lasts = value("bump_lasts")
		c.sd = value("bump_by")
		for _, l := range court.lines {
			if d := q.Course.Day(l.At); d < until && d > until-2*dynamics.Week && upsets(l) {
				c.name, c.prior = string(l.ID), value("bump")
			}
		}
	case quantity.OfPH:
		c.sd = value("ph")
	}
	for i, w := range q.Witnesses {
		r := &q.Readings[i]
		if w.Of != of || !court.inside[w.Line.ID] || r.Day <= since || r.Day > until+4*lasts {
			continue
		}
		c.lines, c.loads = append(c.lines, i), append(c.loads, math.Exp(-math.Max(r.Day-until, 0)/lasts)*court.part(i))
	}
	return []charge{c}
}

// upsets reports whether a line is of something that may set ammonia and nitrite off.
func upsets(l book.Line) bool {
	switch b := l.Body.(type) {
	case book.Service, book.SwitchedOn:
		return true
	case book.TakenOut:
		return b.What == "carcass"
	}
	return l.Body.Kind() == "batch"
}

// with is that something more happens.
func with(e dynamics.Event) fit.Otherwise {
	return fit.Otherwise{From: e.Day, Do: func(c *dynamics.Course) {
		at := slices.IndexFunc(c.Events, func(have dynamics.Event) bool { return have.Day > e.Day })
		if at < 0 {
			at = len(c.Events)
		}
		c.Events = slices.Insert(c.Events, at, e)
		for i := range c.Pieces {
			if c.Pieces[i].TopUp > at {
				c.Pieces[i].TopUp++
			}
		}
	}}
}

// pours are the changes that a keeper may have made on a day: what was poured last, or one of the source waters
// by itself.
func (court *court) pours(day float64) []dynamics.Event {
	c := court.q.Course
	out := []dynamics.Event{lastPoured(c, day, true)}
	out[0].ToMark = true
	at := c.From.Add(time.Duration(day * 24 * float64(time.Hour)))
	var facts []book.Line
	var known enclosure.Facts
	var recorded time.Time
	waterBody := book.MainWater
	for _, l := range court.lines {
		if l.Recorded.After(recorded) {
			recorded = l.Recorded
		}
		if _, ok := l.Body.(book.Reading); ok && l.Water != "" {
			waterBody = l.Water
		}
		if f, ok := l.Body.(enclosure.Fact); ok {
			facts = append(facts, l)
			if !l.At.After(at) {
				known = known.With(f)
			}
		}
	}
	for i, s := range known.Sources {
		facts = append(facts, book.Line{
			ID: book.ID(fmt.Sprint("poured ", i)), At: at, Recorded: at, Water: waterBody,
			Body: book.Change{OutLitres: 1, In: []book.Poured{{Source: s.Name, Litres: 1}}},
		})
	}
	window := dynamics.Window{Water: waterBody, From: at.Add(-time.Hour), To: at.Add(time.Hour), Recorded: recorded, Held: quantity.HeldLitres(c.Held)}
	poured, err := dynamics.Compile(facts, window)
	if err != nil {
		return out
	}
	for _, e := range poured.Events {
		if e.Kind == dynamics.Poured {
			e.Day, e.Change, e.ToMark = day, 0, true
			out = append(out, e)
		}
	}
	return out
}

func toppedUp(c *dynamics.Course, day, share float64) fit.Otherwise {
	e := lastPoured(c, day, false)
	e.Out, e.In, e.ToMark, e.Mulm = 0, share*c.Held, false, 0
	return with(e)
}

// lastPoured is the last change, or top-up, before a day, or else the first after it, to be poured again; a
// middling tap when there is none.
func lastPoured(c *dynamics.Course, day float64, change bool) dynamics.Event {
	e := dynamics.Event{Kind: dynamics.Poured, Pour: c.Poured()}
	e.Pour.Volume, e.Pour.Temp, e.Pour.DIC = 1, 24, e.Pour.Alk
	found := false
	for _, have := range c.Events {
		if have.Kind == dynamics.Poured && (have.Out > 0) == change && (!found || have.Day < day) {
			e, found = have, true
		}
	}
	e.Day, e.Change, e.Loss, e.Salts = day, 0, 0, dynamics.Water{}
	return e
}

// resized makes a change of the course, of a day, larger or smaller, or undoes it.
func resized(day float64, event int, times float64) fit.Otherwise {
	return fit.Otherwise{From: day, Do: func(c *dynamics.Course) {
		e := &c.Events[event]
		e.Out, e.In = e.Out*times, e.In*times
	}}
}

// dosed adds amounts per litre of the held water.
func dosed(c *dynamics.Course, day float64, perLitre dynamics.Water, times float64) fit.Otherwise {
	by := times * c.Held
	d := perLitre
	d.Ca, d.Cl, d.Na, d.Alk, d.DIC, d.TAN = d.Ca*by, d.Cl*by, d.Na*by, d.Alk*by, d.DIC*by, d.TAN*by
	return with(dynamics.Event{Day: day, Kind: dynamics.Dosed, Salts: d})
}
