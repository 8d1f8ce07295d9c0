package husbandry

import (
	"math"
	"testing"

	"halfwater/quantity"
)

// Fulton's condition factor, 100 g/cm3, of small slender fish lies about between 0.4 and 2.1 (from
// memory): masses and lengths of the table, each from memory, agree with each other.
func TestMassesOfFishFitTheirLengths(t *testing.T) {
	for _, s := range All() {
		mass, haveMass := s.Mass.Get()
		length, haveLength := s.Length.Get()
		if s.Group != Fish || !haveMass || !haveLength {
			continue
		}
		if k := 100 * float64(mass) / math.Pow(length.Centimetres(), 3); k < 0.4 || k > 2.1 {
			t.Errorf("%s: %g g at %g cm has a condition of %.2f", s.Common, mass, length.Centimetres(), k)
		}
	}
}

func TestFitsMouth(t *testing.T) {
	frog, fish := kept(t, "Vietnamese mossy frog")[0], kept(t, "Japanese rice fish")[0]
	if fits, known := fitsMouth(fish, frog); !fits || !known {
		t.Error("a rice fish does not fit a mossy frog")
	}
	if fits, _ := fitsMouth(frog, fish); fits {
		t.Error("a mossy frog fits a rice fish")
	}
	frog.Species.Gape = Known(quantity.Millimetres(9))
	if fits, known := fitsMouth(fish, frog); fits || !known {
		t.Error("a rice fish 10 mm deep fits a mouth of 9 mm")
	}
}
