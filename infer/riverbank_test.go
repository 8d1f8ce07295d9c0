package infer_test

import (
	"bytes"
	"fmt"
	"math"
	"testing"
	"time"

	"halfwater/book"
	"halfwater/demo"
	"halfwater/infer"
	"halfwater/internal/files"
	"halfwater/quantity"
)

// riverbank is the demo's book: 26 weeks as a keeper would write them.
func riverbank(t testing.TB) infer.Window {
	t.Helper()
	n := 0
	o := files.Options{Now: demo.Clock(), Zone: time.Local, NewID: func() book.ID { n++; return book.ID(fmt.Sprintf("%06d", n)) }}
	facts, err := files.ReadEnclosure(bytes.NewReader(demo.Enclosure), o)
	if err == nil {
		err = facts.Err()
	}
	if err != nil {
		t.Fatal(err)
	}
	o.Have = facts.Lines
	lines, err := files.ReadBook(bytes.NewReader(demo.Book), o)
	if err == nil {
		err = lines.Err()
	}
	if err != nil {
		t.Fatal(err)
	}
	return infer.Window{Lines: append(facts.Lines, lines.Lines...), At: demo.Clock(), Recorded: demo.Clock(), Seed: 1}
}

// TestRiverbank believes the demo: everything is known, and no wider than a keeper could use.
func TestRiverbank(t *testing.T) {
	b, err := infer.Believe(riverbank(t))
	if err != nil {
		t.Fatal(err)
	}
	widest := map[quantity.Measurand]float64{
		quantity.OfNO3: 8, quantity.OfKH: 2, quantity.OfGH: 2, quantity.OfEC: 30, quantity.OfPH: 0.8,
		quantity.OfWaterTemp: 2.5, quantity.OfTAN: 0.3, quantity.OfNO2: 0.3,
	}
	for m, most := range widest {
		v, ok := b.Band(m)
		t.Logf("%-18s %8.3f  80 %% %8.3f to %8.3f  95 %% %8.3f %s", m.Label(), v.Median, v.Lo, v.Hi, v.High, m.Unit())
		if !ok || v.Hi-v.Lo > most {
			t.Errorf("%s: %v to %v", m.Label(), v.Lo, v.Hi)
		}
	}
	for name, of := range map[string]func(infer.Draw) float64{
		"held":    func(d infer.Draw) float64 { return float64(d.Held) },
		"rise":    func(d infer.Draw) float64 { return float64(d.NO3Rise) },
		"fall":    func(d infer.Draw) float64 { return float64(d.KHFall) },
		"vapour":  func(d infer.Draw) float64 { return float64(d.Evaporation) },
		"co2":     func(d infer.Draw) float64 { return 1e6 * float64(d.PCO2) },
		"ammonia": func(d infer.Draw) float64 { return float64(d.FreeAmmonia()) },
	} {
		v, ok := b.BandOf(of)
		t.Logf("%-10s %8.4f  80 %% %8.4f to %8.4f", name, v.Median, v.Lo, v.Hi)
		if !ok || math.IsInf(v.High, 0) {
			t.Errorf("%s is not known", name)
		}
	}
	for _, d := range b.Doubtful {
		t.Logf("far: %s read %.2f to %.2f, expected %.2f to %.2f", d.Of.Label(), d.Shown.Lo, d.Shown.Hi, d.Expected.Lo, d.Expected.Hi)
	}
}

func BenchmarkRiverbank(b *testing.B) {
	w := riverbank(b)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := infer.Believe(w); err != nil {
			b.Fatal(err)
		}
	}
}
