package draw

import (
	"fmt"
	"html/template"

	"halfwater/internal/look"
)

// Mark is the shape of a tier, size px square, hidden from readers that speak: its word stands
// beside it. The three fill from empty to full and differ in outline, so that they part in grey.
func Mark(m look.Mark, size int) template.HTML {
	g := &svg{}
	g.mark(m, 0, 0)
	return template.HTML(fmt.Sprintf(`<svg width="%d" height="%d" viewBox="0 0 16 16" aria-hidden="true">%s</svg>`, size, size, g.b.String()))
}

// Tier is the mark with its word, as it stands in running text.
func Tier(m look.Mark) template.HTML {
	return template.HTML(`<span class="tier tier-`+m.Class()+`">`) + Mark(m, 16) + template.HTML(m.Word()+`</span>`)
}

// mark draws the shape with its upper left corner at (x, y), 16 px square.
func (g *svg) mark(m look.Mark, x, y float64) {
	switch m {
	case look.ActNow:
		g.rect(x+1, y+1, 14, 14, "m-act", 0)
		g.rect(x+7, y+3.5, 2, 5.5, "m-hole", 0)
		g.rect(x+7, y+10.5, 2, 2, "m-hole", 0)
	case look.Watch:
		g.path(poly([]pt{{x + 8, y + 1}, {x + 15, y + 8}, {x + 8, y + 15}, {x + 1, y + 8}}, true), "m-watch", 2, ` fill-opacity="0"`)
		g.path(poly([]pt{{x + 1, y + 8}, {x + 15, y + 8}, {x + 8, y + 15}}, true), "m-watch", 0, "")
	default:
		g.circle(x+8, y+8, 6, "m-carry", 2)
	}
}

// Odds is a chance in bold words, followed by its strokes, as many full as the chance has.
func Odds(o look.Odds) template.HTML {
	strokes := template.HTML("")
	if o.Of > 0 && o.Full >= 0 && o.Full <= o.Of {
		g := &svg{}
		for i := range o.Of {
			x := float64(i) * 8
			if i < o.Full {
				g.rect(x, 0, 5, 20, "f-ink", 0)
			} else {
				g.rect(x+.7, .7, 3.6, 18.6, "st2", 1.5)
			}
		}
		strokes = g.finish(float64(o.Of)*8, 20, "", "", "", "")
	}
	return template.HTML(`<span class="odds">`+escape(o.Words)) + strokes + `</span>`
}
