package report

import (
	"fmt"
	"io"
	"text/tabwriter"
	"time"

	"halfwater/infer"
	"halfwater/internal/say"
	"halfwater/quantity"
)

// WaterNow is what the water of one body is now, for the page, the terminal and JSON.
type WaterNow struct {
	Enclosure  string
	Water      string
	At         time.Time
	HeldL      *quantity.Band[float64] // litres; nil when the box has no measures
	Quantities []QuantityNow
	Refused    []infer.Refusal
	Doubtful   []infer.Doubtful
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
}

// ofWater are the quantities of the water now, in the order in which they are shown.
var ofWater = []quantity.Measurand{
	quantity.OfTAN, quantity.OfNO2, quantity.OfPH, quantity.OfKH, quantity.OfGH, quantity.OfEC,
	quantity.OfNO3, quantity.OfWaterTemp, quantity.OfChloride,
}

// Water gathers the water now from a belief.
func Water(enclosure string, b infer.Belief) WaterNow {
	out := WaterNow{Enclosure: enclosure, Water: b.Water, At: b.At, Refused: b.Refused, Doubtful: b.Doubtful}
	if held, ok := b.BandOf(func(d infer.Draw) float64 { return float64(d.Held) }); ok {
		out.HeldL = &held
	}
	for _, m := range ofWater {
		band, ok := b.Band(m)
		if !ok {
			continue
		}
		e := b.Evidence[m]
		q := QuantityNow{Of: m, Label: m.Label(), Band: band, Last: e.Last, Carried: e.Carried}
		q.About, q.Could = say.BandParts(m, band, e.Floor)
		q.Why = why(e, b.At)
		out.Quantities = append(out.Quantities, q)
	}
	return out
}

// why says where a value without an age comes from, and how old the reading behind it is.
func why(e infer.Evidence, at time.Time) string {
	if e.Last.IsZero() {
		return say.Sentence("now.no-reading", e)
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

// WaterText writes the water now for a terminal.
func WaterText(w io.Writer, n WaterNow) error {
	fmt.Fprintf(w, "%s: the water now, %s\n\n", n.Enclosure, say.Clock(n.At))
	t := tabwriter.NewWriter(w, 2, 0, 2, ' ', 0)
	if h := n.HeldL; h != nil {
		fmt.Fprintf(t, "held water\tabout %.0f L\tcould be %.0f to %.0f\t\n", h.Median, h.Lo, h.Hi)
	}
	for _, q := range n.Quantities {
		fmt.Fprintf(t, "%s\t%s\t%s\t%s\n", q.Label, q.About, q.Could, q.Why)
	}
	if err := t.Flush(); err != nil {
		return err
	}
	for _, r := range n.Refused {
		fmt.Fprintln(w, "\n"+say.Sentence(r.Code, r))
	}
	for _, d := range n.Doubtful {
		fmt.Fprintln(w, "\n"+say.Sentence(d.Code, d))
	}
	return nil
}
