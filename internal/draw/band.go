package draw

import (
	"html/template"

	"halfwater/internal/look"
)

// Band is one quantity lying as water between its banks. All numbers are in one unit.
type Band struct {
	Title  string  // what it says, for a reader that speaks: value, unit, doubt, tier
	Lo, Hi float64 // ends of the scale, fixed per quantity (look.Print); widened when the belief leaves them
	Limits []Limit // where the banks begin; none is allowed
	Belief *Belief // nil when nothing is believed yet
	Shown  *Span   // the interval that the kit's shown value stands for; nil when there was none
	Say    string  // the words over it: kit, day, interval
}

// Belief is the spread of what is believed: quantiles 10, 25, 75 and 90 %.
type Belief struct{ P10, P25, P75, P90 float64 }

// Span is an interval.
type Span struct{ Lo, Hi float64 }

const (
	bandHeight          = 74.
	bankTop, bankBottom = 24., 52.
)

// SVG draws the band: 480 px wide or 328. Half the odds are the tall bar, 8 in 10 the low bar with
// an outline; the kit's interval is the bracket above; the lines are named beneath.
func (d Band) SVG(form Form, id string) template.HTML {
	w := 480.
	if form == Narrow {
		w = 328
	}
	g := &svg{}
	id = ident(id)
	lo, hi := ends(d.Lo, d.Hi)
	belief := d.Belief
	if belief != nil && !belief.known() {
		belief = nil
	}
	if belief != nil {
		lo, hi = widen(lo, hi, belief.P10, belief.P90)
	}
	a := axis{lo, hi, 6, w - 6}
	ls := limitsOn(d.Limits, a)

	g.hatches(id)
	for _, b := range banks(d.Limits, a) {
		if x0, x1 := a.at(b.lo), a.at(b.hi); x1-x0 >= 1 {
			g.fillRect(x0, bankTop, x1-x0, bankBottom-bankTop, hatchOf(id, b.act))
		}
	}
	g.line(6, bankBottom, w-6, bankBottom, "st", 1.5, "")
	g.line(6, bankTop, w-6, bankTop, "hair", 1, "")
	if belief != nil {
		g.belief(*belief, a)
	}
	for _, l := range ls {
		width, dash := l.paint()
		g.line(a.at(l.At), bankTop-3, a.at(l.At), bankBottom+5, "st", width, dash)
	}
	g.limitNames(ls, a, w)
	if len(ls) == 0 { // nothing else tells how long the scale is
		g.text(a.from, 70, number(a.lo), 14, "t2", "start")
		g.text(a.to, 70, number(a.hi), 14, "t2", "end")
	}
	if s := d.Shown; s != nil && finite(s.Lo) && finite(s.Hi) {
		g.bracket(*s, d.Say, a, w)
	}
	title := d.Title
	if title == "" {
		title = look.Unsaid
	}
	return g.finish(w, bandHeight, id, "", title, "")
}

func (b Belief) known() bool {
	return finite(b.P10) && finite(b.P25) && finite(b.P75) && finite(b.P90) && b.P10 <= b.P25 && b.P25 <= b.P75 && b.P75 <= b.P90
}

// belief lays the water into the channel, with a gap of paper round it.
func (g *svg) belief(b Belief, a axis) {
	const middle = (bankTop + bankBottom) / 2
	x0, x1 := atLeast(a.at(b.P10), a.at(b.P90), 6, a)
	g.rect(x0-2, middle-8, x1-x0+4, 16, "f-paper", 0)
	g.rect(x0, middle-6, x1-x0, 12, "b80", 0)
	g.rect(x0, middle-6, x1-x0, 12, "st", 1)
	x0, x1 = atLeast(a.at(b.P25), a.at(b.P75), 4, a)
	g.rect(x0, middle-11, x1-x0, 22, "b50", 0)
}

// atLeast widens a stretch about its middle to w px, within the axis.
func atLeast(x0, x1, w float64, a axis) (float64, float64) {
	if x1-x0 < w {
		m := min(max((x0+x1)/2, a.from+w/2), a.to-w/2)
		return m - w/2, m + w/2
	}
	return x0, x1
}

// limitNames sets the names under their lines. When four long names do not fit, the watch lines
// go unnamed: the hatch still shows them.
func (g *svg) limitNames(ls []Limit, a axis, w float64) {
	for _, keep := range []func(Limit) bool{func(Limit) bool { return true }, Limit.act} {
		var want, widths []float64
		var names []Limit
		for _, l := range ls {
			if keep(l) {
				names = append(names, l)
				want = append(want, a.at(l.At))
				widths = append(widths, textWidth(l.Name(), 14, l.act()))
			}
		}
		at, ok := rowOf(want, widths, 8, 1, w-1)
		if !ok {
			continue
		}
		for i, l := range names {
			class := "t2"
			if l.act() {
				class = "tb"
			}
			g.text(at[i], 70, l.Name(), 14, class, "middle")
		}
		return
	}
}

// bracket marks the interval of the kit over the channel, with its words.
func (g *svg) bracket(s Span, say string, a axis, w float64) {
	x0, x1 := atLeast(a.at(s.Lo), a.at(s.Hi), 3, a)
	g.path(poly([]pt{{x0, bankTop - 1}, {x0, bankTop - 8}, {x1, bankTop - 8}, {x1, bankTop - 1}}, false), "st", 1.5, "")
	say = fit(say, 14, false, w-4)
	half := textWidth(say, 14, false)/2 + 2
	g.text(min(max((x0+x1)/2, half), w-half), 12, say, 14, "t2", "middle")
}
