package draw

import (
	"html/template"
	"math"

	"halfwater/internal/look"
)

// Staff is the scale at the glass, large, with only what the hand needs. All heights in cm; one of
// 0 or less, or over 50 m, is not known and is left out.
type Staff struct {
	Now    float64 // the water
	To     float64 // the mark to reach: lower when water is taken, higher when it is poured
	Intake float64 // of the pump
}

const staffWidth, staffHeight, staffEdge = 138., 172., 40.

// SVG draws the staff, 138 x 172 px in both forms: from 1.5 cm under the lowest mark to 1 cm over
// the highest. The mark to reach is the largest text in it.
func (d Staff) SVG(_ Form, id string) template.HTML {
	g := &svg{}
	id = ident(id)
	var marks []staffMark
	add := func(at float64, say string, size float64, class string) {
		if known(at) {
			marks = append(marks, staffMark{at, say, size, class})
		}
	}
	add(d.Now, "now "+look.Number(d.Now, .1), 18, "")
	add(d.To, look.Number(d.To, .1), 24, "tb")
	add(d.Intake, "intake "+number(d.Intake), 17, "")
	if len(marks) == 0 {
		g.line(staffEdge, 4, staffEdge, staffHeight-4, "glass", 2.5, "")
		return g.finish(staffWidth, staffHeight, id, "", "Level staff: no height is known yet", "")
	}
	a := staffAxis(marks)
	if known(d.Now) {
		g.rect(staffEdge, a.at(d.Now), staffWidth-staffEdge, staffHeight-4-a.at(d.Now), "f-water", 0)
		if known(d.To) && d.To != d.Now {
			top, foot := a.at(max(d.Now, d.To)), a.at(min(d.Now, d.To))
			g.rect(staffEdge, top, staffWidth-staffEdge, foot-top, "f-slice", 0)
		}
	}
	g.line(staffEdge, 4, staffEdge, staffHeight-4, "glass", 2.5, "")
	g.ticks(a)
	for i, m := range marks {
		y := a.at(m.at)
		switch {
		case m.size == 24:
			g.line(staffEdge, y, staffWidth, y, "st", 4, "")
		case i == 0 && m.at == d.Now:
			g.line(staffEdge, y, staffWidth, y, "s-water", 2, "")
		default:
			g.line(staffEdge, y, staffWidth, y, "st2", 2, "3 3")
		}
	}
	g.staffWords(marks, a)
	return g.finish(staffWidth, staffHeight, id, "", d.title(), "")
}

// known reports whether a length in cm can be one of an enclosure at all.
func known(cm float64) bool { return cm > 0 && cm <= longest }

const longest = 5000. // cm

type staffMark struct {
	at    float64
	say   string
	size  float64
	class string
}

// staffAxis leaves room for one line of words above the highest mark and below the lowest.
func staffAxis(marks []staffMark) axis {
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, m := range marks {
		lo, hi = min(lo, m.at), max(hi, m.at)
	}
	return axis{max(lo-1.5, 0), hi + 1, staffHeight - 10, 10}
}

// ticks marks every cm, or every 5, 10, 50 where they would stand too close, with a number at
// about every 24 px.
func (g *svg) ticks(a axis) {
	perCm := (a.from - a.to) / (a.hi - a.lo)
	minor, major := 1., 5.
	for minor*perCm < 4 {
		minor *= 5
		major *= 5
	}
	for major*perCm < 22 {
		major *= 2
	}
	for z := math.Ceil(a.lo/minor) * minor; z <= a.hi; z += minor {
		length := 6.
		named := math.Abs(math.Mod(z, major)) < 1e-6
		if named {
			length = 10
		}
		y := a.at(z)
		g.line(staffEdge-length, y, staffEdge, y, "st", 1.5, "")
		if s := number(z); named && textWidth(s, 17, false) <= staffEdge-14 {
			g.text(staffEdge-13, min(max(y+6, 14), staffHeight-4), s, 17, "t2", "end")
		}
	}
}

// staffWords tries every way of setting each mark's words above or below its line, and takes the
// one in which least is hidden. Words that would still lie on others are left out, the last first.
func (g *svg) staffWords(marks []staffMark, a axis) {
	const x = staffEdge + 6
	place := func(m staffMark, below bool) (float64, box) {
		y := a.at(m.at) - 6
		if below {
			y = a.at(m.at) + m.size*.74 + 7
		}
		return y, textBox(x, y, m.say, m.size, m.class, "start")
	}
	page := box{0, 0, staffWidth, staffHeight}
	best, least := 0, math.Inf(1)
	for ways := range 1 << len(marks) {
		cost := 0.
		var boxes []box
		for i, m := range marks {
			below := ways>>i&1 == 0
			_, b := place(m, below)
			if !b.inside(page) {
				cost += 5000
			}
			for _, o := range boxes {
				cost += 100 * o.overlap(b.grow(2, 1))
			}
			for j, l := range marks { // a line through the words
				if y := a.at(l.at); j != i && y > b.y0-1 && y < b.y1+1 {
					cost += 150
				}
			}
			if prefersBelow := m.size != 17; below != prefersBelow {
				cost += 5
			}
			boxes = append(boxes, b)
		}
		if cost < least {
			best, least = ways, cost
		}
	}
	var set []box
	for _, i := range bySize(marks) {
		m := marks[i]
		y, b := place(m, best>>i&1 == 0)
		free := b.inside(page)
		for _, o := range set {
			free = free && o.overlap(b) <= 0
		}
		if free {
			g.text(x, y, m.say, m.size, m.class, "start")
			set = append(set, b)
		}
	}
}

// bySize orders marks with the largest words first: the mark to reach is never left out for another.
func bySize(marks []staffMark) []int {
	var out []int
	for _, size := range []float64{24, 18, 17} {
		for i, m := range marks {
			if m.size == size {
				out = append(out, i)
			}
		}
	}
	return out
}

func (d Staff) title() string {
	s := "Level staff:"
	part := func(at float64, say string) {
		if known(at) {
			s += " " + say + " " + look.Number(at, .1) + " cm,"
		}
	}
	part(d.Now, "now")
	switch {
	case known(d.Now) && d.To > d.Now:
		part(d.To, "fill to")
	default:
		part(d.To, "stop at")
	}
	part(d.Intake, "pump intake at")
	return s[:len(s)-1]
}
