package draw

import (
	"html/template"
	"math"
	"strconv"
	"strings"
)

// pt is a place in the drawing, in px, y down.
type pt struct{ x, y float64 }

// svg collects the marks of one drawing and remembers where its words stand.
type svg struct {
	b     strings.Builder
	words []box
}

// n prints a coordinate with one decimal; what is no number is drawn at 0 and never written NaN.
func n(v float64) string {
	if !finite(v) {
		return "0"
	}
	v = math.Round(v*10) / 10
	if v == 0 {
		return "0" // no -0
	}
	return strconv.FormatFloat(v, 'f', -1, 64)
}

func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }

var entity = strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;", `"`, "&#34;", "'", "&#39;")

// escape makes any text fit to stand in SVG: no markup, one line, no characters that XML forbids.
func escape(s string) string {
	return entity.Replace(plain(s))
}

// plain drops what XML forbids and turns every run of white space into one blank.
func plain(s string) string {
	s = strings.Map(func(r rune) rune {
		switch {
		case r == '\n' || r == '\t' || r == '\r':
			return ' '
		case r < 0x20 || r >= 0x7f && r < 0xa0 || r == 0xfffe || r == 0xffff || r == 0xfffd:
			return -1
		case r >= 0x202a && r <= 0x202e || r >= 0x2066 && r <= 0x2069: // turns the line round
			return -1
		}
		return r
	}, strings.ToValidUTF8(s, ""))
	return strings.Join(strings.Fields(s), " ")
}

// text writes s at the baseline (x, y) and remembers its box.
func (g *svg) text(x, y float64, s string, size float64, class, anchor string) {
	s = plain(s)
	if s == "" {
		return
	}
	g.words = append(g.words, textBox(x, y, s, size, class, anchor))
	g.b.WriteString(`<text x="` + n(x) + `" y="` + n(y) + `" font-size="` + n(size) + `" text-anchor="` + anchor + `"`)
	if class != "" {
		g.b.WriteString(` class="` + class + `"`)
	}
	g.b.WriteString(">" + escape(s) + "</text>")
}

func (g *svg) line(x1, y1, x2, y2 float64, class string, width float64, dash string) {
	g.b.WriteString(`<line x1="` + n(x1) + `" y1="` + n(y1) + `" x2="` + n(x2) + `" y2="` + n(y2) + `" class="` + class + `" stroke-width="` + n(width) + `"`)
	if dash != "" {
		g.b.WriteString(` stroke-dasharray="` + dash + `"`)
	}
	g.b.WriteString("/>")
}

// rect draws a rectangle; width 0 leaves the stroke to the class.
func (g *svg) rect(x, y, w, h float64, class string, width float64) {
	g.b.WriteString(`<rect x="` + n(x) + `" y="` + n(y) + `" width="` + n(max(w, 0)) + `" height="` + n(max(h, 0)) + `" class="` + class + `"` + stroke(width) + "/>")
}

func (g *svg) fillRect(x, y, w, h float64, pattern string) {
	g.b.WriteString(`<rect x="` + n(x) + `" y="` + n(y) + `" width="` + n(max(w, 0)) + `" height="` + n(max(h, 0)) + `" fill="url(#` + pattern + `)"/>`)
}

func (g *svg) circle(x, y, r float64, class string, width float64) {
	g.b.WriteString(`<circle cx="` + n(x) + `" cy="` + n(y) + `" r="` + n(r) + `" class="` + class + `"` + stroke(width) + "/>")
}

// path writes path data made by the caller from numbers alone.
func (g *svg) path(d, class string, width float64, more string) {
	g.b.WriteString(`<path d="` + d + `" class="` + class + `"` + stroke(width) + more + "/>")
}

func stroke(width float64) string {
	if width == 0 {
		return ""
	}
	return ` stroke-width="` + n(width) + `"`
}

// poly is the path through the places, closed or open.
func poly(ps []pt, closed bool) string {
	var b strings.Builder
	for i, p := range ps {
		if i == 0 {
			b.WriteByte('M')
		} else {
			b.WriteString(" L")
		}
		b.WriteString(n(p.x) + " " + n(p.y))
	}
	if closed {
		b.WriteByte('Z')
	}
	return b.String()
}

// finish closes the drawing of w x h px with what it is called and what it says. Without a title
// it is decoration and hidden from readers that speak.
func (g *svg) finish(w, h float64, id, class, title, desc string) template.HTML {
	var b strings.Builder
	b.WriteString("<svg")
	if class != "" {
		b.WriteString(` class="` + class + `"`)
	}
	b.WriteString(` viewBox="0 0 ` + n(w) + " " + n(h) + `" width="` + n(w) + `" height="` + n(h) + `"`)
	switch {
	case title == "":
		b.WriteString(` aria-hidden="true">`)
	case desc == "":
		b.WriteString(` role="img" aria-labelledby="` + id + `t"><title id="` + id + `t">` + escape(title) + `</title>`)
	default:
		b.WriteString(` role="img" aria-labelledby="` + id + `t ` + id + `d"><title id="` + id + `t">` + escape(title) +
			`</title><desc id="` + id + `d">` + escape(desc) + `</desc>`)
	}
	b.WriteString(g.b.String())
	b.WriteString("</svg>")
	return template.HTML(b.String()) // made of escaped text and numbers only
}

// ident keeps an id prefix to ASCII letters and digits, so that it can stand in url(#...).
func ident(id string) string {
	id = strings.Map(func(r rune) rune {
		if r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' {
			return r
		}
		return -1
	}, id)
	if id == "" || id[0] <= '9' {
		return "x" + id
	}
	return id
}
