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
)

// riverbank reads the invented enclosure's two files.
func riverbank(t *testing.T) []book.Line {
	t.Helper()
	n := 0
	o := files.Options{Now: demo.Clock(), Zone: time.Local, NewID: func() book.ID { n++; return book.ID(fmt.Sprintf("%06d", n)) }}
	facts, err := files.ReadEnclosure(bytes.NewReader(demo.Enclosure), o)
	if err != nil || facts.Err() != nil {
		t.Fatal(err, facts.Err())
	}
	o.Have = facts.Lines
	lines, err := files.ReadBook(bytes.NewReader(demo.Book), o)
	if err != nil || lines.Err() != nil {
		t.Fatal(err, lines.Err())
	}
	all := append(facts.Lines, lines.Lines...)
	book.Sort(all)
	return all
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
