package draw

import (
	"math"
	"sort"

	"halfwater/internal/look"
)

// obstacle is a box that words and beasts keep away from; a hard one must not be touched at all.
type obstacle struct {
	box
	hard bool
	wood bool // a branch, which animals may sit on
}

func (d *sheet) block(b box, hard bool) {
	d.obstacles = append(d.obstacles, obstacle{box: b, hard: hard})
}

// blockLine blocks a leaning line by a chain of small boxes.
func (d *sheet) blockLine(a, b pt, half float64) {
	steps := int(min(math.Ceil(math.Abs(b.x-a.x)/12), 64))
	for i := range max(steps, 1) {
		t0, t1 := float64(i)/float64(max(steps, 1)), float64(i+1)/float64(max(steps, 1))
		p, q := pt{a.x + (b.x-a.x)*t0, a.y + (b.y-a.y)*t0}, pt{a.x + (b.x-a.x)*t1, a.y + (b.y-a.y)*t1}
		b := box{min(p.x, q.x), min(p.y, q.y) - half, max(p.x, q.x), max(p.y, q.y) + half}
		d.obstacles = append(d.obstacles, obstacle{b, true, true})
	}
}

// What a place costs, in px2 of overlap: over dear a label goes to the table only.
const (
	touching  = 5000. // on a hard obstacle
	leaving   = 4000. // outside the glass
	hanging   = 160.  // for each px under the bed, or into the other element; a third in the narrow form
	preferred = 3.    // for each place further down the order of places
	dear      = 400.
	// A word may stand before a thin plant, for its halo keeps it clear.
	throughLeaves = .3
)

// cost of what lies under a box.
func (d *sheet) cost(b box) float64 {
	c := 0.
	for _, o := range d.obstacles {
		if a := o.overlap(b); a > 0 {
			if o.hard {
				c += touching + a
			} else {
				c += a * throughLeaves
			}
		}
	}
	if !b.inside(d.glass().grow(-4, -4)) {
		c += leaving
	}
	return c
}

// hang is what it costs that a box hangs out of the water, or out of the air, at its place.
func (d *sheet) hang(b box, inWater bool) float64 {
	x0, x1 := (b.x0-d.left)/d.s, (b.x1-d.left)/d.s
	floor := d.ground.highest(x0, x1)
	each := hanging
	if !d.wide() {
		each /= 3
	}
	if inWater {
		return each * (max(0, b.y1-d.z(floor)) + max(0, d.z(d.Water)+2-b.y0))
	}
	return each * max(0, b.y1-d.z(max(floor, d.Water))+2)
}

// byConcern gives the readings with the worst tier first, then water before air.
func (d *sheet) byConcern() []Reading {
	rs := append([]Reading{}, d.Readings...)
	sort.SliceStable(rs, func(i, j int) bool {
		if rs[i].Mark != rs[j].Mark {
			return rs[i].Mark > rs[j].Mark
		}
		return rs[i].InWater && !rs[j].InWater
	})
	return rs
}

// shown are the readings that this form has room for: in the narrow drawing two in the water, two
// in the air and one on the land.
func (d *sheet) shown() []Reading {
	rs := d.byConcern()
	if d.wide() {
		return rs
	}
	room := map[string]int{"water": 2, "air": 2, "land": 1}
	return keep(rs, func(r Reading) bool {
		where := "air"
		if r.InWater {
			where = "water"
		} else if r.Z-d.ground.at(r.X) < 6 && d.ground.at(r.X) > d.Water {
			where = "land"
		}
		room[where]--
		return room[where] >= 0
	})
}

// label is the words of one reading, w x h px.
type label struct {
	value, could string
	mark         look.Mark
	w, h, indent float64
}

func (d *sheet) labelOf(r Reading) label {
	l := label{value: plain(r.Value), could: plain(r.Could), mark: r.Mark, h: 17}
	if !d.wide() {
		if s := plain(r.Short); s != "" {
			l.value = s
		}
		l.could = ""
	}
	if r.Mark != look.CarryOn {
		l.indent = 20
	}
	if l.could != "" {
		l.h = 34
	}
	l.w = max(textWidth(l.value, textSize, true)+l.indent, textWidth(l.could, textSize, false))
	return l
}

// placed is a reading with its words at their place; without ok only its ring is drawn.
type placed struct {
	Reading
	label
	at     box
	leader bool
	ok     bool
}

// readings draws each as a ring at its place with its words beside it. When words find no good
// place, those that had to give way are tried first; the arrangement that loses least is drawn.
func (d *sheet) readings() {
	rs := d.shown()
	for _, r := range rs {
		x, y := d.x(r.X), d.z(r.Z)
		d.block(box{x - 6, y - 6, x + 6, y + 6}, true)
	}
	free := len(d.obstacles)
	var best []placed
	least := math.Inf(1)
	for range 6 {
		set, loss, worst := d.arrange(rs)
		if loss < least {
			best, least = set, loss
		}
		d.obstacles = d.obstacles[:free]
		if worst <= 0 { // nothing is lost, or the first already is
			break
		}
		rs = append(append([]Reading{rs[worst]}, rs[:worst]...), rs[worst+1:]...)
	}
	for _, p := range best {
		d.reading(p)
	}
}

// arrange sets the words one after another. It returns what is lost, and the place in the row of
// the reading that loses most.
func (d *sheet) arrange(rs []Reading) (set []placed, loss float64, worst int) {
	most := 0.
	worst = -1
	for i, r := range rs {
		p := placed{Reading: r, label: d.labelOf(r)}
		p.at, p.leader, p.ok = d.placeFor(r, p.label)
		lost := 0.
		if p.could != "" && (!p.ok || p.leader) { // the value alone may find a nearer place
			short := p
			short.could, short.h = "", 17
			short.w = textWidth(p.value, textSize, true) + p.indent
			short.at, short.leader, short.ok = d.placeFor(r, short.label)
			if short.ok && (!p.ok || p.leader && !short.leader) {
				p = short
				lost += 40
			}
		}
		if p.leader {
			lost += 60
		}
		if !p.ok {
			lost += 300
		}
		lost *= float64(1 + 2*int(r.Mark))
		loss += lost
		if lost > most {
			most, worst = lost, i
		}
		if p.ok {
			d.block(p.at.grow(3, 2), true)
		}
		set = append(set, p)
	}
	return set, loss, worst
}

// reading draws one.
func (d *sheet) reading(p placed) {
	x, y := d.x(p.X), d.z(p.Z)
	if p.ok && p.leader {
		d.line(x, y, min(max(x, p.at.x0-2), p.at.x1+2), min(max(y, p.at.y0), p.at.y1), "st2", 1.2, "")
	}
	d.circle(x, y, 4, "f-paper", 0)
	d.circle(x, y, 4, "st", 2)
	if p.ok {
		d.write(p.label, p.at)
		d.block(p.at.grow(3, 2), true)
	}
}

func (d *sheet) write(l label, b box) {
	halo := " halo"
	if d.Water > 0 && (b.y0+b.y1)/2 > d.z(d.Water) && !d.guessed {
		halo = " halo-w"
	}
	if l.indent > 0 {
		d.mark(l.mark, b.x0, b.y0-1)
	}
	ink := ""
	switch l.mark {
	case look.Watch:
		ink = " tw"
	case look.ActNow:
		ink = " ta"
	}
	d.text(b.x0+l.indent, b.y0+13, l.value, textSize, "tb"+halo+ink, "start")
	d.text(b.x0, b.y0+30, l.could, textSize, "t2"+halo, "start")
}

// placeFor finds where the words of a reading stand: at one of eight places round the ring, or, when
// all are dear, anywhere near with a leader. It reports false when there is no place.
func (d *sheet) placeFor(r Reading, l label) (_ box, leader, ok bool) {
	x, y, w, h := d.x(r.X), d.z(r.Z), l.w, l.h
	round := []pt{
		{x + 11, y - h/2},
		{x - 11 - w, y - h/2},
		{x - w/2, y - 11 - h},
		{x - w/2, y + 11},
		{x + 9, y - h - 5},
		{x - 9 - w, y - h - 5},
		{x + 9, y + 5},
		{x - 9 - w, y + 5},
	}
	best, least := box{}, math.Inf(1)
	for i, p := range round {
		b := box{p.x, p.y, p.x + w, p.y + h}
		c := d.cost(b) + d.hang(b, r.InWater && d.Water > 0) + preferred*float64(i)
		if c < least {
			best, least = b, c
		}
	}
	if least <= dear {
		return best, false, true
	}
	near := 160. // px that a leader may run
	if !d.wide() {
		near = 70
	}
	g := d.glass().grow(-5, -5)
	least = math.Inf(1)
	for gx := g.x0; gx+w <= g.x1; gx += 8 {
		for gy := g.y0; gy+h <= g.y1; gy += 6 {
			b := box{gx, gy, gx + w, gy + h}
			q := pt{min(max(x, b.x0-2), b.x1+2), min(max(y, b.y0), b.y1)}
			far := math.Hypot(q.x-x, q.y-y)
			if far > near || far < 9 {
				continue
			}
			c := 2*far + min(d.hang(b, true), d.hang(b, false))
			if d.Water <= 0 {
				c = 2*far + d.hang(b, false)
			}
			if c >= least {
				continue
			}
			if c += d.cost(b); c >= least || c > dear {
				continue
			}
			if c += d.crossing(pt{x, y}, q); c < least {
				best, least = b, c
			}
		}
	}
	return best, true, least <= dear
}

// crossing is what a leader from a to b costs when it runs over hard things.
func (d *sheet) crossing(a, b pt) float64 {
	c := 0.
	steps := math.Ceil(math.Hypot(b.x-a.x, b.y-a.y) / 6)
	for i := 2.; i < steps; i++ { // the first 12 px are the ring's own
		p := pt{a.x + (b.x-a.x)*i/steps, a.y + (b.y-a.y)*i/steps}
		for _, o := range d.obstacles {
			if o.hard && p.x > o.x0 && p.x < o.x1 && p.y > o.y0 && p.y < o.y1 {
				c += 120
			}
		}
	}
	return c
}

// fittingNames writes "lamp" beside the lamp where there is room.
func (d *sheet) fittingNames() {
	if !d.wide() {
		return
	}
	for _, f := range d.Fittings {
		s := plain(f.Label)
		if s == "" {
			continue
		}
		w, h := textWidth(s, textSize, false), 17.
		x0, x1, y0, y1 := d.x(f.X0), d.x(f.X1), d.z(f.Z1), d.z(f.Z0)
		for _, p := range []pt{
			{x1 + 8, y0 + 3},
			{x0 - 8 - w, y0 + 3},
			{x1 + 18, y0 + 5},
			{x0 - 18 - w, y0 + 5},
			{(x0+x1)/2 - w/2, y0 - h - 3},
			{(x0+x1)/2 - w/2, y1 + 4},
		} {
			b := box{p.x, p.y, p.x + w, p.y + h}
			if d.cost(b) < 60 {
				d.text(p.x, p.y+13, s, textSize, "t2 halo", "start")
				d.block(b.grow(3, 2), true)
				break
			}
		}
	}
}
