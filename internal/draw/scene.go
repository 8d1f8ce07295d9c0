package draw

import (
	"math"
	"strconv"
)

// Each function here paints one layer of the section, in the order in which they lie.

func (d *sheet) air() {
	d.b.WriteString(`<defs><pattern id="` + d.id + `soil" width="9" height="9" patternUnits="userSpaceOnUse" patternTransform="rotate(-38)">` +
		`<line x1="0" y1="4.5" x2="5" y2="4.5" class="s-soil" stroke-width="1"/></pattern></defs>`)
	b := d.glass()
	d.rect(b.x0, b.y0, b.x1-b.x0, b.y1-b.y0, "f-air", 0)
	for _, f := range d.Fittings { // the light of a lamp, as three faint rules
		if f.Kind != Lamp {
			continue
		}
		x, half := (f.X0+f.X1)/2, (f.X1-f.X0)/2
		for _, k := range []float64{-1, 0, 1} {
			to := min(max(x+k*half*1.6, 0), d.Length)
			if foot := max(d.ground.at(to), d.Water); foot < f.Z0 {
				d.line(d.x(x+k*half*.4), d.z(f.Z0), d.x(to), d.z(foot), "st2", 1, "1 7")
			}
		}
	}
}

func (d *sheet) water() {
	if d.Water <= 0 {
		return
	}
	for _, ps := range d.ground.between(0, d.Water) {
		d.path(poly(d.points(ps), true), "f-water", 0, "")
	}
	if d.takes() {
		lo := d.sliceFoot()
		for _, ps := range d.ground.between(lo, d.Water) {
			d.path(poly(d.points(ps), true), "f-slice", 0, "")
		}
	}
}

// sliceFoot is the lower side of today's slice, never thinner than a few px.
func (d *sheet) sliceFoot() float64 { return max(min(d.Siphon, d.Water-leastRise/d.s), 0) }

func (d *sheet) land() {
	top := d.points(d.ground)
	g := d.glass()
	body := append(append([]pt{{g.x0, g.y1}}, top...), pt{g.x1, g.y1})
	if d.guessed {
		d.path(poly(top, false), "s-land", 1.5, ` stroke-dasharray="5 5"`)
		return
	}
	d.path(poly(body, true), "f-land", 0, "")
	d.path(poly(body, true), "", 0, ` fill="url(#`+d.id+`soil)"`)
	d.path(poly(top, false), "s-land", 2, "")
	for _, t := range d.Stones {
		d.stones(t)
	}
	for _, t := range d.Moss {
		for x := t.From; x < t.To; x += max(2.6, 6/d.s) {
			z := d.ground.at(x)
			d.line(d.x(x), d.z(z), d.x(x)+.5*d.s, max(d.z(z+1.3), d.top), "s-leaf", 1.5, "")
		}
	}
}

// stones lie side by side on the bed, from a fixed row of sizes.
func (d *sheet) stones(t Stretch) {
	sizes := []float64{1.9, 1.2, 2.2, 1.5, 1.1, 2.0, 1.4, 1.7} // half widths, cm
	g := d.glass()
	x := t.From
	for i := 0; i < 200; i++ {
		r := max(sizes[i%len(sizes)], 4/d.s)
		x += r
		if x+r > t.To {
			return
		}
		c := pt{d.x(x), d.z(d.ground.at(x) + r*.3)}
		if c.y-r*.53*d.s > g.y0 && c.y+r*.53*d.s < g.y1 {
			d.b.WriteString(`<ellipse cx="` + n(c.x) + `" cy="` + n(c.y) + `" rx="` + n(r*d.s) + `" ry="` + n(r*.53*d.s) + `" class="f-stone" stroke-width="1.2"/>`)
		}
		x += r * 1.1
	}
}

func (d *sheet) plants() {
	for i, p := range d.Plants {
		foot := d.ground.at(p.X)
		h := min(p.Height, d.Height-foot)
		if foot < d.Water {
			if !d.wide() {
				continue
			}
			h = min(h, d.Water-foot)
			bend := []float64{1.2, -1, 1, -2}[i%4]
			d.path("M"+n(d.x(p.X))+" "+n(d.z(foot))+"q"+n(bend*d.s)+" "+n(-h*.5*d.s)+" "+n(bend*.3*d.s)+" "+n(-h*d.s), "s-leaf", 2, "")
			d.block(box{d.x(p.X) - 3, d.z(foot + h), d.x(p.X) + 3, d.z(foot)}, false)
			continue
		}
		const fronds = 7
		for k := range fronds {
			t := (float64(k)/(fronds-1) - .5) * 2
			dx, dz := t*h*.75, h*(1-.55*math.Abs(t))
			dx = min(max(p.X+dx, 0), d.Length) - p.X
			width := 1.8
			if !d.wide() {
				width = 1.2
			}
			d.path("M"+n(d.x(p.X))+" "+n(d.z(foot))+"q"+n(dx*.25*d.s)+" "+n(-dz*.95*d.s)+" "+n(dx*d.s)+" "+n(-dz*d.s), "s-leaf", width, "")
		}
		d.block(box{d.x(p.X - h*.6), d.z(foot + h), d.x(p.X + h*.6), d.z(foot)}, false)
	}
}

func (d *sheet) branches() {
	for _, b := range d.Branches {
		t := b.Thick / 2
		var up, down []Point
		for _, p := range b.Line {
			up = append(up, Point{p.X, min(p.Z+t, d.Height)})
			down = append([]Point{{p.X, max(p.Z-t, 0)}}, down...)
		}
		d.path("M"+smooth(d.points(up))+" L"+smooth(d.points(down))+"Z", "f-wood", 1.4, "")
		for i := 1; i < len(b.Line); i++ {
			d.blockLine(pt{d.x(b.Line[i-1].X), d.z(b.Line[i-1].Z)}, pt{d.x(b.Line[i].X), d.z(b.Line[i].Z)}, t*d.s+2)
		}
	}
}

// smooth runs through the middles of a line, bending at its points.
func smooth(ps []pt) string {
	s := n(ps[0].x) + " " + n(ps[0].y)
	for i := 1; i < len(ps); i++ {
		s += " Q" + n(ps[i-1].x) + " " + n(ps[i-1].y) + " " + n((ps[i-1].x+ps[i].x)/2) + " " + n((ps[i-1].y+ps[i].y)/2)
	}
	last := ps[len(ps)-1]
	return s + " L" + n(last.x) + " " + n(last.y)
}

func (d *sheet) fittings() {
	for _, f := range d.Fittings {
		x0, x1, y0, y1 := d.x(f.X0), d.x(f.X1), d.z(f.Z1), d.z(f.Z0)
		d.block(box{x0, y0, x1, y1}, true)
		switch f.Kind {
		case Lamp:
			lean := (x1 - x0) / 8
			d.path(poly([]pt{{x0, y0}, {x1, y0}, {x1 - lean, y1}, {x0 + lean, y1}}, true), "f-ink", 0, "")
		case Mister:
			m := (x0 + x1) / 2
			d.line(m, y0, m, y1, "st", 2, "")
			d.line(x0, y1, x1, y1, "st", 2, "")
			if d.wide() {
				spray := min(4*d.s, 24)
				for _, k := range []float64{-1, -.35, .35, 1} {
					d.line(m+k*(x1-x0)/2, y1+3, m+k*(x1-x0), y1+spray, "st2", 1.2, "2 3")
				}
				d.block(box{x0 - (x1-x0)/2, y1, x1 + (x1-x0)/2, y1 + spray}, true)
			}
		case Heater:
			d.rect(x0, y0, x1-x0, y1-y0, "f-paper", 0)
			d.rect(x0, y0, x1-x0, y1-y0, "st", 1.6)
			if m := (x0 + x1) / 2; y1-y0 > 12 {
				d.line(m, y0+4, m, y1-4, "st", 1.4, "2 2")
			}
		default:
			d.rect(x0, y0, x1-x0, y1-y0, "f-paper", 0)
			d.rect(x0, y0, x1-x0, y1-y0, "st", 1.8)
			if f.Kind == Filter {
				d.stages(f)
			}
		}
	}
	d.intake()
}

// stages are the baskets of a filter, numbered from below where a number fits; its spout returns
// the water at the top.
func (d *sheet) stages(f Fitting) {
	x0, x1, y0, y1 := d.x(f.X0), d.x(f.X1), d.z(f.Z1), d.z(f.Z0)
	if spout := min(5*d.s, d.x(d.Length)-x1); spout > 2 {
		y := y0 + min(2.5*d.s, (y1-y0)/3)
		d.path("M"+n(x1)+" "+n(y)+"h"+n(spout)+"v"+n(1.6*d.s), "st", 2, "")
		d.block(box{x1, y - 2, x1 + spout + 2, y + 1.6*d.s}, true)
	}
	if f.Stages <= 0 || f.Stages > 9 || !d.wide() {
		return
	}
	const gap = 3.
	body := (y1 - y0) * .64
	h := body/float64(f.Stages) - gap
	if h < 6 || x1-x0 < 16 {
		return
	}
	for i := range f.Stages {
		y := y1 - gap - float64(i)*(h+gap) - h
		d.rect(x0+4, y, x1-x0-8, h, "st2", 1.4)
		if h >= 17 {
			d.text((x0+x1)/2, y+h/2+5, strconv.Itoa(i+1), textSize, "t2", "middle")
		}
	}
}

// surface draws the line of the water and the siphon mark, the only thick broken line.
func (d *sheet) surface() {
	if d.Water <= 0 {
		return
	}
	wet := d.ground.wet(d.Water)
	for _, t := range wet {
		if d.guessed {
			d.line(d.x(t.From), d.z(d.Water), d.x(t.To), d.z(d.Water), "s-water", 2, "7 5")
		} else {
			d.line(d.x(t.From), d.z(d.Water), d.x(t.To), d.z(d.Water), "s-water", 2, "")
		}
		d.block(box{d.x(t.From), d.z(d.Water) - 2, d.x(t.To), d.z(d.Water) + 2}, false)
	}
	if d.takes() {
		foot := d.sliceFoot()
		for _, t := range d.ground.wet(d.Siphon) {
			d.line(d.x(t.From), d.z(foot), d.x(t.To), d.z(foot), "st", 2.5, "8 5")
		}
		for _, t := range wet {
			d.block(box{d.x(t.From), d.z(d.Water) - 2, d.x(t.To), d.z(foot) + 3}, true)
		}
	}
}

// intake marks the height of the pump's intake beside the filter.
func (d *sheet) intake() {
	if d.Intake > 0 && d.Intake < d.Water && d.wide() {
		for _, f := range d.Fittings {
			if f.Kind == Filter && f.Z0 <= d.Intake && d.Intake <= f.Z1 {
				to := min(d.x(f.X1)+4*d.s, d.x(d.Length))
				d.line(d.x(f.X1), d.z(d.Intake), to, d.z(d.Intake), "st2", 1.5, "2 3")
				break
			}
		}
	}
}

// levelMark stands on the water near the shore: a triangle and three shortening strokes.
func (d *sheet) levelMark() {
	wet := d.ground.wet(d.Water)
	if len(wet) == 0 || d.Water <= 0 {
		return
	}
	t := wet[0]
	half := 9.
	if !d.wide() {
		half = 7
	}
	x0, x1 := d.x(t.From), d.x(t.To)
	if x1-x0 < 3*half {
		return
	}
	y := d.z(d.Water)
	if y-half*1.5 < d.top { // no air over the water to stand in
		return
	}
	x := x1 - 1.6*half - (x1-x0)*.06
	for _, o := range d.obstacles { // not on a filter
		if o.hard && o.overlap(box{x - half, y - half*1.5, x + half, y - 3}) > 0 {
			x = o.x0 - half - 4
		}
	}
	x = max(x, x0+half+2)
	d.path(poly([]pt{{x - half, y - half*1.5}, {x + half, y - half*1.5}, {x, y}}, true), "f-wink", 0, "")
	for i, k := range []float64{1, .6, .25} {
		sy := y + 4 + float64(i)*3.5
		d.line(x-half*k, sy, x+half*k, sy, "s-water", 1.5, "")
	}
	d.block(box{x - half - 2, y - half*1.6, x + half + 2, y + 14}, true)
}

func (d *sheet) box() {
	g := d.glass()
	if d.guessed {
		d.path(poly([]pt{{g.x0, g.y0}, {g.x1, g.y0}, {g.x1, g.y1}, {g.x0, g.y1}}, true), "st", 2, ` stroke-dasharray="7 5"`)
		return
	}
	d.rect(g.x0, g.y0, g.x1-g.x0, g.y1-g.y0, "glass", 0)
}

// bar is the scale under the glass.
func (d *sheet) bar() {
	length := 20.
	for _, l := range []float64{10, 5, 2, 1} {
		if length > d.Length*.5 {
			length = l
		}
	}
	if d.unmeasured || length > d.Length {
		return
	}
	y := d.z(0) + 12
	half, gap := 4., 6.
	if d.wide() {
		y, half, gap = d.z(0)+18, 5, 10
	}
	x0, x1 := d.x(0), d.x(length)
	d.line(x0, y, x1, y, "st", 2, "")
	d.line(x0, y-half, x0, y+half, "st", 2, "")
	d.line(x1, y-half, x1, y+half, "st", 2, "")
	say := number(length) + " cm"
	switch {
	case d.guessed:
		say += ", the shape is a guess"
	case d.wide():
		say += ". Drawn to scale, " + number(d.Length) + " wide, " + number(d.Height) + " high"
		if known(d.Depth) {
			say += ", " + number(d.Depth) + " deep"
		}
		if len(d.Beasts) > 0 {
			say += "; grown animals too"
		}
		say += "."
	default:
		say += ", to scale"
	}
	room := d.w - x1 - gap - 2
	if textWidth(say, textSize, false) > room {
		say = number(length) + " cm"
	}
	d.text(x1+gap, y+5, fit(say, textSize, false, room), textSize, "t2", "start")
}
