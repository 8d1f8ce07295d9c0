package report

import (
	"math"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"halfwater/husbandry"
	"halfwater/internal/look"
	"halfwater/internal/say"
	"halfwater/plan"
	"halfwater/quantity"
)

// View is a work sheet in sentences, in the order of the work: the same for the text, the page
// and the print.
type View struct {
	Title    string // "Riverbank"
	When     string // "Sunday 22 November 2026"
	Act      string // the one next act
	Why      string // what it does, in one line; "" when there is nothing to do
	Cautions []string
	Steps    []Step
	NotToday []string
	Effects  []EffectRow
	Concerns []ConcernRow
	Path     []PathRow
	Refused  []string
	Missing  []string
}

// Step is one step of the visit.
type Step struct {
	Kind   StepKind
	Verb   string   // "Siphon down to"
	Amount string   // "20.8 cm"
	Fills  []string // of the vessels, equal ones together
	Notes  []string
}

// StepKind is what the hands do, by which a page knows which drawing belongs to a step.
type StepKind string

// The kinds of step.
const (
	StepRO      StepKind = "ro"
	StepSiphon  StepKind = "siphon"
	StepStage   StepKind = "stage"
	StepMix     StepKind = "mix"
	StepTemper  StepKind = "temper"
	StepCheck   StepKind = "check"
	StepPour    StepKind = "pour"
	StepRestart StepKind = "restart"
	StepTests   StepKind = "tests"
)

// EffectRow is one line of "what the visit will do".
type EffectRow struct {
	What, Unit    string
	Before, After string // medians
	Could         string // "could be 1.9 to 2.6"
	Within48h     string // for free ammonia and pH
	Tier          string // word
}

// ConcernRow is a concern in words.
type ConcernRow struct {
	Mark      look.Mark
	Tier      string
	Text      string
	Head, Why string // Text in two: the act, and the reason
	Odds      look.Odds
	LookAgain string
	Emergency bool
}

// PathRow is one day of a staged path.
type PathRow struct{ Day, Amount, Then string }

// Sheet puts a work sheet into sentences.
func Sheet(s plan.Sheet) View {
	v := View{Title: s.Enclosure, When: say.Day(s.On)}
	v.Act, v.Why = act(s)
	for _, c := range s.Cautions {
		v.Cautions = append(v.Cautions, say.Sentence(string(c.Code), c))
	}
	v.Steps = steps(s)
	if s.Done != nil {
		v.NotToday = append(v.NotToday, say.Sentence(s.Done.Code, s.Done))
	}
	for _, l := range together(s.Service.Leave) {
		v.NotToday = append(v.NotToday, say.Sentence(l.Code, l))
	}
	for _, st := range s.Service.Stacked {
		v.NotToday = append(v.NotToday, say.Sentence(st.Code, st))
	}
	for _, e := range s.Effects {
		v.Effects = append(v.Effects, effectRow(e))
	}
	for _, c := range s.Concerns {
		if concerned(s.Concerns, c.DependsOn) {
			continue // its cause is said already
		}
		v.Concerns = append(v.Concerns, concernRow(s, c))
	}
	if s.Pour != nil {
		for _, p := range s.Pour.Path {
			v.Path = append(v.Path, pathRow(p))
		}
	}
	for _, r := range s.Refused {
		v.Refused = append(v.Refused, say.Sentence(r.Code, r))
	}
	for _, m := range s.Missing {
		v.Missing = append(v.Missing, say.Sentence(m.Code, m))
	}
	return v
}

// together joins stages that are left alone for the same reason until the same day.
func together(left []plan.StageLeft) []plan.StageLeft {
	var out []plan.StageLeft
	for _, l := range left {
		i := slices.IndexFunc(out, func(o plan.StageLeft) bool { return o.Code == l.Code && o.Until.Equal(l.Until) })
		if i < 0 {
			out = append(out, l)
		} else {
			out[i].Stage += ", " + l.Stage
		}
	}
	return out
}

// act is the largest text of the sheet: a sentence with a verb and a number.
func act(s plan.Sheet) (act, why string) {
	switch {
	case s.Siphon == nil && s.Pour == nil:
		if len(s.Concerns) > 0 && s.Concerns[0].Tier == husbandry.ActNow { // no water is moved, and that is not all
			act, why = inTwo(say.Sentence(s.Concerns[0].Code, s.Concerns[0]))
			return act + ".", why
		}
		if s.Done != nil {
			return say.Sentence(s.Done.Code, s.Done), ""
		}
		for _, r := range s.Refused { // what holds the whole visit is more than "nothing today"
			if r.Code == "plan.wait-for-ro" || r.Code == "plan.source-unusable" {
				act, why = inTwo(say.Sentence(r.Code, r))
				return act + ".", why
			}
		}
		return say.Sentence("sheet.act-nothing", s), ""
	case s.Siphon == nil:
		act = say.Sentence("sheet.act-pour", s)
	case s.Pour == nil:
		act = say.Sentence("sheet.act-siphon", s)
	default:
		act = say.Sentence("sheet.act", actFacts{s.Siphon.Mark, s.Pour.Litres, parts(s.Pour.Parts)})
	}
	var moves []string
	marks := Marks(s)
	for _, asks := range []bool{true, false} { // first what there is a concern about
		for _, e := range s.Effects {
			if e.Free || len(moves) == 2 || asks != (marks[e.Of] > look.CarryOn) || say.Value(e.Of, e.Before.Median) == say.Value(e.Of, e.After.Median) {
				continue
			}
			moves = append(moves, say.Sentence("sheet.move", e))
		}
	}
	if len(moves) > 0 {
		why = say.Sentence("sheet.moves", strings.Join(moves, " and "))
	}
	if s.Pour != nil && s.Pour.Larger != nil {
		why = strings.TrimSpace(why + " " + say.Sentence(s.Pour.Larger.Code, s.Pour.Larger))
	}
	return act, why
}

type actFacts struct {
	Mark   quantity.Millimetres
	Litres quantity.Litres
	Parts  string
}

func parts(ps []plan.Part) string {
	var out []string
	for _, p := range ps {
		if p.Litres > 0 {
			out = append(out, say.Litres(p.Litres)+" "+p.Source)
		}
	}
	return strings.Join(out, " + ")
}

func effectRow(e plan.Effect) EffectRow {
	r := EffectRow{What: e.Of.Label(), Unit: say.Unit(e.Of), Tier: e.Tier.String()}
	if e.Free {
		r.What = "free ammonia"
		r.Before, r.After = free(e.Before.Median), free(e.After.Median)
		if lo, hi := free(e.After.Lo), free(e.After.Hi); lo != hi { // said once
			r.Could = "could be " + lo + " to " + hi
		}
		if e.Within48h != nil {
			if r.Within48h = free(e.Within48h.Hi); r.Could == "" && r.Within48h == r.After {
				r.Within48h = ""
			}
		}
		return r
	}
	r.Before, _ = say.Bare(e.Of, e.Before, 0)
	r.After, r.Could = say.Bare(e.Of, e.After, 0)
	r.Before, r.After = strings.TrimPrefix(r.Before, "about "), strings.TrimPrefix(r.After, "about ")
	if e.Within48h != nil {
		w, _ := say.Bare(e.Of, *e.Within48h, 0)
		r.Within48h = strings.TrimPrefix(w, "about ")
	}
	return r
}

// free prints free ammonia in mg N/L with two digits that mean something.
func free(x float64) string {
	if x < 0.001 {
		return "under 0.001"
	}
	if x < 0.01 {
		return say.Number(x, 3)
	}
	return say.Number(x, 2)
}

// runs is how many draws a belief has: odds are worded no finer than they support.
const runs = 500

func concerned(list []plan.Concern, code string) bool {
	return code != "" && slices.ContainsFunc(list, func(c plan.Concern) bool { return c.Code == code })
}

func concernRow(s plan.Sheet, c plan.Concern) ConcernRow {
	r := ConcernRow{Mark: look.Mark(c.Tier), Tier: c.Tier.String(), Text: say.Sentence(c.Code, c), Emergency: c.Emergency}
	r.Head, r.Why = inTwo(r.Text)
	if c.Chance == c.Chance { // not NaN
		r.Odds = look.OddsFromRuns(int(math.Round(c.Chance*runs)), runs)
	}
	if !c.LookAgain.IsZero() {
		r.LookAgain = say.ShortDay(c.LookAgain, s.On)
		if c.Tier == husbandry.ActNow {
			r.LookAgain = say.SoonDay(c.LookAgain, s.On)
		}
	}
	return r
}

// inTwo parts a sentence of the form "Act: reason." into the act and the reason.
func inTwo(text string) (head, why string) {
	head, why, ok := strings.Cut(text, ": ")
	if !ok {
		return text, ""
	}
	first, size := utf8.DecodeRuneInString(why)
	return head, string(unicode.ToUpper(first)) + why[size:]
}

func pathRow(p plan.PathStep) PathRow {
	r := PathRow{Day: say.Sentence("sheet.path-day", p.Day), Amount: say.Litres(p.Litres) + " (" + say.Percent(p.Share) + ")"}
	var then []string
	for _, e := range p.Effects {
		er := effectRow(e)
		then = append(then, strings.TrimSpace(er.What+" "+er.After+" "+er.Unit))
	}
	r.Then = strings.Join(then, ", ")
	return r
}

// Range is the doubt of a row without its words: "1.9 to 2.6".
func (r EffectRow) Range() string { return strings.TrimPrefix(r.Could, "could be ") }
