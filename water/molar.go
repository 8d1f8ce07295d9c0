package water

// Molar masses that other packages turn mg/L into mmol/L with, g/mol.
const (
	MolarN   = atomN
	MolarP   = atomP
	MolarCl  = atomCl
	MolarSO4 = molarSO4
)

// Standard atomic weights, g/mol (Prohaska and others 2022, IUPAC 2021, abridged).
const (
	atomH  = 1.008
	atomC  = 12.011
	atomN  = 14.007
	atomO  = 15.999
	atomNa = 22.990
	atomMg = 24.305
	atomP  = 30.974
	atomS  = 32.06
	atomCl = 35.45
	atomK  = 39.098
	atomCa = 40.078

	molarSO4   = atomS + 4*atomO
	molarNO3   = atomN + 3*atomO
	molarNO2   = atomN + 2*atomO
	molarPO4   = atomP + 4*atomO
	molarHCO3  = atomH + atomC + 3*atomO
	molarCO2   = atomC + 2*atomO
	molarCaCO3 = atomCa + atomC + 3*atomO
	molarCl2   = 2 * atomCl
)
