package quantity

// Molar masses in g/mol, IUPAC 2021 abridged standard atomic weights (N 14.007, P 30.974,
// O 15.999, H 1.008).
const (
	molarN   = 14.007
	molarP   = 30.974
	molarNO3 = 14.007 + 3*15.999
	molarNO2 = 14.007 + 2*15.999
	molarNH4 = 14.007 + 4*1.008
	molarNH3 = 14.007 + 3*1.008
	molarPO4 = 30.974 + 4*15.999
)

// Basis says what a mass concentration counts. The same number as NO3 or as N differs by 4.43.
type Basis string

// The bases in use. The empty basis means that none was stated.
const (
	NoBasis Basis = ""
	// NotStated is an answer: the question was asked, and neither card nor leaflet says.
	NotStated Basis = "not stated"
	AsN       Basis = "as N"
	AsP       Basis = "as P"
	AsNO3     Basis = "as NO3"
	AsNO2     Basis = "as NO2"
	AsNH4     Basis = "as NH4"
	AsNH3     Basis = "as NH3"
	AsPO4     Basis = "as PO4"
	AsCl2     Basis = "as Cl2"
)

// TotalAmmonia is NH3 plus NH4+, TAN. Unit: mg N/L.
type TotalAmmonia float64

// FreeAmmonia is un-ionised ammonia, NH3. Unit: mg N/L.
type FreeAmmonia float64

// Nitrite. Unit: mg N/L.
type Nitrite float64

// Nitrate. Unit: mg N/L.
type Nitrate float64

// Phosphate. Unit: mg P/L.
type Phosphate float64

// NitrateAsNO3 gives a nitrate from mg NO3/L.
func NitrateAsNO3(mgPerL float64) Nitrate { return Nitrate(mgPerL * molarN / molarNO3) }

// AsNO3 reads a nitrate in mg NO3/L.
func (n Nitrate) AsNO3() float64 { return float64(n) * molarNO3 / molarN }

// NitriteAsNO2 gives a nitrite from mg NO2/L.
func NitriteAsNO2(mgPerL float64) Nitrite { return Nitrite(mgPerL * molarN / molarNO2) }

// AsNO2 reads a nitrite in mg NO2/L.
func (n Nitrite) AsNO2() float64 { return float64(n) * molarNO2 / molarN }

// TotalAmmoniaAsNH4 gives a total ammonia from mg NH4/L.
func TotalAmmoniaAsNH4(mgPerL float64) TotalAmmonia { return TotalAmmonia(mgPerL * molarN / molarNH4) }

// AsNH4 reads a total ammonia in mg NH4/L.
func (t TotalAmmonia) AsNH4() float64 { return float64(t) * molarNH4 / molarN }

// AsNH3 reads a free ammonia in mg NH3/L.
func (f FreeAmmonia) AsNH3() float64 { return float64(f) * molarNH3 / molarN }

// perElement is the number by which a concentration on this basis is multiplied to count the
// element (N or P) alone.
func (b Basis) perElement() (float64, bool) {
	switch b {
	case AsN, AsP, AsCl2:
		return 1, true
	case AsNO3:
		return molarN / molarNO3, true
	case AsNO2:
		return molarN / molarNO2, true
	case AsNH4:
		return molarN / molarNH4, true
	case AsNH3:
		return molarN / molarNH3, true
	case AsPO4:
		return molarP / molarPO4, true
	}
	return 0, false
}
