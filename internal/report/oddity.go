package report

import (
	"cmp"
	"slices"
	"strings"
	"time"

	"halfwater/book"
	"halfwater/infer"
	"halfwater/internal/say"
	"halfwater/quantity"
)

// OddityNow is something odd about the times of lines, with what was made of it and what to do.
type OddityNow struct {
	Code        string
	Lines       []book.ID
	N           int
	One         bool
	From, To    time.Time
	First, Last string // the same in words
	Long        string // how long that is
}

func oddities(b infer.Belief) []OddityNow {
	var out []OddityNow
	for _, o := range b.Oddities {
		from, to := o.From.In(b.At.Location()), o.To.In(b.At.Location())
		out = append(out, OddityNow{
			Code: o.Code, Lines: o.Lines, N: len(o.Lines), One: len(o.Lines) == 1,
			From: from, To: to, First: say.ShortDay(from, b.At), Last: say.ShortDay(to, b.At), Long: say.Span(to.Sub(from)),
		})
	}
	return out
}

// BasisNow is a basis that a kit's numbers may have where nobody said, with its odds by the rest of the book.
type BasisNow struct {
	Kit   string // "" for numbers typed without one
	Basis string
	Odds  float64
}

// basesOf are the bases of a quantity's kits that nobody stated, kit by kit, the likelier first.
func basesOf(m quantity.Measurand, b infer.Belief) []BasisNow {
	var out []BasisNow
	for _, x := range b.Bases {
		if x.Of == m {
			out = append(out, BasisNow{x.Kit, string(x.Basis), x.Odds})
		}
	}
	slices.SortStableFunc(out, func(a, b BasisNow) int {
		return cmp.Or(strings.Compare(a.Kit, b.Kit), cmp.Compare(b.Odds, a.Odds))
	})
	return out
}

// basisWords says of the kits of a quantity what their numbers may count.
func basisWords(of []BasisNow) (says string) {
	for len(of) > 0 {
		n := 1
		for n < len(of) && of[n].Kit == of[0].Kit {
			n++
		}
		says += " " + say.Sentence("now.basis", struct {
			Kit string
			May []BasisNow
		}{of[0].Kit, of[:n]})
		of = of[n:]
	}
	return says
}
