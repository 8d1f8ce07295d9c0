package quantity

// Litres is a volume of water that is handled: a bucket, a change, a top-up. Unit: L.
type Litres float64

// GrossLitres is the volume of an empty basin up to a height: what the label counts. Unit: L.
type GrossLitres float64

// HeldLitres is the water really in the box, with bed, stone, wood and fittings in place. Unit: L.
// Doses, shares of a change and loads are per held litre, never per gross litre.
type HeldLitres float64

// USGallons gives a volume from US liquid gallons (3.785411784 L exactly; NIST SP 811, App. B).
func USGallons(g float64) Litres { return Litres(g * 3.785411784) }

// ImperialGallons gives a volume from imperial gallons (4.54609 L exactly; NIST SP 811, App. B).
func ImperialGallons(g float64) Litres { return Litres(g * 4.54609) }

// USGallons reads a volume in US liquid gallons.
func (l Litres) USGallons() float64 { return float64(l) / 3.785411784 }

// ImperialGallons reads a volume in imperial gallons.
func (l Litres) ImperialGallons() float64 { return float64(l) / 4.54609 }

// LitresPerDay is a rate of loss or supply of water. Unit: L/d.
type LitresPerDay float64
