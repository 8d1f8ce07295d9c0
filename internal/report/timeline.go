package report

import (
	"io"
	"strings"
	"time"

	"halfwater/book"
	"halfwater/internal/keeper"
	"halfwater/internal/say"
)

// TimelineRow is one moment of an incident.
type TimelineRow struct {
	At   time.Time
	Kind string
	Text string
	Late time.Duration // how long after it was written down; 0 when at once
	By   string
}

// Timeline puts the moments of an incident into rows, in the order of the clock.
func Timeline(moments []keeper.Moment) []TimelineRow {
	out := make([]TimelineRow, len(moments))
	for i, m := range moments {
		out[i] = TimelineRow{At: m.Line.At, Kind: m.Line.Body.Kind(), Text: moment(m.Line), Late: m.Late, By: string(m.Line.By)}
	}
	return out
}

// TimelineText writes it for a terminal or a printer.
func TimelineText(w io.Writer, moments []keeper.Moment, from, to time.Time) error {
	p := &printer{w: w}
	if len(moments) == 0 {
		p.line(say.Sentence("emergency.time-none", spanFacts{say.Clock(from), say.Clock(to)}))
		return p.err
	}
	day := ""
	for _, r := range Timeline(moments) {
		if d := say.Day(r.At); d != day {
			p.title(d)
			day = d
		}
		text := r.Text
		if r.Late > 0 {
			text += ", " + say.Sentence("emergency.time-late", say.Span(r.Late))
		}
		if r.By != string(book.Keeper) {
			text += " (" + r.By + ")"
		}
		p.item(r.At.Format("15:04"), text)
	}
	return p.err
}

type spanFacts struct{ From, To string }

// moment is one line of the book in a few words; a kind that has none of its own is told by its name.
func moment(l book.Line) string {
	switch b := l.Body.(type) {
	case book.Incident:
		return say.Sentence("emergency.time-incident", b)
	case book.Animal:
		return joined(l.Batch, b.Sign, b.Ate, b.Note)
	case book.Reading:
		return b.Of.Label() + " read: " + strings.TrimSpace(b.Shown+" "+b.Unit+" "+string(b.Basis))
	case book.Change:
		var in []string
		for _, p := range b.In {
			in = append(in, say.Litres(p.Litres)+" of "+p.Source)
		}
		return joined("change", "in: "+strings.Join(in, " and "))
	case book.TopUp:
		return "topped up with " + say.Litres(b.Litres) + " of " + b.Source
	case book.SwitchedOn:
		if b.OffSince.IsZero() {
			return "switched on"
		}
		return "switched on, off since " + say.Clock(b.OffSince)
	case book.Service:
		return joined("service", b.Stage)
	case book.Dose:
		return joined("put in: "+b.What, b.Note)
	case book.Added:
		return "put in: " + b.What
	case book.TakenOut:
		return "taken out: " + b.What
	case book.Photo:
		return joined("photograph "+b.File, b.Note)
	case book.Note:
		return b.Text
	}
	return l.Body.Kind()
}

// joined puts a comma between the parts that there are.
func joined(parts ...string) string {
	var out []string
	for _, p := range parts {
		if p != "" {
			out = append(out, p)
		}
	}
	return strings.Join(out, ", ")
}

// TakenWords says which readings stand behind an emergency sheet.
func TakenWords(reads []keeper.Taken) []string {
	var out []string
	for _, r := range reads {
		out = append(out, r.Of.Label()+" "+say.Value(r.Of, r.Value)+", "+say.Clock(r.At))
	}
	return out
}
