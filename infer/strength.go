package infer

import "math"

// Conductivity does not mix by litres: a water diluted by half keeps more than half, because its
// ions hinder each other less. Kohlrausch's square root law says by how much; its one number is fitted
// to what package water makes of a hard tap (half of it with pure water reads 3 % over half, a quarter
// 5 % over a quarter). strength is the conductivity as if ions did not hinder each other, and that
// does mix.
func strength(ec float64) float64 {
	if ec <= 0 {
		return 0
	}
	s := kohlrausch * ec
	root := (s + math.Sqrt(s*s+4*ec)) / 2
	return root * root
}

// conducted is the inverse of strength.
func conducted(strength float64) float64 {
	if strength <= 0 {
		return 0
	}
	return strength / (1 + kohlrausch*math.Sqrt(strength))
}

var kohlrausch = constants.Value("ec.root")
