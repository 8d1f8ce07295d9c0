package report

import (
	"math"
	"strings"
	"time"

	"halfwater/book"
	"halfwater/enclosure"
	"halfwater/infer"
	"halfwater/internal/draw"
	"halfwater/internal/look"
	"halfwater/internal/say"
	"halfwater/plan"
	"halfwater/quantity"
)

// Taken is one row of the table behind the section drawing: a value, where it stands, how sure it
// is and where it comes from.
type Taken struct {
	Where, Now, HowSure, From string
	Mark                      look.Mark
	Unread                    bool // no reading behind it
}

// ofAir are what is read over the water, in the order in which it is shown.
var ofAir = []quantity.Measurand{quantity.OfBaskingTemp, quantity.OfUVI, quantity.OfAirTemp, quantity.OfHumidity}

// TakenOf is the table of an enclosure: the water as it is believed, the air as it was last read.
func TakenOf(b infer.Belief, lines []book.Line, s plan.Sheet) []Taken {
	marks := Marks(s)
	byID := map[book.ID]book.Line{}
	for _, l := range lines {
		byID[l.ID] = l
	}
	var out []Taken
	for _, m := range ofWater {
		band, ok := b.Band(m)
		if !ok {
			continue
		}
		e := b.Evidence[m]
		t := Taken{Where: name(m), Mark: marks[m], Unread: e.Last.IsZero(), From: from(e, byID, b)}
		t.Now, t.HowSure = say.BandParts(m, band, e.Floor)
		out = append(out, t)
	}
	for _, a := range lastOfAir(b, lines) {
		r := a.Body.(book.Reading)
		t := Taken{Where: name(r.Of), From: kitAndDay(r.Kit, a, b)}
		if r.Place != "" {
			t.Where += ", " + r.Place
		}
		t.Now, t.HowSure = shown(r)
		out = append(out, t)
	}
	return out
}

// name is a measurand as it stands at the head of a row.
func name(m quantity.Measurand) string {
	if p, ok := look.PrintOf(m); ok {
		return p.Name
	}
	return m.Label()
}

// Marks are the worst tiers of the sheet's concerns by measurand; what has none carries on.
func Marks(s plan.Sheet) map[quantity.Measurand]look.Mark {
	out := map[quantity.Measurand]look.Mark{}
	for _, c := range s.Concerns {
		if c.Of != "" {
			out[c.Of] = max(out[c.Of], look.Mark(c.Tier))
		}
	}
	return out
}

// from says which kit read it and when, and whether it was carried on since.
func from(e infer.Evidence, byID map[book.ID]book.Line, b infer.Belief) string {
	if e.Last.IsZero() {
		return say.Sentence("now.never", e)
	}
	out := say.ShortDay(e.Last, b.At)
	if len(e.Readings) > 0 {
		if l, ok := byID[e.Readings[0]]; ok {
			if r, ok := l.Body.(book.Reading); ok {
				out = kitAndDay(r.Kit, l, b)
			}
		}
	}
	if len(e.Carried) > 0 {
		out += ", " + say.Sentence("now.since", e)
	}
	return out
}

func kitAndDay(kit string, l book.Line, b infer.Belief) string {
	day := say.ShortDay(l.At, b.At)
	if at := l.At.In(b.At.Location()); at.Format(time.DateOnly) == b.At.Format(time.DateOnly) {
		day = "today, " + at.Format("15:04")
	}
	if kit == "" {
		return day
	}
	return kit + ", " + day
}

// lastOfAir are the latest readings over the water of the belief's body that still tell of it.
func lastOfAir(b infer.Belief, lines []book.Line) []book.Line {
	aside := book.SetAsides(lines, b.At)
	last := map[quantity.Measurand]book.Line{}
	for _, l := range lines {
		r, ok := l.Body.(book.Reading)
		if _, doubted := aside[l.ID]; !ok || doubted || l.Water != b.Water || l.At.After(b.At) || b.At.Sub(l.At) > airTellsFor {
			continue
		}
		last[r.Of] = l
	}
	var out []book.Line
	for _, m := range ofAir {
		if l, ok := last[m]; ok {
			out = append(out, l)
		}
	}
	return out
}

// airTellsFor is how long a reading of the air is still shown as now. Judgement.
const airTellsFor = 14 * 24 * time.Hour

// shown is a reading by its interval: the value, and what it could be.
func shown(r book.Reading) (now, could string) {
	p, _ := look.PrintOf(r.Of)
	v := look.Value{
		Middle: look.Shown(r.Of, (r.Lo+r.Hi)/2), Lo: look.Shown(r.Of, r.Lo), Hi: look.Shown(r.Of, r.Hi), Finest: p.Finest,
	}
	now, could = v.About(), v.Could()
	if p.Unit != "" && now != look.Unsaid {
		now += " " + p.Words()
	}
	return now, could
}

// Section is the drawing of the enclosure on the day of a sheet, with what was read in the air.
func Section(f enclosure.Facts, b infer.Belief, lines []book.Line, s plan.Sheet) draw.Section {
	out := draw.SectionOf(f, s)
	if out.Length <= 0 || out.Height <= 0 {
		return out
	}
	air := math.Max(out.Water, out.Full)
	for i, l := range lastOfAir(b, lines) {
		r := l.Body.(book.Reading)
		now, could := shown(r)
		now = strings.TrimPrefix(now, "about ")
		if r.Of == quantity.OfHumidity {
			now = "RH " + now
		}
		side := math.Mod(float64(i), 2)
		if r.Place != "" {
			could = r.Place
		}
		out.Readings = append(out.Readings, draw.Reading{
			X: out.Length * (.09 + .45*side), Z: air + (out.Height-air)*(.72-.12*float64(i)), Value: now, Could: strings.TrimPrefix(could, "could be "),
		})
	}
	return out
}
