package draw

import (
	"sort"
)

// ground is the bed and the land: a line from the left glass to the right one.
type ground []Point

// at is the height of the ground at x.
func (g ground) at(x float64) float64 {
	for i := 1; i < len(g); i++ {
		if x <= g[i].X {
			a, b := g[i-1], g[i]
			if b.X <= a.X {
				return max(a.Z, b.Z)
			}
			return a.Z + (min(max(x, a.X), b.X)-a.X)/(b.X-a.X)*(b.Z-a.Z)
		}
	}
	return g[len(g)-1].Z
}

// highest is the top of the ground between two places.
func (g ground) highest(x0, x1 float64) float64 {
	top := max(g.at(x0), g.at(x1))
	for _, p := range g {
		if p.X > x0 && p.X < x1 {
			top = max(top, p.Z)
		}
	}
	return top
}

// slope is the rise per length about x, over a stretch of w.
func (g ground) slope(x, w float64) float64 {
	if w <= 0 {
		return 0
	}
	return (g.at(x+w/2) - g.at(x-w/2)) / w
}

// wet gives the stretches where the ground lies under a level: one basin, or several round an island.
func (g ground) wet(level float64) []Stretch {
	var out []Stretch
	open := false
	begin := func(x float64) { out = append(out, Stretch{x, x}); open = true }
	if g[0].Z < level {
		begin(g[0].X)
	}
	for i := 1; i < len(g); i++ {
		a, b := g[i-1], g[i]
		switch {
		case open && b.Z >= level:
			out[len(out)-1].To = cross(a, b, level)
			open = false
		case !open && b.Z < level:
			begin(cross(a, b, level))
		}
	}
	if open {
		out[len(out)-1].To = g[len(g)-1].X
	}
	return out
}

// cross is where the line from a to b passes a level.
func cross(a, b Point, level float64) float64 {
	if a.Z == b.Z {
		return b.X
	}
	return a.X + (level-a.Z)/(b.Z-a.Z)*(b.X-a.X)
}

// between gives the outlines of the water from level lo up to level hi.
func (g ground) between(lo, hi float64) [][]Point {
	var out [][]Point
	for _, w := range g.wet(hi) {
		ps := []Point{{w.From, hi}, {w.To, hi}}
		floor := func(x float64) Point { return Point{x, max(g.at(x), lo)} }
		ps = append(ps, floor(w.To))
		for i := len(g) - 1; i >= 0; i-- {
			if g[i].X < w.To && g[i].X > w.From {
				ps = append(ps, floor(g[i].X))
			}
			if i > 0 { // where the ground dives under lo between two points
				a, b := g[i-1], g[i]
				if (a.Z < lo) != (b.Z < lo) {
					if x := cross(a, b, lo); x > w.From && x < w.To {
						ps = append(ps, Point{x, lo})
					}
				}
			}
		}
		ps = append(ps, floor(w.From))
		out = append(out, ps)
	}
	return out
}

// clean makes facts fit to draw: what is no number is dropped, levels are held within the glass,
// the profile runs from the left glass to the right one. guessed: the shape was derived;
// unmeasured: length or height are not known, and a box of 3 to 2 stands for them.
func (s Section) clean() (_ Section, g ground, guessed, unmeasured bool) {
	if !known(s.Length) || !known(s.Height) {
		s.Length, s.Height = 60, 40
		s.Profile = nil
		unmeasured = true
	}
	level := func(z float64) float64 {
		if !known(z) {
			return 0
		}
		return min(z, s.Height)
	}
	s.Water, s.Full, s.Siphon, s.Intake = level(s.Water), level(s.Full), level(s.Siphon), level(s.Intake)
	g = s.profile()
	if len(g) < 2 {
		g, guessed = s.derived(), true
	}
	s.Readings = keep(s.Readings, func(r Reading) bool {
		return s.holds(Point{r.X, r.Z}) && plain(r.Value) != ""
	})
	s.Fittings = keep(s.Fittings, func(f Fitting) bool {
		return s.holds(Point{f.X0, f.Z0}) && s.holds(Point{f.X1, f.Z1}) && f.X0 < f.X1 && f.Z0 < f.Z1
	})
	s.Plants = keep(s.Plants, func(p Plant) bool { return s.holds(Point{p.X, p.Height}) })
	for _, list := range []*[]Stretch{&s.Stones, &s.Moss} {
		*list = keep(*list, func(t Stretch) bool { return s.holds(Point{t.From, 0}) && s.holds(Point{t.To, 0}) && t.From < t.To })
	}
	var branches []Branch
	for _, b := range s.Branches {
		b.Line = keep(b.Line, s.holds)
		if len(b.Line) >= 2 && finite(b.Thick) {
			b.Thick = min(max(b.Thick, .5), s.Height/4)
			branches = append(branches, b)
		}
	}
	s.Branches = branches
	return s, g, guessed, unmeasured
}

func (s Section) holds(p Point) bool {
	return p.X >= 0 && p.X <= s.Length && p.Z >= 0 && p.Z <= s.Height
}

func keep[T any](list []T, ok func(T) bool) []T {
	var out []T
	for _, t := range list {
		if ok(t) {
			out = append(out, t)
		}
	}
	return out
}

// profile is the measured ground, in order, held to the glass at both ends.
func (s Section) profile() ground {
	g := ground(keep(s.Profile, func(p Point) bool { return finite(p.X) && finite(p.Z) }))
	if len(g) < 2 {
		return nil
	}
	sort.SliceStable(g, func(i, j int) bool { return g[i].X < g[j].X })
	for i := range g {
		g[i].X = min(max(g[i].X, 0), s.Length)
		g[i].Z = min(max(g[i].Z, 0), s.Height)
	}
	if g[0].X > 0 {
		g = append(ground{{0, g[0].Z}}, g...)
	}
	if last := g[len(g)-1]; last.X < s.Length {
		g = append(g, Point{s.Length, last.Z})
	}
	return g
}

// derived is a likely shape when nobody has measured one: a shallow bed, a slope, and land a
// little over the full mark. It is always drawn in broken lines.
func (s Section) derived() ground {
	bed := .05 * s.Height
	level := max(s.Full, s.Water)
	if level == 0 {
		level = .35 * s.Height
	}
	share := s.LandShare
	if !(share > 0) || !finite(share) {
		return ground{{0, bed}, {s.Length, bed}}
	}
	share = min(share, .95)
	shore := s.Length * (1 - share)
	top := min(level*1.25, s.Height)
	foot := max(shore-.25*s.Length, 0)
	g := ground{{0, bed}}
	if foot > 0 {
		g = append(g, Point{foot, bed})
	}
	crest := min(shore+(shore-foot)*(top-level)/max(level-bed, 1e-6), s.Length)
	return append(g, Point{shore, min(level, s.Height)}, Point{crest, top}, Point{s.Length, top})
}
