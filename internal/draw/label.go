package draw

import (
	"sort"
	"strings"
)

// box is an upright rectangle in px, y down.
type box struct{ x0, y0, x1, y1 float64 }

// overlap is the area that two boxes share, in px2.
func (a box) overlap(b box) float64 {
	w, h := min(a.x1, b.x1)-max(a.x0, b.x0), min(a.y1, b.y1)-max(a.y0, b.y0)
	if w <= 0 || h <= 0 {
		return 0
	}
	return w * h
}

func (a box) grow(dx, dy float64) box { return box{a.x0 - dx, a.y0 - dy, a.x1 + dx, a.y1 + dy} }
func (a box) inside(b box) bool {
	return a.x0 >= b.x0 && a.y0 >= b.y0 && a.x1 <= b.x1 && a.y1 <= b.y1
}

// The advance of a character in em, in five classes: 3 to 8 % above the usual faces, so that a
// label judged to fit does fit.
func advance(r rune) float64 {
	switch {
	case strings.ContainsRune("ijl|'.,:;!fIt()[]/ -", r):
		return .30
	case strings.ContainsRune("mwMW%@", r):
		return .90
	case r >= 'a' && r <= 'z' || r >= '0' && r <= '9' || strings.ContainsRune("JLFTZ+=–", r):
		return .57
	case r >= 'A' && r <= 'Z' || r == '&':
		return .72
	case r >= 0x1100: // scripts set in squares; a few signs are judged too wide, which does no harm
		if r >= 0x2010 && r < 0x2070 {
			return .60
		}
		return 1.05
	}
	return .60
}

// textWidth judges the width of a line of text in px without a font.
func textWidth(s string, size float64, bold bool) float64 {
	w := 0.
	for _, r := range s {
		w += advance(r)
	}
	if bold {
		w *= 1.07
	}
	return w * size
}

func isBold(class string) bool {
	for _, c := range strings.Fields(class) {
		if c == "tb" {
			return true
		}
	}
	return false
}

// textBox is where a line of text stands: from 0.74 of its size above the baseline to 0.20 below.
func textBox(x, y float64, s string, size float64, class, anchor string) box {
	w := textWidth(s, size, isBold(class))
	switch anchor {
	case "middle":
		x -= w / 2
	case "end":
		x -= w
	}
	return box{x, y - .74*size, x + w, y + .20*size}
}

// fit shortens a text to the room there is, with an ellipsis; "" when not even three letters fit.
func fit(s string, size float64, bold bool, room float64) string {
	s = plain(s)
	if textWidth(s, size, bold) <= room {
		return s
	}
	r := []rune(s)
	for k := len(r) - 1; k >= 3; k-- {
		if t := strings.TrimRight(string(r[:k]), " ,.") + "…"; textWidth(t, size, bold) <= room {
			return t
		}
	}
	return ""
}

// spread moves labels apart along one line to at least gap, keeping their order and moving them as
// little as may be (groups that touch are joined about the mean of their wanted places), then
// holds them between lo and hi. When they cannot all have their gap there, it keeps lo and the gap.
func spread(want []float64, gap, lo, hi float64) []float64 {
	order := make([]int, len(want))
	for i := range order {
		order[i] = i
	}
	sort.SliceStable(order, func(a, b int) bool { return want[order[a]] < want[order[b]] })
	type group struct {
		members []int
		sum     float64
	}
	centre := func(g group) float64 { return g.sum / float64(len(g.members)) }
	half := func(g group) float64 { return float64(len(g.members)-1) * gap / 2 }
	var groups []group
	for _, i := range order {
		groups = append(groups, group{[]int{i}, min(max(want[i], lo), hi)})
		for len(groups) > 1 {
			a, b := groups[len(groups)-2], groups[len(groups)-1]
			if centre(a)+half(a)+gap <= centre(b)-half(b) {
				break
			}
			groups = append(groups[:len(groups)-2], group{append(append([]int{}, a.members...), b.members...), a.sum + b.sum})
		}
	}
	out := make([]float64, len(want))
	for _, g := range groups {
		for k, i := range g.members {
			out[i] = centre(g) - half(g) + float64(k)*gap
		}
	}
	for k := len(order) - 1; k >= 0; k-- { // up from hi
		limit := hi - float64(len(order)-1-k)*gap
		out[order[k]] = min(out[order[k]], limit)
	}
	for k := range order { // down from lo, which has the last word
		limit := lo + float64(k)*gap
		if k > 0 {
			limit = max(limit, out[order[k-1]]+gap)
		}
		out[order[k]] = max(out[order[k]], limit)
	}
	return out
}

// rowOf sets centred labels of the given widths along a line from lo to hi: each as near to its
// wanted centre as may be, gap apart: pushed right in one pass and back left in a second. It
// reports false when they do not all fit.
func rowOf(want, widths []float64, gap, lo, hi float64) ([]float64, bool) {
	c := append([]float64{}, want...)
	total := gap * float64(len(c)-1)
	for i := range c {
		total += widths[i]
		c[i] = min(max(c[i], lo+widths[i]/2), hi-widths[i]/2)
	}
	for i := 1; i < len(c); i++ {
		c[i] = max(c[i], c[i-1]+(widths[i-1]+widths[i])/2+gap)
	}
	for i := len(c) - 1; i >= 0; i-- {
		limit := hi - widths[i]/2
		if i < len(c)-1 {
			limit = c[i+1] - (widths[i+1]+widths[i])/2 - gap
		}
		c[i] = min(c[i], limit)
	}
	return c, total <= hi-lo
}
