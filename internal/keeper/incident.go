package keeper

import (
	"context"
	"slices"
	"time"

	"halfwater/book"
)

// Moment is one line of the timeline of an incident.
type Moment struct {
	Line book.Line
	Late time.Duration // how long after it happened it was written down
}

// lately is within how much time a line counts as written at its moment.
const lately = 10 * time.Minute

// Incident keeps one moment of an emergency by its clock time: what was seen, or what was done.
func (k *Keeper) Incident(ctx context.Context, enclosureID string, at time.Time, waterBody string, i book.Incident) (book.Line, error) {
	return k.Write(ctx, enclosureID, Entry{At: at, Water: waterBody, Body: i})
}

// Timeline is what the book holds of a stretch of time, in the order of the clock: what was seen and
// done, what was read, poured, switched on, taken out. Facts and forecasts are not in it. Nothing is
// typed twice: the lines are those of the book.
func (k *Keeper) Timeline(ctx context.Context, enclosureID string, from, to time.Time) ([]Moment, error) {
	lines, err := k.Lines(ctx, enclosureID)
	if err != nil {
		return nil, err
	}
	var out []Moment
	for _, l := range book.Standing(lines, known(lines, k.now())) {
		if l.At.Before(from) || l.At.After(to) || !slices.Contains(ofIncidents, l.Body.Kind()) {
			continue
		}
		m := Moment{Line: l}
		if late := l.Recorded.Sub(l.At); late > lately {
			m.Late = late
		}
		out = append(out, m)
	}
	return out, nil
}

// ofIncidents are the kinds of line that tell a story.
var ofIncidents = []string{
	"incident", "animal", "reading", "change", "top-up", "service", "service started", "service ended", "switched on",
	"dose", "feed", "added", "taken out", "photo", "note", "weight", "timed jug",
}
