package infer

import (
	"slices"
	"strings"
	"time"

	"halfwater/book"
	"halfwater/enclosure"
)

// Oddity is something that cannot be, or that leaves a hole, in when the lines of the book are said to have been.
// It is named with what was made of it; nothing is dropped without being named.
type Oddity struct {
	Code  string    // of its sentence: one of the Odd constants
	Lines []book.ID // in the order of the book; of a gap those on both sides
	From  time.Time // of the first of them, of a gap its beginning
	To    time.Time // of the last, of a gap its end
}

// The ways in which the times of lines are odd.
const (
	// OddBefore are readings from before the first measures of the box: taken in, as if it had stood already.
	OddBefore = "infer.odd-before"
	// OddLong are such readings that are too old to be read at all.
	OddLong = "infer.odd-long-before"
	// OddBack are lines that were written down after others by their ids, which are in the order of making, and say
	// that they were written down earlier: the clock went back. They count by the day that they are about.
	OddBack = "infer.odd-back"
	// OddEarly are lines that were written down a day or more before what they tell of.
	OddEarly = "infer.odd-early"
	// OddAhead are lines about a time that has not come by the clock (Window.Now): left out until then.
	OddAhead = "infer.odd-ahead"
	// OddGap is a long time without a line about the water: carried on as if nothing had been done.
	OddGap = "infer.odd-gap"
)

// How much is odd.
const (
	day     = 24 * time.Hour // what is dated by the day, whatever the hour
	back    = time.Hour      // clocks are set by minutes
	longGap = 8 * week       // judgement: two months without a line are no routine
)

// oddities names what is odd about the times of lines that a belief rests on. Lines are those of one water that are
// known, up to any moment, in the order of the book; used are the readings of the water itself; from is where
// the window begins.
func oddities(known []book.Line, used []book.Line, w Window, from time.Time) []Oddity {
	var out []Oddity
	add := func(code string, lines []book.Line) {
		if len(lines) == 0 {
			return
		}
		o := Oddity{Code: code, From: lines[0].At, To: lines[len(lines)-1].At}
		for i := range lines {
			o.Lines = append(o.Lines, lines[i].ID)
		}
		out = append(out, o)
	}
	stood := boxSince(used)
	early := among(used, func(l *book.Line) bool { _, is := l.Body.(book.Reading); return is && l.At.Before(stood) })
	add(OddLong, among(early, func(l *book.Line) bool { return l.At.Before(from) }))
	add(OddBefore, among(early, func(l *book.Line) bool { return !l.At.Before(from) }))
	add(OddEarly, among(known, func(l *book.Line) bool {
		return !l.Recorded.IsZero() && l.At.Sub(l.Recorded) > day && !l.At.Before(from)
	}))
	set := setBack(known)
	add(OddBack, among(known, func(l *book.Line) bool { return set[l.ID] && !l.At.Before(from) }))
	if !w.Now.IsZero() {
		add(OddAhead, among(known, func(l *book.Line) bool { return l.At.After(w.Now) }))
	}
	return append(out, gaps(known, stood, from, w.At)...)
}

func among(lines []book.Line, is func(*book.Line) bool) []book.Line {
	var out []book.Line
	for i := range lines {
		if is(&lines[i]) {
			out = append(out, lines[i])
		}
	}
	return out
}

// boxSince is when the first measures of the box say that it stood, less a day; zero when nobody said.
func boxSince(lines []book.Line) time.Time {
	at := slices.IndexFunc(lines, func(l book.Line) bool { _, is := l.Body.(enclosure.Basin); return is })
	if at < 0 {
		return time.Time{}
	}
	return lines[at].At.Add(-day)
}

// setBack are the lines that were made after another that says it was recorded later.
func setBack(lines []book.Line) map[book.ID]bool {
	inOrder := func(a, b book.Line) int { return strings.Compare(string(a.ID), string(b.ID)) }
	byRecord := func(a, b book.Line) int { return a.Recorded.Compare(b.Recorded) }
	if slices.IsSortedFunc(lines, inOrder) && slices.IsSortedFunc(lines, byRecord) {
		return nil // as a rule, and a probe's book is long
	}
	made := make([]*book.Line, len(lines))
	for i := range lines {
		made[i] = &lines[i]
	}
	slices.SortFunc(made, func(a, b *book.Line) int { return inOrder(*a, *b) })
	out := map[book.ID]bool{}
	var last time.Time
	for _, l := range made {
		if last.Sub(l.Recorded) > back {
			out[l.ID] = true
		}
		if l.Recorded.After(last) {
			last = l.Recorded
		}
	}
	return out
}

// gaps are the long times without a line about the water that end in the window, since the box stood.
func gaps(lines []book.Line, stood, from, to time.Time) []Oddity {
	var out []Oddity
	var last *book.Line
	for i := range lines {
		l := &lines[i]
		if !tellsOfWater(l.Body) || l.At.Before(stood) {
			continue
		}
		if l.At.After(to) {
			break
		}
		if last != nil && l.At.Sub(last.At) > longGap && l.At.After(from) {
			out = append(out, Oddity{Code: OddGap, Lines: []book.ID{last.ID, l.ID}, From: last.At, To: l.At})
		}
		last = l
	}
	if last != nil && to.Sub(last.At) > longGap {
		out = append(out, Oddity{Code: OddGap, Lines: []book.ID{last.ID}, From: last.At, To: to})
	}
	return out
}

// tellsOfWater reports whether a line says something of what the water was or what was done to it.
func tellsOfWater(b book.Body) bool {
	switch b.(type) {
	case enclosure.Fact, book.Note, book.Price, book.Withdraw, book.SetAside, book.ShownOutlook:
		return false
	}
	return true
}
