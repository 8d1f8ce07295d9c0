package infer

import (
	"context"
	"errors"
	"math"
	"slices"
	"time"

	"halfwater/book"
	"halfwater/enclosure"
	"halfwater/infer/blame"
	"halfwater/infer/fit"
	"halfwater/quantity"
)

// draws is how many equally likely waters a belief holds.
const draws = 500

// window is how far back from the last reading lines are read; older readings say nothing that later
// ones do not. Facts hold however old they are.
const window = 39 * 7 * 24 * time.Hour

// NoMoment is a window without a moment of the belief.
type NoMoment struct{}

func (NoMoment) Error() string {
	return "a belief needs the moment that it is for; give the window's At"
}

// Believe computes the belief of one water body at one moment from the lines of its book that were
// recorded by a moment. It is a pure function of the window. Lines may come in any order. Nothing
// read and nothing known gives NaN and no evidence; sources and stock without readings give wide
// bands. Error: [NoMoment].
//
// Draws are the ends of whole histories (package fit). Where there is nothing to find them by, where the
// search does not come to rest or does not account for what was read last, they are those of [Glance], and
// the belief says so (Rough). Ammonia and nitrite are those of Glance alone where they were last read higher than
// histories bear out ([Evidence].Alarming); where that alarms the first look too, a share of them is as it was read.
func Believe(w Window) (Belief, error) { return BelieveContext(context.Background(), w, nil) }

// BelieveContext is [Believe] for who waits: it ends early with the error of its context, and then there is no
// belief; and it tells the share of the work that is done, never less than before, one call at a time. Progress may
// be nil. Neither leaves a trace in the belief.
func BelieveContext(ctx context.Context, w Window, progress func(share float64)) (Belief, error) {
	b, v, lines, err := believe(w)
	if err != nil {
		return b, err
	}
	watch := watched(ctx, progress)
	a, err := v.histories(lines, b.window, watch.Part(0, found))
	if errors.Is(err, fit.ErrStopped) {
		return Belief{}, stoppedBy(ctx, err)
	}
	defer end(watch)
	b.window.Before = nil // one belief does not keep all that were before it
	if err == nil {
		b.Contradictions = append(b.Contradictions, a.question.contradictions(&a.post, lines)...)
	}
	if watch.Stopped() {
		return Belief{}, stoppedBy(ctx, fit.ErrStopped)
	}
	if err != nil || !a.post.Sure || a.question.astray(&a.post) {
		return b, nil
	}
	a.alarming = a.question.alarming(&a.post)
	if len(a.alarming) > 0 && len(a.question.Readings) < fewest { // little stands beside what alarms
		for of := range a.alarming {
			b.alarm(of, true)
		}
		return b, nil
	}
	for _, of := range []quantity.Measurand{quantity.OfTAN, quantity.OfNO2} {
		b.alarm(of, a.alarming[of])
	}
	b.Draws, b.Rough, b.account, b.Bases = a.draws(b.Draws), false, a, a.question.bases
	b.LeakTold = a.question.leakTold(a.post.Draws)
	b.Branches = a.branches(b.Draws)
	a.weigh(&b)
	if watch.Stopped() {
		return Belief{}, stoppedBy(ctx, fit.ErrStopped)
	}
	return b, nil
}

// Glance is the first look: what one pass through the book gives, in a few milliseconds. It is for moments
// that cannot wait, such as whether a reading that is being typed was to be expected. Error: [NoMoment].
func Glance(w Window) (Belief, error) {
	b, _, _, err := believe(w)
	return b, err
}

func believe(w Window) (Belief, *walk, []book.Line, error) {
	if w.At.IsZero() {
		return Belief{}, nil, nil, NoMoment{}
	}
	if w.Recorded.IsZero() {
		w.Recorded = w.At
	}
	if w.Water == "" {
		w.Water = book.MainWater
	}
	known := ofWater(book.Standing(w.Lines, w.Recorded), w.Water)
	lines := upTo(known, w.At)
	s := sift(lines, known, book.SetAsides(w.Lines, w.Recorded)) // whenever that was said: what is known counts for every moment
	lines = s.lines

	v := begin(lines, w.Water, w.At)
	v.means, v.tests = s.means, s.beside
	b := Belief{Water: w.Water, At: w.At, Evidence: map[quantity.Measurand]Evidence{}, Rough: true, LeakTold: math.NaN(), window: w}
	for _, l := range lines {
		switch body := l.Body.(type) {
		case enclosure.Fact:
			v.accept(body, l.At)
		case book.Reading:
			if l.At.Before(v.from) {
				continue
			}
			if d, far := v.read(l, body); far {
				b.Doubtful = append(b.Doubtful, d)
			}
		default:
			if !l.At.Before(v.from) {
				v.happen(l)
			}
		}
	}
	v.elapse(w.At)
	v.warm(w.At)
	v.tan.elapse(w.At)
	v.no2.elapse(w.At)
	v.testify(&b, lines)
	v.draw(&b, w.Seed)
	b.Contradictions = blame.Risen(lines)
	b.Oddities = oddities(known, lines, w, v.from)
	return b, v, lines, nil
}

// ofWater keeps the lines of a water body.
func ofWater(lines []book.Line, waterBody string) []book.Line {
	out := make([]book.Line, 0, len(lines))
	for i := range lines {
		if l := &lines[i]; l.Water == waterBody || l.Water == "" {
			out = append(out, *l)
		}
	}
	return out
}

// upTo are the lines up to a moment, of some in the order of the book.
func upTo(lines []book.Line, at time.Time) []book.Line {
	n := slices.IndexFunc(lines, func(l book.Line) bool { return l.At.After(at) })
	if n < 0 {
		n = len(lines)
	}
	return lines[:n:n]
}

// accept takes in a fact.
func (w *walk) accept(fact enclosure.Fact, at time.Time) {
	switch fact.(type) {
	case enclosure.SourceWater, enclosure.Basin, enclosure.Retired, enclosure.Routine:
		w.elapse(at) // what was before goes by the facts that were
	}
	w.facts = w.facts.With(fact)
	switch f := fact.(type) {
	case enclosure.SourceWater:
		b := brewOf(f)
		w.brews[f.Name] = b
		w.doubtOf(f.Name, b)
	case enclosure.Retired:
		if f.OfKind == "source water" {
			delete(w.brews, f.OfKey)
		}
	case enclosure.Basin:
		for _, b := range w.boxes {
			if !b.from.After(at) {
				w.box = b
			}
		}
		w.missing = 0
	case enclosure.Batch:
		if at.After(w.start) { // newcomers, not the first stock
			w.upset(value("pool.jump_stock"))
		}
	}
}

// happen takes in what happened that is no reading and no fact.
func (w *walk) happen(l book.Line) {
	switch b := l.Body.(type) {
	case book.Change:
		w.elapse(l.At)
		in, out := b.In, float64(b.OutLitres)
		total := 0.0
		for _, p := range in {
			total += float64(p.Litres)
		}
		if short, ok := w.box.missing(b.LevelBefore); ok {
			w.missing = short
		}
		if short, ok := w.box.missing(b.LevelAfter); ok && out <= 0 {
			out = short - w.missing
		}
		if out <= 0 {
			out = total
		}
		if total <= 0 && out > 0 {
			in = []book.Poured{{Litres: quantity.Litres(out)}}
		}
		w.pour(out, in, b.Salts, b.MixEC)
	case book.TopUp:
		w.elapse(l.At)
		w.pour(0, []book.Poured{{Source: b.Source, Litres: b.Litres}}, nil, 0)
	case book.Dose:
		if b.Grams > 0 {
			w.elapse(l.At)
			w.pour(0, nil, []book.SaltPoured{{Formula: b.What, Grams: b.Grams}}, 0)
		}
	case book.Service:
		w.upset(rinsed(b.RinsedIn) + value("pool.jump_stop")*float64(b.NoFlowMinutes)/60)
	case book.SwitchedOn:
		if !b.OffSince.IsZero() {
			w.upset(value("pool.jump_stop") * l.At.Sub(b.OffSince).Hours())
		}
	case book.TakenOut:
		if b.What == "carcass" {
			w.upset(value("pool.jump_carcass"))
		}
	}
}

// rinsed is the chance of a bump after a stage was rinsed in something.
func rinsed(in string) float64 {
	switch in {
	case "tap":
		return value("pool.jump_tap")
	case "hot tap", "replaced":
		return value("pool.jump_lost")
	}
	return value("pool.jump_gentle")
}

// upset gives total ammonia and nitrite a chance of a bump.
func (w *walk) upset(chance float64) {
	chance = math.Min(math.Max(chance, 0), 0.5)
	w.tan.bump, w.no2.bump = math.Max(w.tan.bump, chance), math.Max(w.no2.bump, chance)
}
