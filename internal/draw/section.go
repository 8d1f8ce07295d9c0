package draw

import (
	"fmt"
	"html/template"
	"strings"

	"halfwater/internal/look"
)

// Section is the enclosure cut from left to right, to scale. All lengths are in cm; the origin is
// the inside left foot of the glass, x to the right, z up. A level of 0 or less is not known and
// is not drawn. The drawing never supplies litres: Take and Held come from the level table.
type Section struct {
	Name                  string
	Length, Height, Depth float64 // inside; Depth, front to back, is only said

	// Profile is the bed and the land from left to right. With fewer than two points the shape was
	// never measured: it is derived from LandShare and drawn in broken lines.
	Profile   []Point
	LandShare float64 // of the footprint, 0 to 1; used only without a profile

	Water   float64 // now
	Assumed bool    // nobody read the level: Water is the usual one
	Full    float64 // the full mark
	Siphon  float64 // where today's siphon stops; at or above Water there is no slice
	Intake  float64 // of the pump

	Take, TakeCould string // "10 L", "9.4 to 10.6": written into the slice
	Held, HeldCould string // "about 53 L", "42 to 64": written into the water when nothing is taken

	Fittings []Fitting
	Branches []Branch
	Plants   []Plant
	Stones   []Stretch // where stones lie on the bed
	Moss     []Stretch // where moss grows
	Beasts   []Beast
	Readings []Reading
	Missing  []string // what nobody has written yet: "lamp", "filter"
}

// Point is a place in the section, in cm.
type Point struct{ X, Z float64 }

// Stretch is a part of the length, in cm.
type Stretch struct{ From, To float64 }

// FittingKind is what a fitting is drawn as.
type FittingKind int

// The fittings that have a drawing; Other is a plain box.
const (
	Other FittingKind = iota
	Filter
	Heater
	Lamp
	Mister
)

// Fitting stands in the box from (X0, Z0) to (X1, Z1), in cm.
type Fitting struct {
	Kind           FittingKind
	X0, Z0, X1, Z1 float64
	Stages         int    // of a filter, counted from below
	Label          string // "lamp"; only in the wide drawing
}

// Branch is wood along a line, Thick cm across.
type Branch struct {
	Line  []Point
	Thick float64
}

// Plant grows at X, Height cm high: under water it bends, on land it spreads.
type Plant struct{ X, Height float64 }

// Reading is a value at the place where it is taken.
type Reading struct {
	X, Z    float64 // cm
	Value   string  // "KH about 2.1"
	Short   string  // "KH 2.1", in the narrow drawing; Value when empty
	Could   string  // "could be 1.6 to 2.6"; only in the wide drawing
	Mark    look.Mark
	InWater bool
}

// The frame of the two forms, in px.
type frame struct {
	width, gutter, top, foot, right float64
}

var frames = map[Form]frame{
	Wide:   {780, 152, 8, 40, 4},
	Narrow: {328, 82, 4, 22, 2},
}

const (
	tallest   = 520. // px: a taller box is limited by its height and centred
	textSize  = 14.  // px
	rowGap    = 20.  // between the names of levels
	fishMost  = 4    // beasts of one place at most
	leastRise = 4.   // px: a slice is never thinner
	roomyRise = 17.  // px: a slice this high holds its own words
)

// sheet is a section being drawn: facts made fit, the scale, and what is in the way.
type sheet struct {
	svg
	Section
	form       Form
	id         string
	w, h       float64
	s          float64 // px per cm, the same both ways
	left, top  float64 // of the glass, in px
	ground     ground
	guessed    bool
	unmeasured bool // not even length and height
	obstacles  []obstacle
}

func (d *sheet) wide() bool           { return d.form == Wide }
func (d *sheet) x(cm float64) float64 { return d.left + cm*d.s }
func (d *sheet) z(cm float64) float64 { return d.top + (d.Height-cm)*d.s }
func (d *sheet) glass() box {
	return box{d.left, d.top, d.x(d.Length), d.z(0)}
}

func (d *sheet) points(ps []Point) []pt {
	out := make([]pt, len(ps))
	for i, p := range ps {
		out[i] = pt{d.x(p.X), d.z(p.Z)}
	}
	return out
}

// SVG draws the section, 780 px wide or 328. Readings whose words find no place keep their ring;
// the table that the page sets behind the drawing gives every figure.
func (s Section) SVG(form Form, id string) template.HTML {
	if _, ok := frames[form]; !ok {
		form = Wide
	}
	d := &sheet{form: form, id: ident(id)}
	d.Section, d.ground, d.guessed, d.unmeasured = s.clean()
	d.layOut(frames[form])

	d.air()
	d.water()
	d.land()
	d.plants()
	d.branches()
	d.surface()
	d.fittings()
	d.levelMark()
	d.box()
	d.levels()
	d.readings()
	d.held()
	d.fittingNames()
	d.missing()
	d.beasts()
	d.bar()
	return d.finish(d.w, d.h, d.id, "section", d.title(), d.desc())
}

// layOut finds the scale: by the length, or by the height when the box is tall.
func (d *sheet) layOut(f frame) {
	d.w = f.width
	room := f.width - f.gutter - f.right
	d.s = min(room/d.Length, tallest/d.Height)
	d.left = f.gutter + (room-d.Length*d.s)/2
	d.top = f.top
	d.h = f.top + d.Height*d.s + f.foot
	if rows := float64(len(d.levelRows())); d.h < f.top+rows*rowGap+f.foot {
		d.h = f.top + rows*rowGap + f.foot
	}
}

func (d *sheet) title() string {
	name := plain(d.Name)
	if name == "" {
		name = "The enclosure"
	}
	if d.guessed {
		return name + " from the side, as far as it is known"
	}
	return name + " from the side, to scale"
}

func (d *sheet) desc() string {
	var b strings.Builder
	say := func(format string, a ...any) { fmt.Fprintf(&b, format, a...) }
	if d.unmeasured {
		say("Length and height are not written yet. ")
	} else {
		say("%s cm long and %s cm high inside. ", number(d.Length), number(d.Height))
	}
	if d.guessed {
		say("The shape of bed and land was never measured. ")
	}
	if d.Water > 0 {
		if d.Assumed {
			say("Nobody read the level; water assumed at %s cm", centimetres(d.Water))
		} else {
			say("Water now at %s cm", centimetres(d.Water))
		}
		if w := d.ground.wet(d.Water); len(w) > 0 && w[len(w)-1].To < d.Length && !d.guessed {
			say(", the shore %.0f cm from the left", w[len(w)-1].To)
		}
		say(". ")
	} else {
		say("The water level is not known. ")
	}
	if d.takes() {
		say("Siphon today to %s cm", centimetres(d.Siphon))
		if d.Take != "" {
			say(", %s", plain(d.Take))
			if d.TakeCould != "" {
				say(", could be %s", plain(d.TakeCould))
			}
		}
		say(". ")
	}
	if d.Full > 0 {
		say("Full mark at %s cm. ", centimetres(d.Full))
	}
	if d.Intake > 0 {
		say("Pump intake at %s cm. ", centimetres(d.Intake))
	}
	carry := 0
	for _, r := range d.byConcern() {
		if r.Mark == look.CarryOn {
			carry++
			continue
		}
		say("%s", plain(r.Value))
		if r.Could != "" {
			say(", %s", plain(r.Could))
		}
		say(": %s. ", r.Mark.Word())
	}
	switch {
	case len(d.Readings) == 0:
		say("No reading yet.")
	case carry == len(d.Readings):
		say("All readings: carry on. The table gives every figure.")
	case carry > 0:
		say("All other readings: carry on. The table gives every figure.")
	default:
		say("The table gives every figure.")
	}
	return b.String()
}

// centimetres prints a height as the staff is read, to the millimetre.
func centimetres(cm float64) string { return look.Number(cm, .1) }

// takes reports whether there is a slice to take out.
func (d *sheet) takes() bool { return d.Siphon > 0 && d.Water > d.Siphon }
