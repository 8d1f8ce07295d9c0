package dynamics

import (
	"slices"

	"halfwater/quantity"
)

// fitNight finds exchange and demand by least squares of dO/dt = k (Cs - O) - R over a night, with
// k held between 0.5 and 30 /d.
func fitNight(n int, at func(i int) (day, o2, sat float64)) Breathing {
	var sx, sy, sxx, sxy, w float64
	for i := 1; i < n; i++ {
		d0, o0, s0 := at(i - 1)
		d1, o1, s1 := at(i)
		x, y := (s0+s1)/2-(o0+o1)/2, (o1-o0)/(d1-d0)
		sx, sy, sxx, sxy, w = sx+x, sy+y, sxx+x*x, sxy+x*y, w+1
	}
	k := 5.0
	if v := sxx - sx*sx/w; v > 1e-6 {
		k = min(max((sxy-sx*sy/w)/v, 0.5), 30)
	}
	return Breathing{Exchange: quantity.PerDay(k), Demand: -(sy - k*sx) / w}
}

func median(x []float64) float64 {
	s := slices.Clone(x)
	slices.Sort(s)
	return s[len(s)/2]
}
