package emergency

import (
	"slices"
	"time"

	"halfwater/quantity"
)

// PowerCut is what a cut does, hour by hour, and how to switch back on.
type PowerCut struct {
	OffSince time.Time // zero when nobody says
	OffFor   Hours
	Oxygen   Oxygen
	Warmth   Curve
	Filter   Filter
	Due      []Due // in the order of time
	BackOn   []Act
	// First is how soon something bites, and what: the sooner of oxygen and warmth, counted from what was
	// read; FirstAt is its clock, zero when nobody says when the power went.
	First     Hours
	FirstAt   time.Time
	FirstCode string
	Air       []AirCold // who is cold on land before the water is
}

// AirCold is an animal of the land whose air falls under what it needs at night: the air follows the
// room within an hour or two.
type AirCold struct {
	Code string // AirTooCold
	Who  string
	Line quantity.Celsius                // its night minimum
	Room quantity.Band[quantity.Celsius] // with its heating off
}

// AirTooCold is the code of an [AirCold].
const AirTooCold = "emergency.air-cold"

// air names who needs more warmth at night than the room may have.
func (b box) air() []AirCold {
	room := quantity.Band[quantity.Celsius]{
		Low: quantity.Celsius(b.room.even(-z95)), Lo: quantity.Celsius(b.room.even(-z90)), Median: quantity.Celsius(b.room.mid),
		Hi: quantity.Celsius(b.room.even(z90)), High: quantity.Celsius(b.room.even(z95)),
	}
	var out []AirCold
	for _, k := range b.kept {
		low, ok := k.Species.NightMin.Get()
		if !ok || !k.Species.Group.Animal() || k.BreathesWater() || low <= room.Low {
			continue
		}
		c := AirCold{AirTooCold, k.Species.Common, low, room}
		if !slices.Contains(out, c) {
			out = append(out, c)
		}
	}
	return out
}

// Filter is the rule for a closed filter that stood.
type Filter struct {
	Code   string // FilterKeep, FilterEmpty, FilterWatch
	Stale  Hours  // after that it is emptied
	Litres quantity.Litres
}

// Codes of the filter's rule: it has stood too long; it has not yet; nobody says since when.
const (
	FilterEmpty = "emergency.filter-empty"
	FilterKeep  = "emergency.filter-keep"
	FilterWatch = "emergency.filter-watch"
)

// Due is an act with its hour, counted from the cut.
type Due struct {
	Act
	After Hours
	At    time.Time // zero when nobody says when the power went
	Past  bool      // its hour has gone: do it now
	Who   string    // the animal that it is for
	Line  quantity.Celsius
}

// First codes of what bites first.
const (
	BitesOxygen  = "emergency.bites-oxygen"
	BitesCold    = "emergency.bites-cold"
	BitesWarm    = "emergency.bites-warm"
	BitesNothing = "emergency.bites-nothing" // nothing within Longest
)

func (n Now) power(b box) (PowerCut, []Missing) {
	p := PowerCut{OffSince: n.OffSince}
	if !n.OffSince.IsZero() {
		p.OffFor = max(0, Hours(n.At.Sub(n.OffSince).Hours()))
	}
	var missing []Missing
	p.Oxygen, missing = n.oxygen(b)
	p.Warmth = n.curve(CurveNoPower, b, exactly(0), b.room)
	p.Filter = Filter{Code: FilterWatch, Stale: Hours(constants.Value("filter-stale")), Litres: p.Oxygen.FilterHolds}
	if !n.OffSince.IsZero() {
		if p.Filter.Code = FilterKeep; p.OffFor >= p.Filter.Stale {
			p.Filter.Code = FilterEmpty
		}
	}
	if p.Filter.Litres == 0 {
		missing = append(missing, Missing{Code: NoFilter})
	}
	p.First, p.FirstCode = Longest, BitesNothing
	first := n.later(n.TempAt) + Longest // after the cut
	if o := p.Oxygen; o.Code == OxygenHours && o.CountOn < p.First {
		p.First, p.FirstCode, first = o.CountOn, BitesOxygen, n.later(n.OxygenAt)+o.CountOn
	}
	for _, l := range p.Warmth.Lines {
		if at := n.later(n.TempAt) + l.CountOn; !l.Already && at < first {
			p.First, p.FirstCode, first = l.CountOn, BitesCold, at
			if l.Code == TooWarm {
				p.FirstCode = BitesWarm
			}
		}
	}
	if !n.OffSince.IsZero() && p.FirstCode != BitesNothing {
		p.FirstAt = n.OffSince.Add(duration(first))
	}
	p.Air = b.air()
	p.BackOn = actsOf("power back")
	n.dues(&p)
	return p, missing
}

// dues are the acts of a cut, by the hour.
func (n Now) dues(p *PowerCut) {
	add := func(group string, after Hours, who string, line quantity.Celsius) {
		for _, a := range actsOf(group) {
			d := Due{Act: a, After: after, Who: who, Line: line}
			if !n.OffSince.IsZero() {
				d.At = n.OffSince.Add(duration(after))
				d.Past = !d.At.After(n.At)
			}
			p.Due = append(p.Due, d)
		}
	}
	add("power now", 0, "", 0)
	add("power filter", p.Filter.Stale, "", 0)
	if o := p.Oxygen; o.Code == OxygenHours {
		read := n.later(n.OxygenAt)
		add("power air", read+min(down(o.Uneasy.Low), o.CountOn), "", 0)
		add("power last", read+o.CountOn, "", 0)
	}
	cold, warm := false, false
	for _, l := range p.Warmth.Lines {
		if l.Already {
			continue // not of the cut
		}
		if l.Code == TooCold && !cold {
			cold = true
			add("power cold", n.later(n.TempAt)+l.CountOn, l.Who, l.Line)
		}
		if l.Code == TooWarm && !warm {
			warm = true
			add("power warm", n.later(n.TempAt)+l.CountOn, l.Who, l.Line)
		}
	}
	slices.SortStableFunc(p.Due, func(a, b Due) int {
		switch {
		case a.After < b.After:
			return -1
		case a.After > b.After:
			return 1
		}
		return 0
	})
}
