package report

import (
	"slices"
	"time"

	"halfwater/book"
)

// Month is one month of a book in words, the newest day first, and which months stand beside it.
type Month struct {
	MonthName
	Days         []BookDay
	Count        int
	Newer, Older *MonthName
}

// MonthName is a month as an address ("2026-11") and as people write it ("November 2026").
type MonthName struct{ Key, Name string }

// BookDay is the lines of one day, the latest first.
type BookDay struct {
	Day   string
	Lines []BookLine
}

const monthKey = "2006-01"

// MonthOf gives a month of a book by its key; the latest with a line when the key is empty. False
// when the key is none, or no line lies in its month.
func MonthOf(lines []book.Line, key string, at time.Time) (Month, bool) {
	var keys []string
	name := func(l book.Line) string { return l.At.In(at.Location()).Format(monthKey) }
	for _, l := range lines {
		if k := name(l); len(keys) == 0 || keys[len(keys)-1] != k {
			keys = append(keys, k)
		}
	}
	if key == "" && len(keys) > 0 {
		key = keys[len(keys)-1]
	}
	i := slices.Index(keys, key)
	if i < 0 {
		return Month{}, false
	}
	m := Month{MonthName: nameOf(key)}
	if i > 0 {
		older := nameOf(keys[i-1])
		m.Older = &older
	}
	if i+1 < len(keys) {
		newer := nameOf(keys[i+1])
		m.Newer = &newer
	}
	var mine []book.Line
	for _, l := range lines {
		if name(l) == key {
			mine = append(mine, l)
		}
	}
	slices.Reverse(mine)
	m.Count = len(mine)
	for _, b := range BookLines(mine, lines, at) {
		if n := len(m.Days); n == 0 || m.Days[n-1].Day != b.Day {
			m.Days = append(m.Days, BookDay{Day: b.Day})
		}
		last := &m.Days[len(m.Days)-1]
		last.Lines = append(last.Lines, b)
	}
	return m, true
}

func nameOf(key string) MonthName {
	t, err := time.Parse(monthKey, key)
	if err != nil {
		return MonthName{key, key}
	}
	return MonthName{key, t.Format("January 2006")}
}
