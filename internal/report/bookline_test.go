package report_test

import (
	"bytes"
	"fmt"
	"strings"
	"testing"
	"time"

	"halfwater/book"
	"halfwater/demo"
	"halfwater/internal/files"
	"halfwater/internal/report"
	"halfwater/quantity"
)

// riverbank reads the invented enclosure's two files.
func riverbank(t *testing.T) []book.Line {
	t.Helper()
	n := 0
	o := files.Options{Now: demo.Clock(), Zone: time.Local, NewID: func() book.ID { n++; return book.ID(fmt.Sprintf("%06d", n)) }}
	lines, err := files.ReadPair(bytes.NewReader(demo.Enclosure), bytes.NewReader(demo.Book), o)
	if err != nil {
		t.Fatal(err)
	}
	book.Sort(lines)
	return lines
}

func TestEveryLineOfTheDemoSaysSomething(t *testing.T) {
	all := riverbank(t)
	seen := map[string]bool{}
	for _, l := range report.BookLines(all, all, demo.Clock()) {
		if !seen[l.Kind] {
			t.Logf("%s: %s", l.Kind, l.Says)
		}
		seen[l.Kind] = true
		if l.Says == "" && l.Kind != "service started" && l.Kind != "service ended" || strings.Contains(l.Says, "[line.") {
			t.Errorf("%s of %s says %q", l.Kind, l.Day, l.Says)
		}
	}
}

// An outlook of many bands is told by its end.
func TestShownOutlookInWords(t *testing.T) {
	at := time.Date(2026, 11, 22, 10, 0, 0, 0, time.UTC)
	o := book.ShownOutlook{Version: "test", Bands: []book.ShownBand{
		{Of: quantity.OfKH, On: at, Lo: 2, Median: 2.5, Hi: 3},
		{Of: quantity.OfKH, On: at.AddDate(0, 0, 80), Lo: 1.1, Median: 2, Hi: 2.9},
		{Of: quantity.OfPH, On: at.AddDate(0, 0, 80), Lo: 7, Median: 7.4, Hi: 7.9},
	}}
	line := book.Line{ID: "o", At: at, Recorded: at, Water: book.MainWater, By: book.Keeper, Body: o}
	got := report.BookLines([]book.Line{line}, []book.Line{line}, at)[0].Says
	if want := "to Wednesday 10 February 2027; then, with 8 chances in 10: KH 1.1 to 2.9 °dKH, pH 7.0 to 7.9"; got != want {
		t.Errorf("says %q, want %q", got, want)
	}
	line.Body = book.ShownOutlook{}
	if got := report.BookLines([]book.Line{line}, []book.Line{line}, at)[0].Says; got != "nothing was foreseen" {
		t.Errorf("says %q", got)
	}
}
