package water

import (
	"testing"

	"halfwater/quantity"
)

// hardTap is the reference hard tap of our tests: GH 14.0, KH 9.25.
var hardTap = Composition{Temperature: 25, Ca: 2, Mg: 0.5, Na: 1, K: 0.05, Cl: 1.2, SO4: 0.6, NO3: 0.35, Alk: 3.3}

// fullTank has every component, and is none of the temperatures of the table of constants.
var fullTank = Composition{Temperature: 23.37, Ca: 1.6, Mg: 0.6, Na: 2.1, K: 0.2, Cl: 2.1, SO4: 0.8, NO3: 0.9, NO2: 0.01, TAN: 0.05, PO4: 0.02, Alk: 2.12, DOC: 6}

var sink Speciation

func BenchmarkGivenPH(b *testing.B) {
	benchmark(b, func(c Composition) (Speciation, error) { return GivenPH(c, 7.4) })
}

func BenchmarkOpen(b *testing.B) {
	benchmark(b, func(c Composition) (Speciation, error) { return Open(c, 2e-3) })
}

func BenchmarkClosed(b *testing.B) {
	benchmark(b, func(c Composition) (Speciation, error) { return Closed(c, Molality(c.Alk)*1.08) })
}

func benchmark(b *testing.B, f func(Composition) (Speciation, error)) {
	for _, c := range []struct {
		name string
		c    Composition
	}{{"tap", hardTap}, {"tank", fullTank}} {
		b.Run(c.name, func(b *testing.B) {
			b.ReportAllocs()
			for i := range b.N {
				w := c.c
				w.Temperature += quantity.Celsius(i&7) * 0.3
				var err error
				if sink, err = f(w); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

var sinkEC Uncompensated

func BenchmarkConductivity(b *testing.B) {
	s, err := Open(fullTank, 2e-3)
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for range b.N {
		sinkEC = s.EC()
	}
}

func BenchmarkBatch(b *testing.B) {
	poses := make([]Pose, 10000)
	for i := range poses {
		c := fullTank
		c.Temperature = quantity.Celsius(i % 40)
		poses[i] = Pose{Composition: c, PCO2: Stated(quantity.Atm(1e-3))}
	}
	b.ResetTimer()
	for range b.N {
		Model{}.Batch(poses)
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(len(poses)), "ns/water")
}
