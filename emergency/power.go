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
	// First is how soon something bites, and what: the sooner of oxygen and warmth.
	First     Hours
	FirstCode string
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
	if o := p.Oxygen; o.Code == OxygenHours && o.CountOn < p.First {
		p.First, p.FirstCode = o.CountOn, BitesOxygen
	}
	for _, l := range p.Warmth.Lines {
		if !l.Already && l.CountOn < p.First {
			p.First, p.FirstCode = l.CountOn, BitesCold
			if l.Code == TooWarm {
				p.FirstCode = BitesWarm
			}
		}
	}
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
		add("power air", min(down(o.Uneasy.Low), o.CountOn), "", 0)
		add("power last", o.CountOn, "", 0)
	}
	cold, warm := false, false
	for _, l := range p.Warmth.Lines {
		if l.Already {
			continue // not of the cut
		}
		if l.Code == TooCold && !cold {
			cold = true
			add("power cold", l.CountOn, l.Who, l.Line)
		}
		if l.Code == TooWarm && !warm {
			warm = true
			add("power warm", l.CountOn, l.Who, l.Line)
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
