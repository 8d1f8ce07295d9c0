package web

import (
	"embed"
	"html/template"

	"halfwater/internal/draw"
	"halfwater/internal/look"
)

//go:embed page
var pageFiles embed.FS

// Base is what every page has. A page struct embeds it and adds its own fields; its template
// defines "main".
type Base struct {
	Title     string // the page, in words: "Today"
	Enclosure string // its name; "" before there is one
	When      string // the day, or the step of a service: "Sunday 22 November 2026"
	Home      string // where the name leads; "" for nowhere
	Pages     []Page // all pages that there are, in the order of the keeper's week
	Emergency string // the address of the emergency page; "" when there is none
	Sheet     string // the address of the style sheet
	Icon      string // the address of the level mark
	Notice    string // what must be known on every page: that the clock stands
	Kind      Kind
	Foot      string // where the page's numbers come from, in one or two sentences
}

// Page is a link to a page that exists.
type Page struct {
	Name, Href string
	Here       bool // this is the one
}

// Kind is where a page is read.
type Kind int

// A page is read at a desk, at the tank with wet hands, or in an emergency.
const (
	AtDesk Kind = iota
	AtTank
	InEmergency
)

// Class is the class of the body, by which the style sheet sets its sizes.
func (k Kind) Class() string {
	switch k {
	case AtTank:
		return "tank"
	case InEmergency:
		return "tank alarm"
	}
	return ""
}

// IsEmergency reports whether the page is the emergency page, which needs no button to itself.
func (k Kind) IsEmergency() bool { return k == InEmergency }

// Name is what stands above the waterline.
func (b Base) Name() string {
	if b.Enclosure == "" {
		return "A new enclosure"
	}
	return b.Enclosure
}

// Policy is the content security policy that the pages hold to: no script, no inline style, nothing
// from elsewhere.
const Policy = "default-src 'none'; style-src 'self'; img-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'"

// The pages that exist. One is added here when it is made, and not before.
const (
	PageToday   = "Today"
	PageSheet   = "Work sheet"
	PageWater   = "The water now"
	PageOutlook = "Outlook"
	PageReading = "Take a reading"
	PageBook    = "The book"
)

// Pages lists the pages of one enclosure with the one named here marked. The emergency page is not
// among them: its own button stands on every page.
func Pages(here string) []Page {
	return []Page{
		{PageToday, "/", here == PageToday},
		{PageSheet, "/sheet", here == PageSheet},
		{PageWater, "/water", here == PageWater},
		{PageOutlook, "/outlook", here == PageOutlook},
		{PageReading, "/reading", here == PageReading},
		{PageBook, "/book", here == PageBook},
	}
}

// drawn are what a template may ask of package draw: marks, tiers, odds and drawings.
var drawn = template.FuncMap{
	"mark":    func(m look.Mark) template.HTML { return draw.Mark(m, 16) },
	"bigmark": func(m look.Mark) template.HTML { return draw.Mark(m, 20) },
	"tier":    draw.Tier,
	"odds":    draw.Odds,
	"both":    func(d draw.Drawing, id string) template.HTML { return draw.Both(d, id) },
	"narrow":  func(d draw.Drawing, id string) template.HTML { return d.SVG(draw.Narrow, id) },
	"actmark": func() template.HTML { return draw.Mark(look.ActNow, 16) },
}

// inFrame reads the frame and the templates of a page, such as "page/today/today.tmpl". A fault in
// a template is a fault of the program: it shows at start.
func inFrame(files ...string) *template.Template {
	return template.Must(template.New("page").Funcs(drawn).ParseFS(pageFiles, append([]string{"page/base/base.tmpl"}, files...)...))
}
