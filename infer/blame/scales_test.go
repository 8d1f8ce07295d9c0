package blame

import (
	"math"
	"testing"

	"halfwater/infer/fit"
)

// lnNormal is the log density of a normal.
func lnNormal(x, mean, variance float64) float64 {
	return -square(x-mean)/(2*variance) - math.Log(2*math.Pi*variance)/2
}

// TestScales are charges whose weight is known: two points of the same water, 0 and 4, each with an error of sd 1,
// of a water that is 0 with sd 1 beforehand. By the first the second is to be 0, with variance 1/2 + 1.
func TestScales(t *testing.T) {
	point := func(x float64) fit.Reading {
		return fit.Reading{Lo: x, Hi: x, SD: 1, Classes: 10, Point: true, Lot: -1, Wander: -1}
	}
	s, ok := scalesOf([]fit.Reading{point(0), point(4)}, fit.Sight{Seen: make([]float64, 2), Mean: make([]float64, 2), Cov: [][]float64{{1, 1}, {1, 1}}})
	if !ok {
		t.Fatal("does not settle")
	}
	second := []int{1}
	null := lnNormal(4, 0, 1.5)
	for _, c := range []struct {
		name string
		is   charge
		want float64
	}{
		{"a bias of sd 3", charge{lines: second, loads: []float64{1}, sd: 3}, lnNormal(4, 0, 10.5) - null},
		{"one in ten", charge{lines: second, odd: true}, math.Log(0.1) - null},
		{"what it shows is half as much: the kit sees twice the water", charge{lines: second, times: 0.5}, lnNormal(4, 0, 0.5*4+1) - null},
		{"3 came with the water, for the second", charge{shift: []float64{0, 3}}, lnNormal(4, 3, 1.5) - null},
		{"3 came with the water, for both", charge{shift: []float64{3, 3}}, lnNormal(0, 3, 2) + lnNormal(4, 1.5, 1.5) - lnNormal(0, 0, 2) - null},
	} {
		if got := s.told(second, &c.is); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%s: %.4f, want %.4f", c.name, got, c.want)
		}
	}
	after, ok := s.found(&charge{lines: second, odd: true})
	if !ok {
		t.Fatal("does not settle")
	}
	if got := after.told(second, &charge{lines: second, loads: []float64{1}, sd: 3}); math.Abs(got) > 1e-4 {
		t.Errorf("a reading that says nothing still speaks of its lot: %g", got)
	}
}
