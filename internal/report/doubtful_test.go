package report

import (
	"strings"
	"testing"
	"time"

	"halfwater/book"
	"halfwater/infer"
	"halfwater/quantity"
)

// TestInDoubt: a far reading is to be made again, with its day, unless the same quantity was read since as was expected; conductivity stands for a
// TDS pen. A reading that says nothing is never settled by another.
func TestInDoubt(t *testing.T) {
	day := func(d int) time.Time { return time.Date(2026, 5, d, 9, 0, 0, 0, time.UTC) }
	var lines []book.Line
	for i, id := range []book.ID{"kh", "tds", "ec", "empty", "gh", "kh again"} {
		lines = append(lines, book.Line{ID: id, At: day(1 + i)})
	}
	far := func(id book.ID, of quantity.Measurand, code string) infer.Doubtful {
		return infer.Doubtful{Line: id, Of: of, Code: code, Shown: quantity.Range[float64]{Lo: 2, Hi: 3}, Expected: quantity.Band[float64]{Lo: 6, Median: 7, Hi: 8}}
	}
	b := infer.Belief{At: day(20), Evidence: map[quantity.Measurand]infer.Evidence{
		quantity.OfKH: {Last: day(6), Readings: []book.ID{"kh again", "kh"}},
		quantity.OfEC: {Last: day(3), Readings: []book.ID{"ec", "tds"}},
		quantity.OfGH: {Last: day(5), Readings: []book.ID{"gh", "empty"}},
	}}
	b.Doubtful = []infer.Doubtful{
		far("kh", quantity.OfKH, "infer.reading-far"), far("tds", quantity.OfTDS, "infer.reading-far"), far("empty", quantity.OfGH, "infer.reading-empty"),
	}
	says := Water("shore", b, lines).InDoubt()
	if len(says) != 2 || !strings.Contains(says[0], "says nothing") || !strings.Contains(says[1], "KH on") || !strings.Contains(says[1], "1 May") || !strings.Contains(says[1], "2 May") {
		t.Errorf("all read again since: %q", says)
	}
	b.Doubtful = append(b.Doubtful, far("kh again", quantity.OfKH, "infer.reading-far"))
	says = Water("shore", b, lines).InDoubt()
	if again := strings.Join(says, " "); strings.Count(again, "Read it again") != 2 || !strings.Contains(again, "6 May") {
		t.Errorf("the second was far too: %q", says)
	}
}
