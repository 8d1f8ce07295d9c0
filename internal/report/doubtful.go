package report

import (
	"time"

	"halfwater/book"
	"halfwater/infer"
	"halfwater/internal/say"
	"halfwater/quantity"
)

// DoubtfulNow is a reading that lay far from what was expected before it.
type DoubtfulNow struct {
	infer.Doubtful
	On    time.Time // when it was read
	Since bool      // the same quantity was read again since, as was expected then
}

// doubtful are the readings of a belief that lay far off, with their days.
func doubtful(b infer.Belief, lines []book.Line) []DoubtfulNow {
	at := map[book.ID]time.Time{}
	for _, l := range lines {
		at[l.ID] = l.At
	}
	far := map[book.ID]bool{}
	for _, d := range b.Doubtful {
		far[d.Line] = true
	}
	var out []DoubtfulNow
	for _, d := range b.Doubtful {
		x := DoubtfulNow{Doubtful: d, On: at[d.Line]}
		of := d.Of
		if of == quantity.OfTDS { // which counts as conductivity
			of = quantity.OfEC
		}
		for _, id := range b.Evidence[of].Readings {
			x.Since = x.Since || at[id].After(x.On) && !far[id]
		}
		out = append(out, x)
	}
	return out
}

const readFar = "infer.reading-far"

// InDoubt says which readings to make again, and which were made again since.
func (n WaterNow) InDoubt() []string {
	var out, since []string
	for _, d := range n.Doubtful {
		if d.Since && d.Code == readFar {
			since = append(since, say.Sentence("infer.reading-since", d))
		} else {
			out = append(out, say.Sentence(d.Code, d))
		}
	}
	if len(since) > 0 {
		out = append(out, say.Sentence("infer.readings-since", since))
	}
	return out
}
