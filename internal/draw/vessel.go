package draw

import (
	"fmt"
	"html/template"
	"math"

	"halfwater/internal/look"
)

// Vessels are the keeper's own buckets for one pour, each filled to scale, one share upon another.
type Vessels []Vessel

// Vessel is one bucket.
type Vessel struct {
	Name  string  // "bucket 1"
	Brim  float64 // litres when full
	Parts []Part  // what goes in, in this order; the first lies at the foot
}

// Part is one water of the mix.
type Part struct {
	Water  string // "tap", "RO"
	Litres float64
	Hard   bool // carries the hardness: drawn darker
}

const (
	bucketWidth  = 76. // px at the brim
	bucketHeight = 62. // px of the largest
	bucketLeast  = .45 // of the largest: the smallest that is drawn
	bucketLean   = 6.  // px that a side leans
	waterSize    = 22. // px of the name of a water
	litreSize    = 24. // px of its litres
	partGap      = 28. // px from line to line
	nameLeft     = 102.
)

// SVG draws the vessels under one another, 328 px wide in both forms: at the tank the page is one
// column. All are of one shape and to scale: a brim of half the
// litres is a vessel 0.79 as high and as wide.
func (vs Vessels) SVG(_ Form, id string) template.HTML {
	const w = 328.
	g := &svg{}
	id = ident(id)
	largest := 0.
	for _, v := range vs {
		if finite(v.Brim) {
			largest = max(largest, v.Brim)
		}
	}
	if len(vs) == 0 || largest <= 0 {
		return g.finish(w, 24, id, "", "No vessel is written yet", "")
	}
	y, title := 0., ""
	column := numberColumn(vs, w)
	for i, v := range vs {
		v = v.clean()
		y += g.vessel(v, y, largest, column)
		if i > 0 {
			title += ". "
		}
		title += v.words(i)
	}
	return g.finish(w, y, id, "", title, "")
}

// clean drops parts that are no volume.
func (v Vessel) clean() Vessel {
	v.Parts = keep(v.Parts, func(p Part) bool { return finite(p.Litres) && p.Litres > 0 })
	if !finite(v.Brim) || v.Brim < 0 {
		v.Brim = 0
	}
	return v
}

func (v Vessel) words(i int) string {
	s := plain(v.Name)
	if s == "" {
		s = fmt.Sprintf("Vessel %d", i+1)
	}
	if len(v.Parts) == 0 {
		return s + ": empty"
	}
	total := 0.
	for k, p := range v.Parts {
		s += [...]string{": ", " and "}[min(k, 1)] + look.Litres(p.Litres) + " " + plain(p.Water)
		total += p.Litres
	}
	if v.Brim > 0 && total > v.Brim {
		s += fmt.Sprintf(", more than its %s", look.Litres(v.Brim))
	}
	return s
}

// numberColumn is where all litres end, right of the longest name.
func numberColumn(vs Vessels, w float64) float64 {
	name, litres := 60., 0.
	for _, v := range vs {
		for _, p := range v.clean().Parts {
			name = max(name, textWidth(plain(p.Water), waterSize, false))
			litres = max(litres, textWidth(look.Litres(p.Litres), litreSize, true))
		}
	}
	return min(nameLeft+name+24+litres, w-2)
}

// vessel draws one at height top and returns the height that it took.
func (g *svg) vessel(v Vessel, top, largest, column float64) float64 {
	const left = 4.
	rows := float64(len(v.Parts))
	like := max(math.Cbrt(v.Brim/largest), bucketLeast) // the same shape, smaller
	high, wide := bucketHeight*like, bucketWidth*like
	h := max(high+12, rows*partGap+14)
	foot := top + h - 6
	sides := func(t float64) (float64, float64) {
		return left + bucketLean*(1-t), left + wide - bucketLean*(1-t)
	}
	level, want := 0., []float64(nil)
	for _, p := range v.Parts {
		share := 0.
		if v.Brim > 0 {
			share = p.Litres / v.Brim
		}
		lo, hi := min(level, 1), min(level+share, 1)
		l0, r0 := sides(lo)
		l1, r1 := sides(hi)
		class := "f-water"
		if p.Hard {
			class = "b80"
		}
		if hi > lo {
			g.path(poly([]pt{{l0, foot - lo*high}, {r0, foot - lo*high}, {r1, foot - hi*high}, {l1, foot - hi*high}}, true), class, 0, "")
			g.line(l1, foot-hi*high, r1, foot-hi*high, "st", 2, "")
		}
		want = append(want, foot-(lo+hi)/2*high)
		level += share
	}
	l0, r0 := sides(0)
	l1, r1 := sides(1.04)
	g.path(poly([]pt{{l1, foot - high*1.04}, {l0, foot}, {r0, foot}, {r1, foot - high*1.04}}, false), "glass", 2.5, "")
	for i, y := range spread(want, partGap, top+18, top+h-13) {
		p := v.Parts[i]
		say := look.Litres(p.Litres)
		room := column - textWidth(say, litreSize, true) - nameLeft - 16
		if room < 0 { // a volume as long as a name: the number alone
			say = fit(say, litreSize, true, column-nameLeft)
		}
		g.line(left+wide+2, want[i], left+bucketWidth+14, y, "st2", 1.2, "")
		g.text(nameLeft, y+8, fit(p.Water, waterSize, false, max(room, 0)), waterSize, "", "start")
		g.text(column, y+8, say, litreSize, "tb", "end")
	}
	return math.Ceil(h) + 8
}
