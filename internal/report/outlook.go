package report

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strings"
	"text/tabwriter"
	"time"

	"halfwater/infer"
	"halfwater/internal/look"
	"halfwater/internal/say"
	"halfwater/plan"
	"halfwater/quantity"
)

// Outlook is what comes, ready to print or to encode.
type Outlook struct {
	Enclosure string
	From      time.Time
	Share     quantity.Share
	EveryDays float64
	AsLast    bool
	Scored    int  // readings that shown outlooks were held against, at most 20
	Held      int  // of them inside their band
	Widened   bool // because too few were
	ScoredOf  []ScoredOf
	Eves      []EveAhead
	Odds      []OddsAhead
	Leaves    []LeavesAhead
	Ever      []EverAhead
	Plateaus  []RestsAt
}

// ScoredOf is the score of one quantity, with the mean width of the bands that were shown.
type ScoredOf struct {
	Of      quantity.Measurand
	N, Held int
	Width   float64
}

// RestsAt is where a quantity comes to rest before a change, canonical unit, and from which day on it cannot be
// told from that; no day when that takes over a year.
type RestsAt struct {
	Of    quantity.Measurand
	Level float64
	By    time.Time
}

// LeavesAhead are the odds of lying under and over the keeping range on one eve.
type LeavesAhead struct {
	Of        quantity.Measurand
	At        time.Time
	Low, High float64
}

// EveAhead are the bands on one eve, canonical units.
type EveAhead struct {
	At         time.Time
	Quantities []BandAhead
}

// BandAhead is one quantity on one eve. Under Floor its kit supports no statement; 0 none.
type BandAhead struct {
	Of    quantity.Measurand
	Band  quantity.Band[float64]
	Floor float64
}

// OddsAhead are the odds of one thing's lines on one eve.
type OddsAhead struct {
	Of         string
	At         time.Time
	Watch, Act float64
}

// EverAhead are the odds of standing past the lines of a thing on some eve, today's among them.
type EverAhead struct {
	Of         string
	Watch, Act float64
}

// OutlookOf makes the view.
func OutlookOf(enclosure string, b infer.Belief, o plan.Outlook) Outlook {
	out := Outlook{
		Enclosure: enclosure, From: o.From, Share: o.Share, EveryDays: o.Every, AsLast: o.AsLast,
		Scored: o.Scored.N, Held: o.Scored.Held, Widened: o.Scored.Wider() > 1,
	}
	for _, s := range o.Scored.Of {
		out.ScoredOf = append(out.ScoredOf, ScoredOf(s))
	}
	for _, p := range o.Plateaus {
		out.Plateaus = append(out.Plateaus, RestsAt(p))
	}
	for _, l := range o.Lines {
		if !math.IsNaN(l.EverWatch) {
			out.Ever = append(out.Ever, EverAhead{string(l.Of), l.EverWatch, l.EverAct})
		}
	}
	for i, e := range o.Eves {
		eve := EveAhead{At: e.At}
		for _, m := range ofWater {
			if band, ok := e.Bands[m]; ok {
				eve.Quantities = append(eve.Quantities, BandAhead{m, band, b.Evidence[m].Floor})
			}
		}
		out.Eves = append(out.Eves, eve)
		for _, l := range o.Lines {
			if !math.IsNaN(l.Watch[i]) {
				out.Odds = append(out.Odds, OddsAhead{string(l.Of), e.At, l.Watch[i], l.Act[i]})
			}
		}
		for _, r := range o.Ranges {
			if !math.IsNaN(r.Low[i]) {
				out.Leaves = append(out.Leaves, LeavesAhead{r.Of, e.At, r.Low[i], r.High[i]})
			}
		}
	}
	return out
}

// ScoreRow is the score of one quantity in words.
type ScoreRow struct{ Name, Inside, Width string }

// Score says how the outlooks that were kept have held, and of each quantity how often and how sharply.
func (o Outlook) Score() (says string, of []ScoreRow) {
	if o.Scored == 0 {
		return say.Sentence("outlook.unscored", nil), nil
	}
	for _, s := range o.ScoredOf {
		of = append(of, ScoreRow{first(name(s.Of)), say.Sentence("outlook.inside", s), say.Width(s.Of, s.Width)})
	}
	return say.Sentence("outlook.scored", o), of
}

// columnsAhead are the eves that a terminal has room for: now, after one change, after four, the last.
func (o Outlook) columnsAhead() []int {
	last := len(o.Eves) - 1
	var out []int
	for _, i := range []int{0, 1, 4, last} {
		if i <= last && (len(out) == 0 || i > out[len(out)-1]) {
			out = append(out, i)
		}
	}
	return out
}

// OutlookText prints the view for a terminal, with what the page says of it.
func OutlookText(w io.Writer, o Outlook, p OutlookPage) error {
	code := "outlook.head"
	if !o.AsLast {
		code = "outlook.head-unknown"
	}
	fmt.Fprintln(w, say.Sentence(code, struct {
		Name, Percent, Days string
	}{o.Enclosure, say.Number(100*float64(o.Share), 0), say.Number(o.EveryDays, 0)}))
	fmt.Fprintln(w)
	for _, says := range []string{p.Alarming, p.Lead, p.Never} { // what may kill first
		if says != "" {
			fmt.Fprintln(w, says)
		}
	}
	if len(o.Eves[0].Quantities) == 0 {
		return nil
	}
	fmt.Fprintln(w)
	t := tabwriter.NewWriter(w, 2, 0, 2, ' ', 0)
	columns := o.columnsAhead()
	for _, c := range columns {
		if c == 0 {
			fmt.Fprint(t, "\t"+say.Sentence("outlook.now", nil))
			continue
		}
		fmt.Fprint(t, "\t"+say.ShortDay(o.Eves[c].At, o.From))
	}
	fmt.Fprintln(t)
	for _, q := range o.Eves[0].Quantities {
		print, _ := look.PrintOf(q.Of)
		fmt.Fprint(t, strings.TrimRight(q.Of.Label()+", "+print.Words(), ", "))
		for _, c := range columns {
			fmt.Fprint(t, "\t"+o.Eves[c].cell(q.Of))
		}
		fmt.Fprintln(t)
	}
	if err := t.Flush(); err != nil {
		return err
	}
	fmt.Fprintln(w, "\n"+say.Sentence("outlook.eves", nil)+" "+say.Sentence("outlook.tried", nil))
	for _, rests := range o.Plateaus {
		fmt.Fprintln(w, o.rests(rests))
	}
	if o.Scored > 0 {
		fmt.Fprintln(w, say.Sentence("outlook.scored", o))
		for _, s := range o.ScoredOf {
			fmt.Fprintln(w, "- "+say.Sentence("outlook.scored-of", s))
		}
	}
	fmt.Fprintln(w, "\n"+say.Sentence("outlook.odds", nil))
	for _, r := range append(slices.Clone(p.Fans), p.Quiet...) {
		for _, odds := range r.Odds {
			fmt.Fprintf(w, "- %s: %s\n", r.Name, odds)
		}
	}
	return nil
}

// rests says where a quantity comes to rest, and when.
func (o Outlook) rests(p RestsAt) string {
	f := struct {
		Of      quantity.Measurand
		Level   string
		By      string
		Now     bool
		OverEnd bool // beyond what was looked at
	}{Of: p.Of, Now: p.By.Equal(o.From)}
	last := o.Eves[len(o.Eves)-1]
	for _, q := range last.Quantities {
		if q.Of == p.Of { // in the digits that the doubt at the end carries
			about, _ := say.Bare(p.Of, quantity.Band[float64]{Lo: p.Level + q.Band.Lo - q.Band.Median, Median: p.Level, Hi: p.Level + q.Band.Hi - q.Band.Median}, q.Floor)
			f.Level = strings.TrimSpace(about + " " + say.Unit(p.Of))
		}
	}
	if !p.By.IsZero() {
		f.By = p.By.Format(dayMonth)
		if f.OverEnd = p.By.After(last.At); f.OverEnd {
			f.By = say.ShortDay(p.By, o.From)
		}
	}
	return say.Sentence("outlook.rests", f)
}

func (e EveAhead) cell(m quantity.Measurand) string {
	for _, q := range e.Quantities {
		if q.Of == m {
			about, could := say.Bare(m, q.Band, q.Floor)
			about = strings.TrimPrefix(about, "about ")
			if could == "" {
				return about
			}
			return about + " (" + strings.TrimPrefix(could, "could be ") + ")"
		}
	}
	return ""
}

// leastOdds is what is worth a line: one in twenty.
const leastOdds = 0.05
