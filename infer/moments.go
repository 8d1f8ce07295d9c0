package infer

import "math"

// middling is the arithmetic mean of some numbers.
func middling(x []float64) float64 {
	sum := 0.0
	for _, v := range x {
		sum += v
	}
	return sum / float64(len(x))
}

// covariance of two rows of as many numbers.
func covariance(a, b []float64) float64 {
	ma, mb := middling(a), middling(b)
	sum := 0.0
	for i := range a {
		sum += (a[i] - ma) * (b[i] - mb)
	}
	return sum / float64(len(a))
}

// spread is the standard deviation of numbers.
func spread(x []float64) float64 { return math.Sqrt(covariance(x, x)) }

// correlation is that of two rows of numbers, 0 where one does not move.
func correlation(a, b []float64) float64 {
	if r := covariance(a, b) / (spread(a) * spread(b)); !math.IsNaN(r) {
		return r
	}
	return 0
}
