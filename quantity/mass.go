package quantity

// Grams is a mass. Unit: g.
type Grams float64

// Milligrams gives a mass from milligrams.
func Milligrams(mg float64) Grams { return Grams(mg / 1000) }

// Milligrams reads a mass in milligrams.
func (g Grams) Milligrams() float64 { return float64(g) * 1000 }

// MgNPerDay is a load of nitrogen put in. Unit: mg N/d.
type MgNPerDay float64

// Watts is a power. Unit: W.
type Watts float64
