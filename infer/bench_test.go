package infer

import "testing"

// BenchmarkBelieve is 26 weeks: cold, and after one more line.
func BenchmarkBelieve(b *testing.B) {
	e := newTruth(3, "plain")
	e.keep(26)
	at := day0.AddDate(0, 0, 7*26+3)
	w := Window{Lines: e.lines, At: at, Recorded: at, Seed: 1}
	b.Run("cold", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			if _, err := Believe(w); err != nil {
				b.Fatal(err)
			}
		}
	})
	less := w
	less.Lines = w.Lines[:len(w.Lines)-1]
	before, err := Believe(less)
	if err != nil {
		b.Fatal(err)
	}
	w.Before = &before
	b.Run("one more line", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			if _, err := Believe(w); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("glance", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			if _, err := Glance(w); err != nil {
				b.Fatal(err)
			}
		}
	})
}
