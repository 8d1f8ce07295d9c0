package look

import "strings"

// Token is one named colour of the house: on paper by day, by night and in black ink.
type Token struct {
	Name               string // as in the style sheet, without the two dashes
	Light, Dark, Print string // #rrggbb
	Use                string
}

// Tokens are all the colours there are. Paper, ink, one water in three depths, one earth, one leaf
// (drawing only) and two signal inks. There is none for carry on: nothing is green for good.
// In print water becomes three greys, and the tiers are told by shape, word and weight.
func Tokens() []Token {
	return []Token{
		{"paper", "#fbfcfa", "#0d1514", "#ffffff", "the page"},
		{"sheet", "#ffffff", "#121c1b", "#ffffff", "air in a drawing, fields"},
		{"ink", "#13201e", "#e9f0ed", "#000000", "text"},
		{"ink-2", "#41504d", "#b6c4c0", "#333333", "second text"},
		{"rule", "#c3ccc8", "#33423f", "#bbbbbb", "hair rules"},
		{"edge", "#75827e", "#83928e", "#666666", "outlines of controls, watch hatch"},
		{"water-1", "#dbe9ee", "#132a34", "#eeeeee", "water"},
		{"water-2", "#a5c8d6", "#23566b", "#cccccc", "8 in 10; today's slice"},
		{"water-3", "#3f7f9a", "#6fb2cd", "#777777", "half the odds"},
		{"water-ink", "#0b4a63", "#93d2eb", "#000000", "links, the one button, the level mark"},
		{"land-1", "#e6e2d1", "#26261b", "#f4f4f4", "land, drawing only"},
		{"land-2", "#a89e78", "#6b6546", "#999999", "soil strokes and wood, drawing only"},
		{"land-ink", "#5d5536", "#c9c09a", "#333333", "outline of land and wood, drawing only"},
		{"leaf", "#3f5f3a", "#9dbd8e", "#333333", "plants, drawing only"},
		{"watch", "#6a4200", "#f1c273", "#000000", "signal ink: watch"},
		{"act", "#8a1610", "#ff9d8f", "#000000", "signal ink: act now"},
		{"on-act", "#ffffff", "#0d1514", "#ffffff", "on the reversed block of act now"},
		{"on-water", "#ffffff", "#0d1514", "#ffffff", "on the one filled button"},
	}
}

// tokenSheet writes the tokens as custom properties for day, night and print.
func tokenSheet() string {
	var day, night, print strings.Builder
	for _, t := range Tokens() {
		day.WriteString("--" + t.Name + ":" + t.Light + ";")
		night.WriteString("--" + t.Name + ":" + t.Dark + ";")
		print.WriteString("--" + t.Name + ":" + t.Print + ";")
	}
	return ":root{color-scheme:light dark;" + day.String() + "}\n" +
		"@media screen and (prefers-color-scheme:dark){:root{" + night.String() + "}}\n" +
		"@media print{:root{color-scheme:light;" + print.String() + "}}\n"
}
