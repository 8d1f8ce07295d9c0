package infer

import "testing"

// benched are an enclosure with KH in hand, and one whose KH has run out, where what the readings see bends and steps are short.
var benched = []struct {
	name string
	seed uint64
}{{"KH in hand", 6}, {"KH run out", 3}}

// BenchmarkBelieve is 26 weeks, cold and after one more line.
func BenchmarkBelieve(b *testing.B) {
	for _, of := range benched {
		e := newTruth(of.seed, "plain")
		e.keep(26)
		at := day0.AddDate(0, 0, 7*26+3)
		w := Window{Lines: e.lines, At: at, Recorded: at, Seed: 1}
		b.Run(of.name+"/cold", func(b *testing.B) { believes(b, w) })
		less := w
		less.Lines = w.Lines[:len(w.Lines)-1]
		before, err := Believe(less)
		if err != nil {
			b.Fatal(err)
		}
		w.Before = &before
		b.Run(of.name+"/one more line", func(b *testing.B) { believes(b, w) })
		b.Run(of.name+"/glance", func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := Glance(w); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

func believes(b *testing.B, w Window) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Believe(w); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkThreeYears is a book of three years, opened for the first time.
func BenchmarkThreeYears(b *testing.B) {
	for _, of := range benched {
		e := newTruth(of.seed, "plain")
		e.keep(156)
		at := day0.AddDate(0, 0, 7*156+3)
		b.Run(of.name, func(b *testing.B) { believes(b, Window{Lines: e.lines, At: at, Recorded: at, Seed: 1}) })
	}
}
