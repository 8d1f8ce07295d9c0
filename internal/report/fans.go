package report

import (
	"cmp"
	"math"
	"slices"
	"strings"
	"time"

	"halfwater/book"
	"halfwater/enclosure"
	"halfwater/husbandry"
	"halfwater/infer"
	"halfwater/internal/draw"
	"halfwater/internal/look"
	"halfwater/internal/say"
	"halfwater/plan"
	"halfwater/quantity"
)

// OutlookPage is what comes as a page shows it: a fan for each quantity, and what is said of all.
type OutlookPage struct {
	Head    string // "Outlook to 10 February 2027"
	Lead    string
	Assumes string
	Fans    []FanRow // of which something comes, the gravest first
	Quiet   []FanRow // of which nothing comes
	Never   string   // what was never read and so is not foreseen
	// Alarming is what is not foreseen because it was read so high that it must be read again first.
	Alarming string
}

// FanRow is one quantity ahead: the drawing, the odds of its lines, where it comes to rest, and the numbers.
type FanRow struct {
	Key        string // short, for an id
	Name, Unit string
	Fan        draw.Fan
	Odds       []OddsRow
	Rests      string
	Table      []AheadRow

	label string
	parts []leadPart
	comes bool
}

// OddsRow is a chance with what it is of.
type OddsRow struct {
	Odds look.Odds
	Says string
}

// String is a chance as a sentence: "1 in 12: comes to 1 or less, the act line, by 10 February."
func (o OddsRow) String() string {
	if o.Odds.Words == "" {
		return o.Says
	}
	return first(o.Odds.Words) + ": " + o.Says + "."
}

// AheadRow is one eve in the table behind a fan.
type AheadRow struct{ Day, Value, Could string }

// OutlookPageOf lays out what comes. Lines are the standing lines of the book, for the readings behind today.
func OutlookPageOf(b infer.Belief, f enclosure.Facts, lines []book.Line, o plan.Outlook) OutlookPage {
	last := o.Eves[len(o.Eves)-1].At
	a := ahead{OutlookOf("", b, o), b, o, lines, limitsOf(b, f), last.Format(dayMonth)}
	p := OutlookPage{Head: say.Sentence("outlook.title", a.to), Assumes: say.Sentence("outlook.page-head", a.facts())}
	var never, unforeseen []string
	for _, m := range ofWater {
		if m == quantity.OfWaterTemp || m == quantity.OfChloride {
			continue // nothing is foreseen of them
		}
		if _, ok := o.Eves[0].Bands[m]; !ok {
			if len(alarms(b)) > 0 && !b.Evidence[m].Last.IsZero() {
				unforeseen = append(unforeseen, m.Label())
			} else {
				never = append(never, m.Label())
			}
			continue
		}
		if r := a.fan(m); r.comes {
			p.Fans = append(p.Fans, r)
		} else {
			p.Quiet = append(p.Quiet, r)
		}
	}
	if len(never) > 0 {
		p.Never = say.Sentence("outlook.never", never)
	}
	if len(unforeseen) > 0 {
		p.Alarming = say.Sentence("outlook.alarming", struct{ Read, Names []string }{alarms(b), unforeseen})
	}
	slices.SortStableFunc(p.Fans, func(a, b FanRow) int { return cmp.Compare(a.gravity(), b.gravity()) })
	p.Lead = lead(slices.Concat(p.Fans, p.Quiet), a.to, len(o.Eves) == 1)
	return p
}

// alarms are the names of what was last read higher than the rest of the book bears out.
func alarms(b infer.Belief) []string {
	var out []string
	for _, m := range []quantity.Measurand{quantity.OfTAN, quantity.OfNO2} {
		if b.Evidence[m].Alarming {
			out = append(out, m.Label())
		}
	}
	return out
}

// QuietNames says of what nothing comes; "" when there is nothing of the kind.
func (p OutlookPage) QuietNames() string {
	var names []string
	for _, r := range p.Quiet {
		names = append(names, r.label)
	}
	if len(names) == 0 {
		return ""
	}
	return first(say.Sentence("outlook.quiet", names))
}

// ahead is what the fans of one outlook are made from.
type ahead struct {
	view   Outlook
	belief infer.Belief
	plan.Outlook
	lines  []book.Line
	limits map[quantity.Measurand][]draw.Limit
	to     string // its last day
}

type aheadFacts struct {
	Percent, Days string
	AsLast        bool
}

func (a ahead) facts() aheadFacts {
	return aheadFacts{say.Number(100*float64(a.Share), 0), say.Number(a.Every, 0), a.AsLast}
}

// dayMonth prints a day of an outlook, which needs no year.
const dayMonth = "2 January"

// lookBackDays is how much of the past a fan shows.
const lookBackDays = 28

func (a ahead) fan(m quantity.Measurand) FanRow {
	p, _ := look.PrintOf(m)
	scale := func(x float64) float64 { return look.Shown(m, x) }
	floor := a.belief.Evidence[m].Floor
	r := FanRow{Key: string(m), Name: p.Name, Unit: p.Words(), label: m.Label()}
	d := draw.Fan{Lo: p.Lo, Hi: p.Hi, Limits: a.limits[m], From: -lookBackDays, Past: a.past(m)}
	for _, e := range a.Eves {
		band, half := e.Bands[m], e.Half[m]
		day := e.At.Sub(a.From).Hours() / 24
		d.To = day
		d.Ahead = append(d.Ahead, draw.Ahead{Day: day, P10: scale(band.Lo), P25: scale(half.Lo), P50: scale(band.Median), P75: scale(half.Hi), P90: scale(band.Hi)})
		row := AheadRow{Day: e.At.Format(dayMonth)}
		if row.Day == a.From.Format(dayMonth) {
			row.Day = say.Sentence("outlook.now", nil)
		}
		row.Value, row.Could = say.Bare(m, band, floor)
		if n := len(r.Table); n > 0 && r.Table[n-1].Day == row.Day { // a change that is due today
			r.Table = r.Table[:n-1]
		}
		r.Table = append(r.Table, row)
	}
	for _, at := range []float64{d.From, d.To / 2, d.To} {
		d.Dates = append(d.Dates, draw.Date{Day: at, Say: a.From.AddDate(0, 0, int(math.Round(at))).Format("2 Jan")})
	}
	d.Hi = near(d)
	end := r.Table[len(r.Table)-1]
	d.End = end.Value
	r.lines(a, m)
	for _, s := range a.view.Plateaus {
		if s.Of == m {
			r.Rests = first(a.view.rests(s))
		}
	}
	d.Title = say.Sentence("outlook.fan", struct{ Name, Value, Could, On string }{p.Name, strings.TrimSpace(end.Value + " " + r.Unit), end.Could, a.to})
	for _, o := range r.Odds {
		d.Title += " " + o.String()
	}
	r.Fan = d
	r.comes = r.comes || a.moves(m, floor)
	return r
}

// first begins a sentence with a capital, unless it begins with pH.
func first(s string) string {
	if strings.HasPrefix(s, "pH") {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

// moves reports whether the median goes farther than half the doubt at the end.
func (a ahead) moves(m quantity.Measurand, floor float64) bool {
	now, end := a.Eves[0].Bands[m], a.Eves[len(a.Eves)-1].Bands[m]
	return end.Hi > floor && math.Abs(end.Median-now.Median) > (end.Hi-end.Lo)/2
}

// near is the upper end of a scale that begins at nothing, halved at most twice while all that is drawn stays
// within it. An end of the keeping range far over all else does not count where there is a line below.
func near(d draw.Fan) float64 {
	hi := d.Hi
	if d.Lo != 0 {
		return hi
	}
	most, below := 0.0, false
	for _, x := range d.Ahead {
		most = max(most, x.P90)
	}
	for _, x := range d.Past {
		most = max(most, x.Hi)
	}
	for _, x := range d.Limits {
		if !x.Above {
			most, below = max(most, x.At), true
		}
	}
	inSight := most
	for _, x := range d.Limits {
		if x.Above && !(below && x.At >= 2*most) {
			inSight = max(inSight, x.At)
		}
	}
	for range 2 {
		if inSight <= hi/2 {
			hi /= 2
		}
	}
	return hi
}

// past are the readings of the last weeks by their intervals: of the tank, not set aside, of a probe one a day.
func (a ahead) past(m quantity.Measurand) []draw.Past {
	aside := book.SetAsides(a.lines, a.From)
	probed := map[string]bool{}
	span := m.Span()
	var out []draw.Past
	for i := len(a.lines) - 1; i >= 0; i-- {
		l := a.lines[i]
		r, ok := l.Body.(book.Reading)
		_, doubted := aside[l.ID]
		if !ok || doubted || r.Of != m || r.Place != "" && r.Place != "tank" || l.Water != "" && l.Water != a.belief.Water || l.At.After(a.From) ||
			a.From.Sub(l.At) > lookBackDays*24*time.Hour || !(r.Lo <= r.Hi) {
			continue
		}
		if day := l.At.Format(time.DateOnly); l.By == book.Probe {
			if probed[day] {
				continue
			}
			probed[day] = true
		}
		out = append(out, draw.Past{Day: -a.From.Sub(l.At).Hours() / 24, Span: draw.Span{Lo: look.Shown(m, max(r.Lo, span.Lo)), Hi: look.Shown(m, min(r.Hi, span.Hi))}})
	}
	slices.Reverse(out)
	return out
}

// watchedOf is under which quantity the lines of a thing are told: free ammonia under total ammonia.
var watchedOf = map[husbandry.Watched]quantity.Measurand{
	husbandry.FreeAmmonia: quantity.OfTAN, husbandry.NitriteLine: quantity.OfNO2,
	husbandry.NitrateLine: quantity.OfNO3, husbandry.KHLine: quantity.OfKH,
}

// stands are the facts of the sentence about one line, or one end of a keeping range.
type stands struct {
	At, Line, By       string
	Below, Free, Today bool
}

// lines adds the odds of the lines, and of the ends of the keeping range that no line lies before.
func (r *FanRow) lines(a ahead, m quantity.Measurand) {
	lined := map[bool]bool{} // by side: below
	for _, l := range a.Lines {
		if watchedOf[l.Of] != m {
			continue
		}
		lined[l.Line.Below] = true
		for _, t := range []struct {
			at   husbandry.Maybe[float64]
			odds []float64
			ever float64
			name string
		}{{l.Line.Watch, l.Watch, l.EverWatch, "watch"}, {l.Line.Act, l.Act, l.EverAct, "act"}} {
			x, ok := t.at.Get()
			if !ok || math.IsNaN(t.ever) {
				continue
			}
			free := l.Of == husbandry.FreeAmmonia
			if !free {
				x = look.Shown(m, x)
			}
			r.add("outlook.comes", stands{At: trimmed(tidied(x)), Line: t.name, By: a.to, Below: l.Line.Below, Free: free}, t.odds[0], t.ever)
			if t.ever >= leastOdds {
				r.comes = true
				r.parts = append(r.parts, leadPart{Line: t.name, May: t.ever < .5})
			}
		}
	}
	for _, k := range a.Ranges {
		if k.Of != m {
			continue
		}
		for _, end := range []struct {
			x     float64
			odds  []float64
			ever  float64
			below bool
		}{{k.Range.Lo, k.Low, k.EverLow, true}, {k.Range.Hi, k.High, k.EverHigh, false}} {
			if lined[end.below] || !(end.ever >= leastOdds) {
				continue
			}
			r.add("outlook.leaves", stands{At: trimmed(tidied(look.Shown(m, end.x))), By: a.to, Below: end.below}, end.odds[0], end.ever)
			r.comes = r.comes || end.ever > leaveOdds
		}
	}
	if len(r.Odds) == 0 {
		r.Odds = []OddsRow{{Says: say.Sentence("outlook.within", nil)}}
	}
}

// leaveOdds is from when on the end of a keeping range, which is only preferred, is worth a drawing: 1 in 5, as
// on the work sheet.
const leaveOdds = 0.2

// add says the odds of standing there on some eve; now are those of standing there today.
func (r *FanRow) add(code string, s stands, now, ever float64) {
	s.Today = now >= leastOdds
	r.Odds = append(r.Odds, OddsRow{look.OddsFromRuns(int(math.Round(ever*runs)), runs), say.Sentence(code, s)})
}

// leadPart is what the lead says of some quantities: which line, and whether it is likely.
type leadPart struct {
	Names []string
	Line  string
	May   bool
}

// Many reports whether the part is about more than one quantity.
func (p leadPart) Many() bool { return len(p.Names) > 1 }

// leadOrder is the order in which the parts of the lead stand: the graver line first.
var leadOrder = []leadPart{{Line: "act"}, {Line: "act", May: true}, {Line: "watch"}, {Line: "watch", May: true}}

// gravity is the part of the lead to which a quantity belongs; past all of them when to none.
func (r FanRow) gravity() int {
	for i, k := range leadOrder {
		if slices.ContainsFunc(r.parts, func(p leadPart) bool { return p.Line == k.Line && p.May == k.May }) {
			return i
		}
	}
	return len(leadOrder)
}

// lead names what is likely past a line and what may come to one, the graver line first; a quantity once, by its
// gravest.
func lead(rows []FanRow, to string, short bool) string {
	f := struct {
		To             string
		Parts          []leadPart
		Short, Nothing bool
	}{To: to, Short: short, Nothing: len(rows) == 0}
	for i, k := range leadOrder {
		for _, r := range rows {
			if r.gravity() == i {
				k.Names = append(k.Names, r.label)
			}
		}
		if len(k.Names) > 0 {
			f.Parts = append(f.Parts, k)
		}
	}
	return say.Sentence("outlook.lead", f)
}
