package draw

import "strings"

// row is one name in the gutter: a height on the staff.
type row struct {
	at          float64 // cm
	name, value string
	class       string
	under       bool // says more about the row above: no elbow of its own
}

// levelRows are the heights that matter, the words at the left and the number at the right.
func (d *sheet) levelRows() []row {
	var rows []row
	add := func(at float64, name, short, class string) {
		if at <= 0 {
			return
		}
		if !d.wide() {
			name = short
		}
		rows = append(rows, row{at: at, name: name, value: centimetres(at), class: class})
	}
	if d.wide() || !d.takes() {
		add(d.Full, "full mark", "full", "t2")
	}
	if d.Assumed {
		add(d.Water, "assumed", "say", "tb twater")
	} else {
		add(d.Water, "now", "now", "tb twater")
	}
	if d.takes() {
		add(d.Siphon, "siphon to", "to", "tb")
		if d.Take != "" && !d.roomySlice() {
			rows = append(rows, row{at: d.Siphon - 1e-3, name: "take out", value: plain(d.Take), class: "t2", under: true})
		}
	}
	add(d.Intake, "pump intake", "intake", "t2")
	return rows
}

// roomySlice reports whether the slice can hold its own words.
func (d *sheet) roomySlice() bool {
	_, ok := d.sliceRoom()
	return ok
}

// sliceRoom is the widest clear part of the slice; false when it is too thin or too short for words.
func (d *sheet) sliceRoom() (box, bool) {
	if !d.takes() || !d.wide() || (d.Water-d.Siphon)*d.s < roomyRise {
		return box{}, false
	}
	var best box
	for _, t := range d.ground.wet(d.Siphon) {
		b := box{d.x(t.From) + 8, d.z(d.Water) + 1, d.x(t.To) - 8, d.z(d.Siphon) - 1}
		for _, f := range d.Fittings {
			fb := box{d.x(f.X0), d.z(f.Z1), d.x(f.X1), d.z(f.Z0)}
			if fb.overlap(b) <= 0 {
				continue
			}
			if b.x1-fb.x1 > fb.x0-b.x0 {
				b.x0 = fb.x1 + 14
			} else {
				b.x1 = fb.x0 - 14
			}
		}
		b.x1 = min(b.x1, d.x(t.To)-40) // the level mark stands there
		if b.x1-b.x0 > best.x1-best.x0 {
			best = b
		}
	}
	return best, best.x1-best.x0 >= textWidth("take out "+plain(d.Take), textSize, true)
}

// levels draws the staff with its ticks, the names of the heights with an elbow to each, and the
// litres of the slice.
func (d *sheet) levels() {
	edge := d.x(0)
	step := 5.
	for step*d.s < 5 {
		step *= 2
	}
	top := min(max(30, 1.25*max(d.Full, d.Water)), d.Height)
	for z, i := 0., 0; z <= top; z, i = z+step, i+1 {
		length := 5.
		if i%2 == 0 {
			length = 9
		}
		d.line(edge-length, d.z(z), edge, d.z(z), "st", 1.2, "")
	}

	rows := d.levelRows()
	want := make([]float64, len(rows))
	for i, r := range rows {
		want[i] = d.z(r.at)
	}
	left := edge - frames[d.form].gutter
	numberEnd := edge - 25
	for i, y := range spread(want, rowGap, 14, d.h-8) {
		r := rows[i]
		turn := edge - 18
		switch {
		case d.wide():
			d.text(numberEnd, y+5, r.value, textSize, valueClass(r), "end")
			room := numberEnd - left - textWidth(r.value, textSize, true) - 4
			d.text(left, y+5, fit(r.name, textSize, isBold(r.class), room), textSize, r.class, "start")
		case r.under:
			d.text(left, y+5, fit("out "+strings.TrimPrefix(r.value, "about "), textSize, true, frames[d.form].gutter-10), textSize, "tb", "start")
		default:
			turn = edge - 6
			s := r.name + " " + r.value
			if textWidth(s, textSize, isBold(r.class)) > frames[d.form].gutter-9 {
				s = r.value
			}
			d.text(left, y+5, s, textSize, r.class, "start")
		}
		if !r.under {
			line := "st"
			if r.class == "t2" {
				line = "st2"
			}
			d.path(poly([]pt{{turn, y}, {edge - (edge-turn)/2, d.z(r.at)}, {edge, d.z(r.at)}}, false), line, 1.2, "")
		}
	}
	d.slice()
}

func valueClass(r row) string {
	if r.class == "t2" {
		return "tb"
	}
	return r.class
}

// slice writes the litres into the slice, where it is high and long enough.
func (d *sheet) slice() {
	room, ok := d.sliceRoom()
	if !ok || d.Take == "" {
		return
	}
	say := "take out " + plain(d.Take)
	if long := say + ", could be " + plain(d.TakeCould); d.TakeCould != "" && textWidth(long, textSize, true) <= room.x1-room.x0 {
		say = long
	}
	d.text(room.x0, (room.y0+room.y1)/2+5, say, textSize, "tb", "start")
	last := d.svg.words[len(d.svg.words)-1]
	d.block(last.grow(3, 2), true)
}

// held writes the litres in the box into the water, when nothing is taken today.
func (d *sheet) held() {
	if d.takes() || d.Water <= 0 || plain(d.Held) == "" {
		return
	}
	two := label{value: plain(d.Held), h: 34}
	one := label{value: two.value, h: 17, w: textWidth(two.value, textSize, true)}
	if d.HeldCould != "" {
		two.could = "could be " + plain(d.HeldCould)
		two.w = max(one.w, textWidth(two.could, textSize, false))
		if d.heldAt(two) || d.wide() { // in the wide drawing no value stands without its doubt
			return
		}
	}
	d.heldAt(one)
}

// heldAt looks for the clear place nearest to the surface and the left glass.
func (d *sheet) heldAt(l label) bool {
	best, least := box{}, dear
	for _, t := range d.ground.wet(d.Water) {
		for x := d.x(t.From) + 8; x+l.w < d.x(t.To); x += 10 {
			for y := d.z(d.Water) + 6; y+l.h < d.z(0); y += 4 {
				b := box{x, y, x + l.w, y + l.h}
				if c := d.cost(b) + d.hang(b, true) + (y-d.z(d.Water))*.2 + (x-d.x(t.From))*.05; c < least {
					best, least = b, c
				}
			}
		}
	}
	if least >= dear {
		return false
	}
	d.write(l, best)
	d.block(best.grow(3, 2), true)
	return true
}

// missing says in the air what nobody has written yet.
func (d *sheet) missing() {
	if len(d.Missing) == 0 {
		return
	}
	g := d.glass()
	s := ""
	for i, m := range d.Missing {
		if i > 0 {
			s += ", "
		}
		s += plain(m)
	}
	room := g.x1 - g.x0 - 24
	first, second := fit(s+":", textSize, false, room), "not written yet"
	w := max(textWidth(first, textSize, false), textWidth(second, textSize, false))
	for y := g.y0 + 10; y+36 < g.y1; y += 6 {
		b := box{(g.x0+g.x1)/2 - w/2, y, (g.x0+g.x1)/2 + w/2, y + 36}
		if d.cost(b)+d.hang(b, false) < dear && first != "" {
			d.text((g.x0+g.x1)/2, y+13, first, textSize, "t2 halo", "middle")
			d.text((g.x0+g.x1)/2, y+31, second, textSize, "t2 halo", "middle")
			d.block(b.grow(3, 2), true)
			return
		}
	}
}
