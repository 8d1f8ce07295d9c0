package draw

import "html/template"

// Form is the room that a drawing has.
type Form int

// The two forms of a page. The style sheet shows Wide from 740 px up and in print.
const (
	Wide Form = iota
	Narrow
)

// Drawing is anything that can be drawn in both forms. id is a prefix for the ids inside the SVG;
// it must be unique in the page and be made of ASCII letters and digits, the first a letter.
type Drawing interface {
	SVG(form Form, id string) template.HTML
}

// Both gives the two renderings, each in the element that the style sheet shows or hides.
func Both(d Drawing, id string) template.HTML {
	return `<div class="wide">` + d.SVG(Wide, id+"w") + `</div><div class="narrow">` + d.SVG(Narrow, id+"n") + `</div>`
}
