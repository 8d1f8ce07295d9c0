package report

import (
	"fmt"
	"io"
	"math"
	"strings"
	"text/tabwriter"
	"time"

	"halfwater/book"
	"halfwater/infer"
	"halfwater/internal/look"
	"halfwater/internal/say"
	"halfwater/quantity"
)

// WaterNow is what the water of one body is now, for the page, the terminal and JSON.
type WaterNow struct {
	Enclosure  string
	Water      string
	At         time.Time
	Rough      bool                    // the first look is all there is: no whole history was found that fits
	Unread     bool                    // nothing was read
	HeldL      *quantity.Band[float64] // litres; nil when the box has no measures
	Quantities []QuantityNow

	EvaporationLPerDay *quantity.Band[float64] // nil when the box has no measures
	LeakLPerDay        *quantity.Band[float64] // water that leaves with its salts; nil when not reckoned
	LeakToldApart      bool                    // the readings tell it from evaporation
	FilterReserve      *quantity.Band[float64] // nitrifying strength over load; nil when not reckoned
	KHInHandWeeks      *quantity.Band[float64] // infinite where it does not run out; nil when not reckoned

	Contradictions []ContradictionNow
	Refused        []infer.Refusal
	Doubtful       []DoubtfulNow
	Oddities       []OddityNow
	Branches       *BranchesNow // nil when the readings leave one account
}

// QuantityNow is one quantity of the water now.
type QuantityNow struct {
	Of      quantity.Measurand
	Label   string
	Band    quantity.Band[float64] // canonical unit of Of
	About   string                 // "about 2.1 °dKH"
	Could   string                 // "could be 1.6 to 2.6"
	Why     string                 // where it comes from
	Last    time.Time              // of the latest reading; zero when there is none
	Carried []string               // kinds of line that moved it since
	// ByReadings is how much of what is known of it its own readings say, 0 to 1; NaN when not reckoned.
	ByReadings float64
	// Alarming says that it was last read higher than the rest of the book bears out, and that the reading is believed until
	// the next.
	Alarming bool
	// Bases are the odds of what its kits' numbers count, where nobody said.
	Bases []BasisNow
}

// ofWater are the quantities of the water now, in the order in which they are shown.
var ofWater = []quantity.Measurand{
	quantity.OfTAN, quantity.OfNO2, quantity.OfPH, quantity.OfKH, quantity.OfGH, quantity.OfEC,
	quantity.OfNO3, quantity.OfWaterTemp, quantity.OfChloride,
}

// Water gathers the water now from a belief. Lines are the standing lines of the book: for the words of the
// readings that a contradiction names.
func Water(enclosure string, b infer.Belief, lines []book.Line) WaterNow {
	out := WaterNow{
		Enclosure: enclosure, Water: b.Water, At: b.At, Rough: b.Rough, Unread: nothingRead(b), Refused: b.Refused, Doubtful: doubtful(b, lines),
		Contradictions: contradictions(b, lines), Oddities: oddities(b), Branches: branches(b),
	}
	if held, ok := b.BandOf(func(d infer.Draw) float64 { return float64(d.Held) }); ok {
		out.HeldL = &held
		if lost, ok := b.BandOf(evaporation); ok {
			out.EvaporationLPerDay = &lost
		}
		if leak, ok := b.BandOf(leak); ok {
			out.LeakLPerDay, out.LeakToldApart = &leak, b.LeakTold >= leastTold
		}
	}
	if r, ok := b.BandOf(filterReserve); ok {
		out.FilterReserve = &r
	}
	if w, ok := b.BandOf(khInHand); ok {
		if kh, _ := b.Band(quantity.OfKH); kh.Median >= leastInHand { // under it hardly any is: weeks would say that there is time
			out.KHInHandWeeks = &w
		}
	}
	for _, m := range ofWater {
		band, ok := b.Band(m)
		if !ok {
			continue
		}
		e := b.Evidence[m]
		q := QuantityNow{Of: m, Label: m.Label(), Band: band, Last: e.Last, Carried: e.Carried, ByReadings: e.ByReadings, Alarming: e.Alarming, Bases: basesOf(m, b)}
		q.About, q.Could = say.BandParts(m, band, e.Floor)
		q.Why = whyOf(m, e, b)
		out.Quantities = append(out.Quantities, q)
	}
	return out
}

// whyOf is all that is said of where a quantity comes from: its readings, their weight beside the balance, and how
// it moves between changes.
func whyOf(m quantity.Measurand, e infer.Evidence, b infer.Belief) string {
	out := why(e, b.At, !b.Rough && (m == quantity.OfTAN || m == quantity.OfNO2))
	if !e.Last.IsZero() && !math.IsNaN(e.ByReadings) {
		out += " " + say.Sentence("now.weights", weights(e.ByReadings))
	}
	if e.Alarming {
		out += " " + say.Sentence("now.alarming", nil)
	}
	if r, ok := moves(m, e, b); ok {
		out += " " + say.Sentence("now.moves", r)
	}
	return out + basisWords(basesOf(m, b))
}

// weighed is a share in words that a person tells apart.
type weighed struct {
	Part        string
	Little, All bool
}

// weights words the share that readings have in what is known. Steps are judgement, no source.
func weights(share float64) weighed {
	if share < .12 || share > .88 {
		return weighed{Little: share < .5, All: share > .5}
	}
	best, far := "", math.Inf(1)
	for _, p := range []struct {
		at   float64
		word string
	}{{.25, "a quarter"}, {1. / 3, "a third"}, {.5, "half"}, {2. / 3, "two thirds"}, {.75, "three quarters"}} {
		if d := math.Abs(share - p.at); d < far {
			best, far = p.word, d
		}
	}
	return weighed{Part: best}
}

// moved is how a quantity moves between changes.
type moved struct {
	Falls bool
	Week  string // "about 0.4 °dKH a week"
	Could string
}

// moves gives how nitrate and KH move between changes, when they were read and do move.
func moves(m quantity.Measurand, e infer.Evidence, b infer.Belief) (moved, bool) {
	of := map[quantity.Measurand]func(infer.Draw) float64{
		quantity.OfNO3: func(d infer.Draw) float64 { return float64(d.NO3Rise) },
		quantity.OfKH:  func(d infer.Draw) float64 { return -float64(d.KHFall) },
	}[m]
	if of == nil || e.Last.IsZero() {
		return moved{}, false
	}
	band, ok := b.BandOf(of)
	if !ok {
		return moved{}, false
	}
	r := movedBy(m, band)
	return r, !strings.HasPrefix(r.Week, "under")
}

// movedBy words a rise in a week, canonical; a fall is less than nothing.
func movedBy(m quantity.Measurand, rise quantity.Band[float64]) moved {
	p, _ := look.PrintOf(m)
	lo, middle, hi := look.Shown(m, rise.Lo), look.Shown(m, rise.Median), look.Shown(m, rise.Hi)
	r := moved{Falls: middle < 0}
	if r.Falls {
		lo, middle, hi = -hi, -middle, -lo
	}
	v := look.Value{Middle: middle, Lo: lo, Hi: hi, Finest: p.Finest / 10}
	r.Week, r.Could = v.About()+" "+p.Words()+" a week", v.Could()
	return r
}

// Lead says at the head which of the rows ask for something.
func (n WaterNow) Lead(rows []WaterRow) string {
	a := struct {
		None, Unread bool
		Act, Watch   []string
	}{None: len(rows) == 0, Unread: n.Unread}
	for _, r := range rows {
		switch r.Mark {
		case look.ActNow:
			a.Act = append(a.Act, r.Name)
		case look.Watch:
			a.Watch = append(a.Watch, r.Name)
		}
	}
	return say.Sentence("now.lead", a)
}

// nothingRead reports whether a belief rests on no reading at all.
func nothingRead(b infer.Belief) bool {
	for _, e := range b.Evidence {
		if !e.Last.IsZero() {
			return false
		}
	}
	return true
}

// why says where a value without an age comes from, and how old the reading behind it is. Where histories tell what was never read,
// they go by a filter that runs in.
func why(e infer.Evidence, at time.Time, filtered bool) string {
	if e.Last.IsZero() {
		return say.Sentence("now.no-reading", filtered)
	}
	f := struct {
		Last    string
		Age     string
		Carried []string
	}{say.ShortDay(e.Last, at), say.Span(at.Sub(e.Last)), e.Carried}
	if len(e.Carried) > 0 {
		return say.Sentence("now.carried", f)
	}
	return say.Sentence("now.read", f)
}

// WaterText writes the water now for a terminal, with its rows on the page ([WaterRows]) for what asks for something; none where
// that is not known.
func WaterText(w io.Writer, n WaterNow, rows []WaterRow) error {
	fmt.Fprintf(w, "%s: the water now, %s\n\n", n.Enclosure, say.Clock(n.At))
	tiers, free := map[string]string{}, WaterRow{}
	for _, r := range rows {
		if tiers[r.Key] = r.Mark.Word(); r.Instead != "" {
			tiers[r.Key] = r.Instead
		}
		if r.Key == freeKey {
			free = r
		}
	}
	if rows != nil {
		fmt.Fprintln(w, n.Lead(rows)+"\n")
	}
	t := tabwriter.NewWriter(w, 2, 0, 2, ' ', 0)
	if h := n.HeldL; h != nil {
		fmt.Fprintf(t, "held water\tabout %.0f L\tcould be %.0f to %.0f\t\t\n", h.Median, h.Lo, h.Hi)
	}
	for _, q := range n.Quantities {
		fmt.Fprintf(t, "%s\t%s\t%s\t%s\t%s\n", q.Label, q.About, q.Could, tiers[string(q.Of)], q.Why)
		if q.Of == quantity.OfTAN && free.Key != "" {
			fmt.Fprintf(t, "%s\t%s\t%s\t%s\t%s\n", strings.ToLower(free.Name), free.about(), free.Could, tiers[freeKey], free.Why)
		}
	}
	for _, p := range n.paces() {
		v := p.value()
		unit := " " + p.unit
		if v.open {
			unit = ""
		}
		fmt.Fprintf(t, "%s\t%s\t%s\t\t%s\n", p.label(), v.about+unit, v.could, say.Sentence(p.why, nil))
	}
	if err := t.Flush(); err != nil {
		return err
	}
	if n.Rough && len(n.Quantities) > 0 {
		fmt.Fprintln(w, "\n"+say.Sentence("now.rough", nil))
	}
	for _, c := range n.Contradictions {
		fmt.Fprintln(w, "\n"+name(c.Of)+". "+c.Says)
		for _, x := range c.Culprits {
			fmt.Fprintf(w, "  %s: %s\n", look.OddsOf(x.Odds).Words, say.Sentence(x.Code, x))
		}
		if c.Doubts != "" {
			fmt.Fprintln(w, "  "+c.Doubts)
		}
		for _, x := range c.Checks {
			fmt.Fprintln(w, "  - "+say.Sentence(x.Code, x))
		}
	}
	for _, r := range n.Refused {
		fmt.Fprintln(w, "\n"+say.Sentence(r.Code, r))
	}
	for _, says := range n.InDoubt() {
		fmt.Fprintln(w, "\n"+says)
	}
	if n.Branches != nil {
		fmt.Fprintln(w, "\n"+say.Sentence(n.Branches.Code, n.Branches))
	}
	for _, o := range n.Oddities {
		fmt.Fprintln(w, "\n"+say.Sentence(o.Code, o))
	}
	return nil
}
