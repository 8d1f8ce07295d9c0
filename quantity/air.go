package quantity

// Hectopascals is a pressure: of vapour, of the air. Unit: hPa.
type Hectopascals float64

// Kilopascals reads a pressure in kPa.
func (p Hectopascals) Kilopascals() float64 { return float64(p) / 10 }

// Atm reads a pressure in atm.
func (p Hectopascals) Atm() Atm { return Atm(p / 1013.25) }

// Humidity is relative humidity over water, RH. Unit: %.
type Humidity float64

// VapourDensity is the mass of water vapour in a volume of air, absolute humidity. Unit: g/m3.
type VapourDensity float64

// CubicMetres is a volume of air. Unit: m3.
type CubicMetres float64

// AirChanges is how often the air of a box is renewed. Unit: 1/h.
type AirChanges float64

// WattsPerKelvin is a conductance of heat, U A. Unit: W/K.
type WattsPerKelvin float64

// UVIndex is the erythemal UV index (ISO/CIE 17166; WHO): 40 times the weighted W/m2. No unit.
type UVIndex float64

// MetresPerSecond is a speed: of air over the water. Unit: m/s.
type MetresPerSecond float64
