package quantity

// Millimetres is a length or a height on the staff. Unit: mm. The staff is read in cm.
type Millimetres float64

// Centimetres gives a length from centimetres.
func Centimetres(cm float64) Millimetres { return Millimetres(cm * 10) }

// Centimetres reads a length in centimetres.
func (m Millimetres) Centimetres() float64 { return float64(m) / 10 }

// SquareMetres is an area: footprint, water surface. Unit: m2.
type SquareMetres float64

// Metres is an altitude above sea level. Unit: m.
type Metres float64
