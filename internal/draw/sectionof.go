package draw

import (
	"strings"

	"halfwater/enclosure"
	"halfwater/husbandry"
	"halfwater/internal/look"
	"halfwater/internal/say"
	"halfwater/plan"
	"halfwater/quantity"
)

// SectionOf is the section of an enclosure on the day of a sheet. Only what the facts place is
// drawn: a lamp whose place nobody wrote is not. Without a siphon in the sheet the water stands at
// the full mark and is said to be assumed. What is believed of the water stands for the whole of
// it; that about which there is a concern comes first, three at most. Animals are as long as grown
// ones of their kind.
func SectionOf(facts enclosure.Facts, sheet plan.Sheet) Section {
	s := Section{Name: facts.About.Name}
	b := facts.Basin
	if b == nil {
		s.Missing = []string{"inner measures", "full mark", "land"}
		return s
	}
	s.Length, s.Height, s.Depth = b.Length.Centimetres(), b.Height.Centimetres(), b.Width.Centimetres()
	s.LandShare = float64(b.LandShare)
	s.Full, s.Intake = b.FullMark.Centimetres(), b.PumpIntake.Centimetres()
	for _, p := range b.Profile {
		s.Profile = append(s.Profile, Point{p.X.Centimetres(), p.Z.Centimetres()})
	}
	if s.Full <= 0 {
		s.Missing = append(s.Missing, "full mark")
	}
	if len(s.Profile) < 2 && s.LandShare == 0 {
		s.Missing = append(s.Missing, "land")
	}
	s.Water, s.Assumed = s.Full, true
	if w := sheet.Siphon; w != nil {
		s.Water, s.Siphon, s.Assumed = w.Now.Centimetres(), w.Mark.Centimetres(), !w.NowRead
		s.Take, s.TakeCould = litres(w.Out)
		s.Held, s.HeldCould = litres(quantity.Band[quantity.Litres]{
			Lo: quantity.Litres(w.Held.Lo), Median: quantity.Litres(w.Held.Median), Hi: quantity.Litres(w.Held.Hi),
		})
	}
	s.Beasts = beastsOf(facts.Stock)
	s.Readings = s.readingsOf(sheet)
	return s
}

// litres words a volume and its doubt: "about 10 L" and "9.4 to 10.6".
func litres(b quantity.Band[quantity.Litres]) (about, could string) {
	v := look.Value{Middle: float64(b.Median), Lo: float64(b.Lo), Hi: float64(b.Hi), Finest: .1}
	if b.Median <= 0 || v.About() == look.Unsaid {
		return "", ""
	}
	return "about " + say.Litres(b.Median), strings.TrimPrefix(v.Could(), "could be ")
}

// silhouetteOf says how a group is drawn, and how many times the length that the species table
// gives (total, snout to vent, or shell) its silhouette is long: those of our own shapes.
var silhouetteOf = map[husbandry.Group]struct {
	animal Animal
	times  float64
}{
	husbandry.Frog:   {Frog, 1},
	husbandry.Fish:   {Fish, 1},
	husbandry.Shrimp: {Shrimp, 1},
	husbandry.Newt:   {Newt, 1},
	husbandry.Lizard: {Lizard, 1},
	husbandry.Turtle: {Turtle, 1.3},
	husbandry.Crab:   {Crab, 2.2},
}

// beastsOf draws each kind where it is mostly seen. A kind whose length is not known is not drawn.
func beastsOf(stock []enclosure.Batch) []Beast {
	var out []Beast
	for _, b := range stock {
		sp, err := husbandry.Lookup(b.Species)
		shape, ok := silhouetteOf[sp.Group]
		length, known := sp.Length.Get()
		if err != nil || !ok || !known || b.Count <= 0 || b.Larvae {
			continue
		}
		beast := Beast{Animal: shape.animal, Length: length.Centimetres() * shape.times, Count: b.Count, Haunt: OnLand}
		switch {
		case shape.animal == Fish:
			beast.Haunt = InWater
		case sp.Use == husbandry.Breathes:
			beast.Haunt = OnBed
		}
		out = append(out, beast)
	}
	return out
}

// readingsOf takes what is believed of the water before the visit.
func (s Section) readingsOf(sheet plan.Sheet) []Reading {
	worst := map[quantity.Measurand]look.Mark{}
	for _, c := range sheet.Concerns {
		if c.Of != "" {
			worst[c.Of] = max(worst[c.Of], look.Mark(c.Tier))
		}
	}
	spots := s.waterSpots()
	var out []Reading
	for _, tier := range []look.Mark{look.ActNow, look.Watch, look.CarryOn} {
		for _, e := range sheet.Effects {
			if e.Free || worst[e.Of] != tier || len(out) == len(spots) {
				continue
			}
			p, ok := look.PrintOf(e.Of)
			if !ok {
				continue
			}
			v := look.Value{
				Middle: look.Shown(e.Of, e.Before.Median), Lo: look.Shown(e.Of, e.Before.Lo), Hi: look.Shown(e.Of, e.Before.Hi), Finest: p.Finest,
			}
			about := v.About()
			if about == look.Unsaid {
				continue
			}
			// Of degrees of hardness and of the reference temperature the table speaks.
			unit, _, _ := strings.Cut(p.Words(), " at ")
			if strings.HasPrefix(unit, "°d") {
				unit = ""
			}
			at := spots[len(out)]
			out = append(out, Reading{
				X: at.X, Z: at.Z, Value: strings.TrimSpace(p.Name + " " + about + " " + unit), Short: p.Name + " " + strings.TrimPrefix(about, "about "),
				Could: v.Could(), Mark: tier, InWater: true,
			})
		}
	}
	return out
}

// waterSpots are three places in the widest water that stays after the siphon: two near the
// surface, one below, so that the words of each have room at its right.
func (s Section) waterSpots() [3]Point {
	c, g, _, _ := s.clean()
	level := c.Water
	if level == 0 {
		level = c.Full
	}
	if c.Siphon > 0 && c.Siphon < level {
		level = c.Siphon
	}
	widest := Stretch{}
	for _, t := range g.wet(level) {
		if t.To-t.From > widest.To-widest.From {
			widest = t
		}
	}
	var out [3]Point
	for i, at := range [3]struct{ along, deep float64 }{{.06, .3}, {.5, .3}, {.06, .72}} {
		x := widest.From + (widest.To-widest.From)*at.along
		out[i] = Point{x, level - max(level-g.at(x), 0)*at.deep}
	}
	return out
}
