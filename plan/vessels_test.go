package plan

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"halfwater/enclosure"
	"halfwater/quantity"
)

// Half litres: the sum is right, no store is overdrawn, and each water is off its share by less than
// a half litre unless its store binds.
func TestHalfLitresSumUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 5).Draw(t, "waters")
		shares, most := make([]float64, n), make([]quantity.Litres, n)
		sum := 0.0
		for i := range shares {
			shares[i] = float64(rapid.IntRange(0, 100).Draw(t, "share"))
			sum += shares[i]
			most[i] = endless
		}
		if sum == 0 {
			return
		}
		for i := range shares {
			shares[i] /= sum
		}
		total := rapid.IntRange(1, 200).Draw(t, "half litres")
		limited := rapid.IntRange(-1, n-2).Draw(t, "limited")
		if limited >= 0 {
			most[limited] = quantity.Litres(shares[limited]*float64(total)/2) + 0.2
		}
		got, all := toHalves(total, shares, most), 0
		for i, k := range got {
			all += k
			if float64(k)/2 > float64(most[i])+1e-9 {
				t.Fatalf("%d half litres of a store of %v", k, most[i])
			}
			if off := math.Abs(float64(k) - shares[i]*float64(total)); limited < 0 && off >= 1 {
				t.Fatalf("%d half litres for %v", k, shares[i]*float64(total))
			}
		}
		if all != total {
			t.Fatalf("%v sums to %d, not %d", got, all, total)
		}
	})
}

// Fillings: as few as the best vessel allows, each as full as its neighbour to a half litre.
func TestFillingsAreFewAndEven(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		parts := []Part{
			{Source: "tap", Litres: quantity.Litres(rapid.IntRange(1, 60).Draw(t, "tap")) / 2},
			{Source: "RO", Litres: quantity.Litres(rapid.IntRange(1, 60).Draw(t, "RO")) / 2},
		}
		size := quantity.Litres(rapid.IntRange(2, 50).Draw(t, "vessel")) / 2
		got := fills(parts, []enclosure.Vessel{{Name: "bucket", Litres: size, Count: 2}, {Name: "jug", Litres: 1, Count: 1}})
		total := float64(parts[0].Litres + parts[1].Litres)
		best := min(size, carried)
		if want := int(math.Ceil(total/float64(best) - 1e-9)); len(got) != want {
			t.Fatalf("%d fillings of %v L for %v L, %d would do", len(got), best, total, want)
		}
		least, most := math.Inf(1), 0.0
		for _, f := range got {
			l := 0.0
			for _, p := range f.Parts {
				l += float64(p.Litres)
			}
			least, most = min(least, l), max(most, l)
		}
		if most-least > 0.5 || most > float64(best) {
			t.Fatalf("fillings from %v to %v L in %v", least, most, best)
		}
	})
}

// "2 buckets of 8 L: 5 RO + 3 tap."
func TestTwoBucketsOfEight(t *testing.T) {
	got := fills([]Part{{Source: "RO", Litres: 10}, {Source: "tap", Litres: 6}}, []enclosure.Vessel{{Name: "bucket", Litres: 8, Count: 2}})
	if len(got) != 2 {
		t.Fatalf("%+v", got)
	}
	for _, f := range got {
		if len(f.Parts) != 2 || f.Parts[0].Litres != 5 || f.Parts[1].Litres != 3 {
			t.Errorf("%+v, not 5 RO + 3 tap", f.Parts)
		}
	}
}
