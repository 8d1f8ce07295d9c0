package quantity

// One German degree of hardness is 10 mg CaO per litre (DIN 38409-6), so with the molar mass of
// CaO (56.0774 g/mol) 0.178326 mmol/L of Ca+Mg, and as alkalinity twice that in meq/L.
const (
	mmolPerDegree  = 10 / 56.0774
	meqPerDegree   = 2 * mmolPerDegree
	caCO3PerDegree = mmolPerDegree * 100.087 // mg CaCO3/L; 17.848
)

// Hardness is general hardness, GH: the sum of calcium and magnesium. Unit: German degree, dGH.
type Hardness float64

// HardnessMmol gives a hardness from mmol/L of Ca+Mg.
func HardnessMmol(mmolPerL float64) Hardness { return Hardness(mmolPerL / mmolPerDegree) }

// HardnessCaCO3 gives a hardness from mg/L as CaCO3 ("ppm" on many cards).
func HardnessCaCO3(mgPerL float64) Hardness { return Hardness(mgPerL / caCO3PerDegree) }

// Mmol reads a hardness in mmol/L of Ca+Mg.
func (h Hardness) Mmol() float64 { return float64(h) * mmolPerDegree }

// CaCO3 reads a hardness in mg/L as CaCO3.
func (h Hardness) CaCO3() float64 { return float64(h) * caCO3PerDegree }

// Alkalinity is acid capacity, read as carbonate hardness, KH: what a titration to about pH 4.5
// counts, organic and other weak acids included. Unit: German degree, dKH.
type Alkalinity float64

// AlkalinityMeq gives an alkalinity from meq/L.
func AlkalinityMeq(meqPerL float64) Alkalinity { return Alkalinity(meqPerL / meqPerDegree) }

// AlkalinityCaCO3 gives an alkalinity from mg/L as CaCO3.
func AlkalinityCaCO3(mgPerL float64) Alkalinity { return Alkalinity(mgPerL / caCO3PerDegree) }

// Meq reads an alkalinity in meq/L.
func (a Alkalinity) Meq() float64 { return float64(a) * meqPerDegree }

// CaCO3 reads an alkalinity in mg/L as CaCO3.
func (a Alkalinity) CaCO3() float64 { return float64(a) * caCO3PerDegree }
