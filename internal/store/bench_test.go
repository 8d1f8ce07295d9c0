package store

import (
	"fmt"
	"path/filepath"
	"testing"
	"time"

	"halfwater/book"
	"halfwater/internal/store/storetest"
	"halfwater/quantity"
)

// halfYear are 26 weeks of a well-kept book: about ten lines a day.
func halfYear() []book.Line {
	var out []book.Line
	for d := range 26 * 7 {
		for n := range 10 {
			l := storetest.NoteAt(fmt.Sprintf("%04d-%02d", d, n), storetest.Day(d).Add(time.Duration(n)*time.Minute), storetest.Day(d).Add(time.Hour))
			switch n % 5 {
			case 0:
				l.Body = book.Feed{What: "dry", Grams: 0.3, InWater: true}
			case 1:
				l.Body = book.TopUp{Source: "RO", Litres: 1.5}
			case 2, 3:
				l.Body = book.Reading{Of: quantity.OfKH, Kit: "KH drops", Shown: "4", Unit: "dKH", Lo: 3, Hi: 4}
			}
			out = append(out, l)
		}
	}
	return out
}

func BenchmarkAppendOne(b *testing.B) {
	s, err := Open(filepath.Join(b.TempDir(), "book.sqlite"), Options{})
	must(b, err)
	defer s.Close()
	n := 0
	for b.Loop() {
		n++
		must(b, s.Append(ctx, "e", storetest.NoteAt(fmt.Sprint(n), storetest.Day(n%200), storetest.Day(n%200))))
	}
}

func BenchmarkAppendHalfYear(b *testing.B) {
	s, err := Open(filepath.Join(b.TempDir(), "book.sqlite"), Options{})
	must(b, err)
	defer s.Close()
	lines := halfYear()
	n := 0
	for b.Loop() {
		n++
		must(b, s.Append(ctx, fmt.Sprint("e", n), lines...))
	}
}

func BenchmarkReadHalfYear(b *testing.B) {
	s, err := Open(filepath.Join(b.TempDir(), "book.sqlite"), Options{})
	must(b, err)
	defer s.Close()
	lines := halfYear()
	must(b, s.Append(ctx, "e", lines...))
	for b.Loop() {
		got, err := s.Lines(ctx, "e")
		must(b, err)
		if len(got) != len(lines) {
			b.Fatalf("%d lines", len(got))
		}
	}
}

func BenchmarkOpen(b *testing.B) {
	path := filepath.Join(b.TempDir(), "book.sqlite")
	s, err := Open(path, Options{})
	must(b, err)
	must(b, s.Append(ctx, "e", halfYear()...))
	must(b, s.Close())
	for b.Loop() {
		s, err := Open(path, Options{})
		must(b, err)
		must(b, s.Close())
	}
}
