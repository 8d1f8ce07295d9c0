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

// moment is one line of the book in words, its kind before it where the words do not say it.
func moment(l book.Line) string {
	words := saysOf(l.Body, nil)
	switch l.Body.(type) {
	case book.Incident, book.Note, book.Reading:
		return words
	}
	if l.Batch != "" {
		words = strings.TrimSuffix(l.Batch+", "+words, ", ")
	}
	return strings.TrimSuffix(l.Body.Kind()+": "+words, ": ")
}

// TakenWords says which readings stand behind an emergency sheet.
func TakenWords(reads []keeper.Taken) []string {
	var out []string
	for _, r := range reads {
		out = append(out, r.Of.Label()+" "+say.Value(r.Of, r.Value)+", "+say.Clock(r.At))
	}
	return out
}
