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
