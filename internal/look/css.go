package look

import (
	"embed"
	"strings"
)

//go:embed css/*.css
var sheets embed.FS

// order in which the sheets follow one another; print comes last because it takes back.
var order = []string{"base", "head", "part", "table", "today", "water", "outlook", "tank", "pad", "emergency", "field", "drawing", "print"}

var sheet = func() string {
	var b strings.Builder
	b.WriteString("/* Halfwater: sizes in rem of 17 px, spacing on a 4 px step. */\n")
	b.WriteString(tokenSheet())
	for _, name := range order {
		text, err := sheets.ReadFile("css/" + name + ".css")
		if err != nil {
			panic("look: " + err.Error()) // a fault of the program, seen at start
		}
		b.Write(text)
	}
	return b.String()
}()

// CSS is the whole style sheet: the colours by day, by night and in print, then the sheets of
// css/, one idea each. Strict content security holds: nothing in it loads anything.
func CSS() string { return sheet }
