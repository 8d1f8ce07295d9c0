package infer

import "math"

// Conductivity does not mix by litres: a water diluted by half keeps more than half, because its
// ions hinder each other less. Kohlrausch's square root law says by how much, and its one number is
// fitted to the hard reference tap of the trade (577 uS/cm; half of it with pure water reads 7 % over
// half, a quarter 12 % over a quarter, by McCleskey and others 2012). strength is the conductivity as
// if ions did not hinder each other, and that does mix.
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
