package report

import (
	"strings"
	"time"

	"halfwater/cite"
	"halfwater/emergency"
	"halfwater/internal/say"
	"halfwater/quantity"
)

// EmergencyView is the emergency page in sentences: the same for the text, the page, the file that a
// phone keeps, and the sheet by the tank.
type EmergencyView struct {
	Title   string // the enclosure; "" when it has none
	When    string
	Warning ActRow
	Ask     string
	Signs   []SignRow
	Vet     Vet
	Before  []string        // the usual cautions, before any number
	Parts   []EmergencyPart // the numbers, and what to keep and leave
	Read    []string        // which readings stand behind them
	Missing []string
	Hours   HoursView
	Touch   string
	Keep    KeepRow
}

// ActRow is one act and what it rests on.
type ActRow struct{ Text, Rests string }

// commonPractice is what most acts rest on; it is said once for all but the first acts.
const commonPractice = "common practice"

// Source is what the act rests on where that is more than common practice, else "".
func (a ActRow) Source() string {
	if a.Rests == commonPractice {
		return ""
	}
	return a.Rests
}

// SignRow is one of the six signs.
type SignRow struct {
	Key, Name string
	First     ActRow
	Number    string // one line more, when a number helps at once; "" mostly
	Acts      []ActRow
}

// Vet is whom to ring, as the keeper keeps it.
type Vet struct {
	Ring   string // the word of the button
	Number string // as written; "" when nobody kept it
	Href   string // tel:...; "" when there is no number
	Write  string // what stands before the line to write on
}

// EmergencyPart is one of the parts under the signs.
type EmergencyPart struct {
	Key, Name string
	Lead      string
	Now       []string // before the tables
	Lines     []string // after them
	Due       []DueRow
	Groups    []ActGroup
	Offers    []OfferRow
	Path      []PathRow
}

// DueRow is an act with its hour.
type DueRow struct {
	When string // "at once", "after 2 hours", "04:10"
	Past bool
	Act  ActRow
	Who  string
}

// ActGroup is a list of acts under a word: do, keep, do not, call.
type ActGroup struct {
	Name string
	Acts []ActRow
}

// OfferRow is one change on offer.
type OfferRow struct {
	What          string // "8 L of tap, 10 %"
	AtMixing      string
	Within        string // 48 h
	Verdict       string
	Refused, Fits bool
}

// HoursView is the table of hours before a cut.
type HoursView struct {
	Head, Why, Made string
	Nobody          bool
	Starts          []string
	Rows            []HoursRow
}

// HoursRow is one water temperature.
type HoursRow struct {
	Temp       string
	Cells      []HoursCell
	Night, Day HoursCell // of a cut that begins then
	Cold       string    // "18 °C: 5 hours"; "" when it is not reached
}

// HoursCell is the hours for one start.
type HoursCell struct{ Start, CountOn, Until, Could string }

// KeepRow is the offer to keep the page as one file.
type KeepRow struct {
	Word, Why string
	Newer     string // says of which day the kept one is; "" when it is fresh or there is none
	Name      string // of the file
}

// EmergencyOptions are what only the door knows.
type EmergencyOptions struct {
	Vet  string    // the vet's number as the keeper wrote it
	Kept time.Time // when the file on the phone was made; zero when none is known
	Read []string  // readings used, in words
}

// Emergency puts the sheet and the table of hours into sentences.
func Emergency(s emergency.Sheet, t emergency.Table, o EmergencyOptions) EmergencyView {
	v := EmergencyView{
		Title: s.Enclosure, When: say.Clock(s.At), Warning: actRow(s.Warning), Ask: told("ask"), Read: o.Read,
		Touch: told("every-touch"), Vet: vet(o.Vet), Hours: hoursView(t),
	}
	for _, sign := range s.Signs {
		row := SignRow{Key: sign.Name, Name: say.Sentence(sign.Code, sign), First: actRow(sign.First), Acts: actRows(sign.Acts)}
		if sign.Name == "power" {
			row.Number = countOn(s.Power)
		}
		v.Signs = append(v.Signs, row)
	}
	for _, c := range s.Cautions {
		v.Before = append(v.Before, say.Sentence(string(c.Code), c))
	}
	v.Parts = append(v.Parts, powerPart(s.Power), heaterPart(s.Heater), ammoniaPart(s.Ammonia, s.Nitrite))
	for _, m := range s.Matters {
		v.Parts = append(v.Parts, EmergencyPart{
			Key: strings.ReplaceAll(m.Name, " ", "-"), Name: say.Sentence(m.Code, m),
			Groups: []ActGroup{{"Do", actRows(m.Do)}, {"Keep", actRows(m.Keep)}, {"Do not", actRows(m.Not)}, {"Call", actRows(m.Call)}},
		})
	}
	v.Parts = append(v.Parts, EmergencyPart{Key: "afterwards", Name: "Afterwards", Groups: []ActGroup{{"", actRows(s.Afterwards)}}})
	v.Missing = missingLines(s.Missing)
	v.Keep = KeepRow{Word: told("keep-file"), Why: told("keep-file-why"), Name: EmergencyFileName(s.At)}
	if !o.Kept.IsZero() && emergency.IsStale(o.Kept, s.At) {
		v.Keep.Newer = say.Sentence("emergency.keep-newer", say.Day(o.Kept))
	}
	return v
}

// EmergencyFileName is the name of the file that a phone keeps, with its day.
func EmergencyFileName(made time.Time) string {
	return "emergency-" + made.Format(time.DateOnly) + ".html"
}

func told(code string) string { return say.Sentence("emergency."+code, nil) }

func actRow(a emergency.Act) ActRow { return ActRow{say.Sentence(a.Code, a), rests(a)} }

func actRows(acts []emergency.Act) []ActRow {
	out := make([]ActRow, len(acts))
	for i, a := range acts {
		out[i] = actRow(a)
	}
	return out
}

// rests is what an act rests on, short: "common practice", "our judgement", "IEC 61008".
func rests(a emergency.Act) string {
	w, ok := cite.Lookup(a.Work)
	switch {
	case !ok:
		return a.Work
	case w.Status == cite.Practice:
		return commonPractice
	case w.Status == cite.Judgement:
		return "our judgement"
	}
	words := strings.Fields(w.Reference)
	for i, x := range words {
		if y := strings.Trim(x, ",."); len(y) == 4 && strings.Trim(y, "0123456789") == "" && i < 10 {
			if i > 3 {
				return strings.Trim(words[0], ",") + " and others " + y
			}
			return strings.Join(words[:i], " ") + " " + y
		}
	}
	short, _, _ := strings.Cut(w.Reference, ",")
	return short
}

func vet(number string) Vet {
	v := Vet{Ring: told("vet"), Write: told("vet-write"), Number: strings.TrimSpace(number)}
	dial := strings.Map(func(r rune) rune {
		if r >= '0' && r <= '9' || r == '+' {
			return r
		}
		return -1
	}, v.Number)
	if len(dial) >= 3 {
		v.Href = "tel:" + dial
	}
	return v
}

func missingLines(list []emergency.Missing) []string {
	var out []string
	seen := map[string]bool{}
	for _, m := range list {
		if text := say.Sentence(m.Code, m); !seen[text] {
			seen[text] = true
			out = append(out, text)
		}
	}
	return out
}

// countOn is the one number that stands on the first screen.
func countOn(p emergency.PowerCut) string {
	if p.FirstCode == emergency.BitesNothing {
		return ""
	}
	until := ""
	if !p.FirstAt.IsZero() {
		until = ", until " + clock(p.FirstAt)
	}
	return "Count on " + lasting(p.First) + until + ". " + say.Sentence(p.FirstCode, p)
}

// lasting is a length of time in words, cut at the far end and never rounded up.
func lasting(h emergency.Hours) string {
	if h >= emergency.Longest {
		return "48 hours or more"
	}
	return say.Span(time.Duration(float64(h) * float64(time.Hour)))
}

// between is what is more likely than the number to act on: 8 in 10. That number, which 19 in 20 outlast,
// may lie below it, and the words say so.
func between(b quantity.Band[emergency.Hours]) (lo, hi string) {
	return bareHours(b.Lo), lasting(floor(b.Hi))
}

// floor cuts hours to half hours, over ten to whole ones.
func floor(h emergency.Hours) emergency.Hours {
	step := emergency.Hours(0.5)
	switch {
	case h >= 10:
		step = 1
	case h < 1:
		step = 0.1
	}
	return emergency.Hours(int(h/step)) * step
}

func bareHours(h emergency.Hours) string {
	if h >= emergency.Longest {
		return "48"
	}
	f := floor(h)
	if f < 1.5 {
		return say.Span(time.Duration(float64(f) * float64(time.Hour)))
	}
	return strings.TrimSuffix(say.Number(float64(f), 1), ".0")
}
