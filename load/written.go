package load

import (
	"slices"
	"time"

	"halfwater/book"
)

// Written is the share of a time, 0 to 1, for which the lines of a water body say what was fed: under a daily habit, or within
// a fortnight (feed.holds) of a meal or of the end of a habit. Lines must be in the order of the book.
func Written(lines []book.Line, waterBody string, from, to time.Time) float64 {
	if !from.Before(to) {
		return 0
	}
	left := to.Sub(from)
	for _, gap := range unwritten(lines, waterBody, from, to) {
		left -= gap.to.Sub(gap.from)
	}
	return float64(left) / float64(to.Sub(from))
}

type gap struct{ from, to time.Time }

// unwritten are the parts of a time of which nobody wrote what was fed.
func unwritten(lines []book.Line, waterBody string, from, to time.Time) []gap {
	type habit struct{ food, batch string }
	open := map[habit]time.Time{} // since when
	var written []gap
	for _, l := range lines {
		b, ok := l.Body.(book.Feed)
		if !ok || l.Water != waterBody && l.Water != "" || l.At.After(to) {
			continue
		}
		if !b.PerDay {
			if b.Grams > 0 { // else nobody weighed it
				written = append(written, gap{l.At, l.At.Add(days(table.Value("feed.holds")))})
			}
			continue
		}
		key := habit{b.What, l.Batch}
		if since, ok := open[key]; ok {
			written = append(written, gap{since, l.At})
		}
		delete(open, key)
		if b.Grams > 0 {
			open[key] = l.At
		} else { // nothing more is given, and that is written
			written = append(written, gap{l.At, l.At.Add(days(table.Value("feed.holds")))})
		}
	}
	for _, since := range open {
		written = append(written, gap{since, to})
	}
	slices.SortFunc(written, func(a, b gap) int { return a.from.Compare(b.from) })
	var out []gap
	for _, w := range written {
		if w.from.After(from) {
			out = append(out, gap{from, w.from})
		}
		if w.to.After(from) {
			from = w.to
		}
	}
	out = append(out, gap{from, to})
	for i := range out {
		if out[i].to.After(to) {
			out[i].to = to
		}
	}
	return slices.DeleteFunc(out, func(g gap) bool { return !g.from.Before(g.to) })
}
