package draw_test

import (
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"halfwater/internal/draw"
)

// faults reads a finished drawing as a browser would and names all that is wrong with it: a text
// outside the view box, on another text or under 13 px; anything that a strict content security
// policy forbids; a reference or an id that does not hold; a number that is none.
func faults(svg, prefix string) []string {
	var out []string
	fault := func(format string, a ...any) { out = append(out, fmt.Sprintf(format, a...)) }
	type placed struct {
		say string
		box [4]float64
	}
	var texts []placed
	var at *placed
	ids, refs := map[string]bool{}, []string{}
	depth := 0
	var w, h float64
	dec := xml.NewDecoder(strings.NewReader(svg))
	for {
		tok, err := dec.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return append(out, "not well formed: "+err.Error())
		}
		switch el := tok.(type) {
		case xml.StartElement:
			attr := map[string]string{}
			for _, a := range el.Attr {
				attr[a.Name.Local] = a.Value
				if strings.Contains(a.Value, "NaN") || strings.Contains(a.Value, "Inf") {
					fault("%s of %s is %q", a.Name.Local, el.Name.Local, a.Value)
				}
				if a.Name.Local == "style" || strings.HasPrefix(a.Name.Local, "on") || a.Name.Local == "href" {
					fault("%s has %s", el.Name.Local, a.Name.Local)
				}
				if ref, ok := strings.CutPrefix(a.Value, "url(#"); ok {
					refs = append(refs, strings.TrimSuffix(ref, ")"))
				}
			}
			if id, ok := attr["id"]; ok {
				if ids[id] {
					fault("id %s twice", id)
				}
				if !strings.HasPrefix(id, prefix) {
					fault("id %s does not begin with %s", id, prefix)
				}
				ids[id] = true
			}
			switch el.Name.Local {
			case "svg":
				if depth > 0 {
					fault("svg within svg")
				}
				if _, err := fmt.Sscanf(attr["viewBox"], "0 0 %g %g", &w, &h); err != nil || w <= 0 || h <= 0 {
					fault("view box %q", attr["viewBox"])
				}
				if number(attr["width"]) != w || number(attr["height"]) != h {
					fault("text is scaled: %s x %s in %s", attr["width"], attr["height"], attr["viewBox"])
				}
				if attr["role"] != "img" && attr["aria-hidden"] != "true" {
					fault("neither an image nor hidden")
				}
				refs = append(refs, strings.Fields(attr["aria-labelledby"])...)
			case "style", "script", "foreignObject", "a", "image", "use":
				fault("has a %s", el.Name.Local)
			case "text":
				size := number(attr["font-size"])
				if size < 13 {
					fault("text of %g px", size)
				}
				at = &placed{box: [4]float64{number(attr["x"]), number(attr["y"]), size, 0}}
				at.say = attr["text-anchor"] + "|" + attr["class"] + "|"
			}
			depth++
		case xml.EndElement:
			depth--
			if el.Name.Local == "text" && at != nil {
				anchor, rest, _ := strings.Cut(at.say, "|")
				class, say, _ := strings.Cut(rest, "|")
				b := draw.TextBox(at.box[0], at.box[1], say, at.box[2], class, anchor)
				if b[0] < -1 || b[1] < -1 || b[2] > w+1 || b[3] > h+1 {
					fault("%q leaves the drawing: %.0f in %g x %g", say, b, w, h)
				}
				for _, o := range texts {
					if math.Min(b[2], o.box[2])-math.Max(b[0], o.box[0]) > 1 && math.Min(b[3], o.box[3])-math.Max(b[1], o.box[1]) > 1 {
						fault("%q lies on %q", say, o.say)
					}
				}
				texts = append(texts, placed{say, b})
				at = nil
			}
		case xml.CharData:
			if at != nil {
				at.say += string(el)
			}
			if s := string(el); strings.Contains(s, "NaN") || strings.Contains(s, "Inf") {
				fault("says %q", s)
			}
		}
	}
	for _, r := range refs {
		if !ids[r] {
			fault("refers to %s, which is not there", r)
		}
	}
	return out
}

func number(s string) float64 {
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		return math.NaN()
	}
	return v
}
