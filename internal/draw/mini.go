package draw

import "html/template"

// BeforeAfter is one quantity before and after the pour, 72 x 24 px: before as an outline above,
// after full below. It stands in a table row that says the same in words, so it is hidden from
// readers that speak.
type BeforeAfter struct {
	Before, After Span // 8 in 10
	Lo, Hi        float64
	Limits        []Limit
}

// SVG draws it; both forms are the same.
func (d BeforeAfter) SVG(Form, string) template.HTML {
	const w, h = 72., 24.
	g := &svg{}
	lo, hi := ends(d.Lo, d.Hi)
	lo, hi = widen(lo, hi, d.Before.Lo, d.Before.Hi, d.After.Lo, d.After.Hi)
	a := axis{lo, hi, 2, w - 2}
	g.line(2, 12, w-2, 12, "hair", 1, "")
	if s := d.Before; s.known() {
		x0, x1 := atLeast(a.at(s.Lo), a.at(s.Hi), 4, a)
		g.rect(x0, 2.5, x1-x0, 7, "st", 1.4)
	}
	if s := d.After; s.known() {
		x0, x1 := atLeast(a.at(s.Lo), a.at(s.Hi), 4, a)
		g.rect(x0, 14, x1-x0, 9, "b50", 0)
	}
	for _, l := range limitsOn(d.Limits, a) {
		width, dash := l.paint()
		if dash != "" {
			dash = "3 2"
		}
		g.line(a.at(l.At), 0, a.at(l.At), h, "st", width, dash)
	}
	return g.finish(w, h, "", "", "", "")
}

func (s Span) known() bool { return finite(s.Lo) && finite(s.Hi) && s.Lo <= s.Hi }
