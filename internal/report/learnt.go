package report

import (
	"fmt"
	"io"
	"math"
	"text/tabwriter"
	"time"

	"halfwater/infer"
	"halfwater/internal/say"
	"halfwater/quantity"
)

// Learnt is what an enclosure taught, ready to print or to encode.
type Learnt struct {
	Water    string
	From, To time.Time
	Readings int
	Values   []OwnValue
	Tied     []Tied
	NO3Rise  quantity.Band[quantity.Nitrate]    // mg N/L a week
	KHFall   quantity.Band[quantity.Alkalinity] // dKH a week
	Bases    []Meant
	Settled  bool
	Rival    bool // another account is nearly as likely
}

// OwnValue is one constant beside the book's.
type OwnValue struct {
	Name, Unit string
	Book, Own  quantity.Band[float64]
	Told       float64
}

// Tied is a pair that readings do not tell apart.
type Tied struct {
	A, B        string
	Correlation float64
}

// Meant is what a kit's numbers count, by the rest of the book.
type Meant struct {
	Kit   string // "" for numbers that were typed without a kit
	Of    string
	Basis quantity.Basis
	Odds  float64
}

// fewTold is how much narrower a value must be to be shown as learnt.
const fewTold = 0.1

// rivalNats is the log odds under which another account is named.
const rivalNats = 3

// LearntOf makes the view.
func LearntOf(l infer.Learnt) Learnt {
	out := Learnt{
		Water: l.Water, From: l.From, To: l.To, Readings: l.Readings, NO3Rise: l.NO3Rise, KHFall: l.KHFall,
		Settled: l.Sure, Rival: l.Other < rivalNats,
	}
	for _, v := range l.Values {
		unit := v.Of.Prior().Unit
		if unit == "1" {
			unit = ""
		}
		out.Values = append(out.Values, OwnValue{v.Of.String(), unit, v.Book, v.Own, v.Told})
	}
	for _, m := range l.Bases {
		out.Bases = append(out.Bases, Meant{m.Kit, m.Of.Label(), m.Basis, m.Odds})
	}
	for _, t := range l.Tied {
		out.Tied = append(out.Tied, Tied{t.A.String(), t.B.String(), t.By})
	}
	return out
}

// LearntText prints the view for a terminal.
func LearntText(w io.Writer, l Learnt) error {
	fmt.Fprintln(w, say.Sentence("learnt.head", struct {
		Readings int
		From, To string
	}{l.Readings, l.From.Format("2 Jan 2006"), l.To.Format("2 Jan 2006")}))
	fmt.Fprintln(w)
	t := tabwriter.NewWriter(w, 2, 0, 2, ' ', 0)
	fmt.Fprint(t, "\town\tbook\t\n")
	var little []string
	for _, v := range l.Values {
		if v.Told < fewTold {
			little = append(little, v.Name)
			continue
		}
		fmt.Fprintf(t, "%s\t%s\t%s\t%s\n", v.Name, ranged(v.Own), ranged(v.Book), v.Unit)
	}
	if err := t.Flush(); err != nil {
		return err
	}
	if len(little) > 0 {
		fmt.Fprintln(w, "\n"+say.Sentence("learnt.little", little))
	}
	if len(l.Tied) > 0 {
		var pairs []string
		for _, t := range l.Tied {
			pairs = append(pairs, t.A+" and "+t.B)
		}
		fmt.Fprintln(w, say.Sentence("learnt.tied", pairs))
	}
	fall := plainBand(l.KHFall)
	fmt.Fprintln(w, say.Sentence("learnt.net", struct{ NO3, KH moved }{
		movedBy(quantity.OfNO3, plainBand(l.NO3Rise)),
		movedBy(quantity.OfKH, quantity.Band[float64]{Lo: -fall.Hi, Median: -fall.Median, Hi: -fall.Lo}),
	}))
	for _, m := range l.Bases {
		fmt.Fprintln(w, say.Sentence("learnt.basis", m))
	}
	fmt.Fprintln(w, say.Sentence("learnt.trial", nil))
	if !l.Settled {
		fmt.Fprintln(w, say.Sentence("learnt.unsure", nil))
	}
	if l.Rival {
		fmt.Fprintln(w, say.Sentence("learnt.other", nil))
	}
	return nil
}

func plainBand[Q quantity.Number](b quantity.Band[Q]) quantity.Band[float64] {
	return quantity.Band[float64]{Low: float64(b.Low), Lo: float64(b.Lo), Median: float64(b.Median), Hi: float64(b.Hi), High: float64(b.High)}
}

// ranged is a band in two figures: "0.9 (0.8 to 1.1)".
func ranged(b quantity.Band[float64]) string {
	f := func(x float64) string {
		if x == 0 {
			return "0"
		}
		places := max(1-int(math.Floor(math.Log10(math.Abs(x)))), 0)
		return fmt.Sprintf("%.*f", places, x)
	}
	return f(b.Median) + " (" + f(b.Lo) + " to " + f(b.Hi) + ")"
}
