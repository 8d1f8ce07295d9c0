package draw

import (
	"html/template"
	"math"

	"halfwater/internal/look"
)

// Fan is what comes: the channel standing in time, with the belief in it as water that widens. Odds
// are not read off it: they are counted over the runs and said beside it.
type Fan struct {
	Title  string  // what it says, for a reader that speaks
	Lo, Hi float64 // ends of the scale, the same for all ways compared
	Limits []Limit
	From   float64 // days from today, negative: where the past begins
	To     float64 // days from today: where the outlook ends
	Past   []Past
	// Ahead are the quantiles at day 0, after today's change, and on the eve of each change: the
	// worst hour of the week. A line for every day would be a saw.
	Ahead []Ahead
	Dates []Date // "25 Oct" at day -28; one that would meet "today" is left out
	End   string // the median at the end, in words: "about 1.0"
}

// Past is a reading of the past: the interval that its kit can tell apart.
type Past struct {
	Day float64
	Span
}

// Ahead is what is believed of one day.
type Ahead struct{ Day, P10, P25, P50, P75, P90 float64 }

// Date names a day under the axis.
type Date struct {
	Day float64
	Say string
}

// SVG draws the fan: 530 x 250 px, or 328 x 236.
func (d Fan) SVG(form Form, id string) template.HTML {
	w, h := 530., 250.
	if form == Narrow {
		w, h = 328, 236
	}
	g := &svg{}
	id = ident(id)
	ahead := keep(d.Ahead, Ahead.known)
	lo, hi := ends(d.Lo, d.Hi)
	for _, a := range ahead {
		lo, hi = widen(lo, hi, a.P10, a.P90)
	}
	from, to := -28., 84.
	if finite(d.From) && finite(d.To) && d.From <= 0 && d.To > 0 && d.To-d.From < 1e5 {
		from, to = d.From, d.To
	}
	x, y := axis{from, to, 34, w - 90}, axis{lo, hi, h - 34, 14}

	g.hatches(id)
	for _, b := range banks(d.Limits, y) {
		g.fillRect(x.from, y.at(b.hi), x.to-x.from, y.at(b.lo)-y.at(b.hi), hatchOf(id, b.act))
	}
	g.ribbons(keep(ahead, func(a Ahead) bool { return x.has(a.Day) }), x, y)
	ls := limitsOn(d.Limits, y)
	for _, l := range ls {
		width, dash := l.paint()
		if dash != "" {
			dash = "5 4"
		}
		g.line(x.from, y.at(l.At), x.to+4, y.at(l.At), "st", width, dash)
	}
	for _, p := range d.Past {
		if p.known() && x.has(p.Day) && p.Day <= 0 {
			g.upright(x.at(p.Day), y.at(p.Lo), y.at(p.Hi))
		}
	}
	g.dates(d.Dates, x, y, w)
	g.heights(y, x.from)
	end := ""
	if n := len(ahead); n > 0 {
		end = d.End
		g.endNames(ls, end, ahead[n-1].P50, x, y, w)
	} else {
		g.endNames(ls, "", lo, x, y, w)
	}
	title := d.Title
	if title == "" {
		title = look.Unsaid
	}
	return g.finish(w, h, id, "", title, "")
}

func (a Ahead) known() bool {
	return finite(a.Day) && finite(a.P10) && finite(a.P25) && finite(a.P50) && finite(a.P75) && finite(a.P90) &&
		a.P10 <= a.P25 && a.P25 <= a.P50 && a.P50 <= a.P75 && a.P75 <= a.P90
}

// ribbons lays the belief over the banks: paper round it, 8 in 10, half the odds, and an outline.
// The median is not drawn.
func (g *svg) ribbons(ahead []Ahead, x, y axis) {
	if len(ahead) == 0 {
		return
	}
	line := func(q func(Ahead) float64, lift float64) []pt {
		var ps []pt
		for _, a := range ahead {
			ps = append(ps, pt{x.at(a.Day), min(max(y.at(q(a))+lift, y.to), y.from)})
		}
		return ps
	}
	area := func(top, foot []pt, class string) {
		ps := append([]pt{}, top...)
		for i := len(foot) - 1; i >= 0; i-- {
			ps = append(ps, foot[i])
		}
		g.path(poly(ps, true), class, 0, "")
	}
	p10, p25 := func(a Ahead) float64 { return a.P10 }, func(a Ahead) float64 { return a.P25 }
	p75, p90 := func(a Ahead) float64 { return a.P75 }, func(a Ahead) float64 { return a.P90 }
	area(line(p90, -3), line(p10, 3), "f-paper")
	area(line(p90, 0), line(p10, 0), "b80")
	area(line(p75, 0), line(p25, 0), "b50")
	g.path(poly(line(p90, 0), false), "st", 1, "")
	g.path(poly(line(p10, 0), false), "st", 1, "")
}

// upright is a past reading: a line with two feet, as high as its kit is coarse.
func (g *svg) upright(x, y0, y1 float64) {
	g.line(x, y0, x, y1, "st", 2, "")
	g.line(x-4, y0, x+4, y0, "st", 2, "")
	g.line(x-4, y1, x+4, y1, "st", 2, "")
}

// dates draws the axis of days and today's line.
func (g *svg) dates(dates []Date, x, y axis, w float64) {
	g.line(x.at(0), y.to-6, x.at(0), y.from+6, "s-water", 1.5, "")
	g.line(x.from, y.from, x.to, y.from, "st", 1.5, "")
	base := y.from + 20
	set := []box{textBox(x.at(0), base, "today", 14, "tb", "middle")}
	g.text(x.at(0), base, "today", 14, "tb twater", "middle")
	for _, d := range dates {
		s := fit(d.Say, 14, false, w/3)
		if !finite(d.Day) || !x.has(d.Day) || s == "" {
			continue
		}
		half := textWidth(s, 14, false) / 2
		at := min(max(x.at(d.Day), x.from+half), w-half-1)
		b := textBox(at, base, s, 14, "t2", "middle").grow(4, 0)
		free := true
		for _, o := range set {
			free = free && o.overlap(b) <= 0
		}
		if free {
			g.line(x.at(d.Day), y.from, x.at(d.Day), y.from+5, "st", 1.2, "")
			g.text(at, base, s, 14, "t2", "middle")
			set = append(set, b)
		}
	}
}

// heights draws the axis of the quantity with about five numbers.
func (g *svg) heights(y axis, left float64) {
	g.line(left, y.to, left, y.from, "st", 1.2, "")
	step := tickStep((y.hi - y.lo) / 5)
	if !(step > 0) {
		return
	}
	first := math.Ceil(y.lo/step - 1e-9)
	for i := range 8 {
		k := first + float64(i)
		s := number(k * step)
		if k*step > y.hi+step*1e-6 {
			return
		}
		if textWidth(s, 14, false) > left-10 {
			continue
		}
		g.line(left-5, y.at(k*step), left, y.at(k*step), "st", 1.2, "")
		g.text(left-9, y.at(k*step)+5, s, 14, "t2", "end")
	}
}

// tickStep is the least of 1, 2 and 5 times a power of ten that is not under x.
func tickStep(x float64) float64 {
	if !(x > 0) || !finite(x) {
		return 0
	}
	t := math.Pow(10, math.Floor(math.Log10(x)))
	for _, k := range []float64{1, 2, 5} {
		if t*k >= x*(1-1e-9) {
			return t * k
		}
	}
	return t * 10
}

// endNames stand at the right end: the median in words, and the lines.
func (g *svg) endNames(ls []Limit, end string, median float64, x, y axis, w float64) {
	const gap = 18.
	type name struct {
		say, class string
	}
	var names []name
	var want []float64
	if end = plain(end); end != "" {
		names, want = append(names, name{end, "tb"}), append(want, y.at(median))
	}
	room := int((y.from - y.to) / gap)
	for _, l := range ls {
		if len(names) == room {
			break
		}
		class := "t2"
		if l.act() {
			class = "tb"
		}
		names, want = append(names, name{l.Name(), class}), append(want, y.at(l.At))
	}
	for i, at := range spread(want, gap, y.to+2, y.from) {
		s := fit(names[i].say, 14, isBold(names[i].class), w-x.to-9)
		g.text(x.to+8, at+5, s, 14, names[i].class, "start")
	}
}
