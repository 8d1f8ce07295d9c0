package infer

import "math"

// phi is the chance that a standard normal lies below z.
func phi(z float64) float64 { return 0.5 * math.Erfc(-z/math.Sqrt2) }

// density is that of the standard normal.
func density(z float64) float64 { return math.Exp(-z*z/2) / math.Sqrt(2*math.Pi) }

// quantile is the inverse of phi; down to 1e-300 it keeps its digits, by Newton's rule on the logarithm.
func quantile(p float64) float64 {
	if p > 1e-6 {
		return math.Sqrt2 * math.Erfinv(2*p-1)
	}
	z := -math.Sqrt(-2 * math.Log(p))
	for range 6 {
		chance := phi(z)
		z -= math.Log(chance/p) * chance / density(z)
	}
	return z
}

// cut gives the chance that a normal variable lies between lo and hi, and its mean and variance when
// it does. Ends may be infinite. Where the chance is too small to be told from nothing the nearer end
// stands in for the mean.
func cut(mean, sd, lo, hi float64) (chance, m, v float64) {
	a, b := (lo-mean)/sd, (hi-mean)/sd
	flip := a > 0 // work in the tail in which differences keep their digits
	if flip {
		a, b = -b, -a
	}
	chance = phi(b) - phi(a)
	if chance < 1e-200 || math.IsNaN(chance) {
		near := math.Max(math.Min(mean, hi), lo)
		return 0, near, 0
	}
	da, db := density(a), density(b)
	shift := (da - db) / chance
	tail := 0.0
	if !math.IsInf(a, 0) {
		tail += a * da
	}
	if !math.IsInf(b, 0) {
		tail -= b * db
	}
	v = sd * sd * math.Max(1+tail/chance-shift*shift, 1e-9)
	if flip {
		shift = -shift
	}
	return chance, mean + sd*shift, v
}

// above cuts a normal value at a floor by its rank: it keeps its place among the values that may be,
// and what lies well above the floor stays where it is.
func above(x, mean, sd, floor float64) float64 {
	if sd <= 0 || (mean-floor)/sd > 6 {
		return math.Max(x, floor)
	}
	const tiny = 1e-300 // under it quantile has no digits
	under := (floor - mean) / sd
	rank := phi(-(x - mean) / sd) // from above, which keeps its digits
	if under > 30 {               // so far out the normal falls off as an exponential
		return floor - sd/under*math.Log(math.Max(rank, tiny))
	}
	return math.Max(mean-sd*quantile(math.Max(rank*phi(-under), tiny)), floor)
}
