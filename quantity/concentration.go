package quantity

// MgPerL is a mass concentration of a plain ion or gas that needs no basis: calcium, chloride,
// oxygen, chlorine as Cl2. Unit: mg/L.
type MgPerL float64

// Conductivity is electrical conductivity compensated to 25 C, EC. Unit: uS/cm.
type Conductivity float64

// PH is the negative decimal logarithm of the activity of H+ (molal scale). No unit.
type PH float64

// Atm is a partial pressure. Unit: atm (101 325 Pa).
type Atm float64

// Share is a fraction of a whole, 0 to 1.
type Share float64
