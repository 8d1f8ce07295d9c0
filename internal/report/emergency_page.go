package report

import (
	"bytes"
	_ "embed"
	"html/template"
	"io"
	"slices"
	"strings"

	"halfwater/internal/look"
)

//go:embed emergency.tmpl
var emergencyTemplate string

var emergencyPage = template.Must(template.New("emergency").Parse(emergencyTemplate))

// EmergencyPage is the view with what stands around it: on the live page the form and the address of
// the file, in the file its style sheet and the address of the live page.
type EmergencyPage struct {
	EmergencyView
	File string       // where the live page has the file to keep; "" in the file itself
	Live string       // where the file finds the live page; "" when that is not known
	Form *AskForm     // nil in the file
	CSS  template.CSS // of the file
}

// Tel is the address of the call; the number is digits only, of our making.
func (v Vet) Tel() template.URL { return template.URL(v.Href) }

// Where says where the number is when nobody kept it.
func (v Vet) Where() string { return told("vet-where") }

// AskForm is what can be typed on the live page; it is sent with GET and changes nothing.
type AskForm struct {
	Action string
	Open   bool
	Fields []AskField
}

// AskField is one box of the form.
type AskField struct {
	Name, Label, Unit, Value, Fault string
	Mode                            string // of the phone's keys: "decimal", "text"
}

// BeforeWord is the head of the cautions.
func (EmergencyPage) BeforeWord() string { return told("before") }

// NumbersWord is the head of the numbers.
func (EmergencyPage) NumbersWord() string { return told("numbers") }

// RestsWord says what acts rest on that name no work.
func (EmergencyPage) RestsWord() string { return told("rests") }

// NarrowWord is the head of what is missing.
func (EmergencyPage) NarrowWord() string { return told("narrower") }

// PaperRests says on paper what the acts rest on: common practice but for those that it names.
func (p EmergencyPage) PaperRests() string {
	var works []string
	for _, s := range p.Signs {
		for _, a := range append([]ActRow{p.Warning}, s.Acts...) {
			if a.Source() != "" && !slices.Contains(works, a.Rests) {
				works = append(works, a.Rests)
			}
		}
	}
	out := "The acts rest on common practice"
	if len(works) > 0 {
		out += "; some on " + strings.Join(works, ", ")
	}
	return out + "."
}

// EmergencyScreen is the content of the live page: markup without style and without script. It stands
// in the frame of the pages.
func EmergencyScreen(p EmergencyPage) (template.HTML, error) {
	var b bytes.Buffer
	if err := emergencyPage.ExecuteTemplate(&b, "emergency-screen", p); err != nil {
		return "", err
	}
	return template.HTML(b.String()), nil // made by html/template just above
}

// EmergencyFile writes the one file that a phone keeps: first acts, numbers and the table of hours,
// with its style inside and no script. Printed it is the A4 by the tank. live is the address of the
// live page; "" leaves it out.
func EmergencyFile(w io.Writer, v EmergencyView, live string) error {
	p := EmergencyPage{EmergencyView: v, Live: live, CSS: template.CSS(look.CSS())} // our own sheet
	return emergencyPage.ExecuteTemplate(w, "emergency-file", p)
}
