package water

import (
	"math"

	"halfwater/quantity"
)

// The constants that depend on temperature alone. Between grid points they are read by a cubic
// through four points; against the equations themselves that is good to 1e-8 relative (tested),
// a ten-thousandth of what the constants are known to.
const (
	iK1     = iota // CO2 = H + HCO3
	iInvK2         // 1/K2: H + CO3 = HCO3
	iInvK12        // 1/(K1 K2): 2 H + CO3 = CO2
	iHenry
	iKw
	iCalcite
	iAragonite
	iVaterite
	iGypsum
	iCaHCO3 // with CO3 + H, as the next ones that end in HCO3
	iMgHCO3
	iNaHCO3
	iCaCO3
	iMgCO3
	iNaCO3
	iCaSO4
	iMgSO4
	iNaSO4
	iKSO4
	iNH4SO4
	iHSO4
	iCaOH
	iMgOH
	iHPO4
	iH2PO4
	iH3PO4
	iCaPO4
	iMgPO4
	iCaHPO4 // with PO4 + H
	iMgHPO4
	iNaHPO4
	iKHPO4
	iCaH2PO4 // with PO4 + 2 H
	iMgH2PO4
	iNH4 // acid constant of NH4+, Emerson
	iNH4Parkhurst
	iA
	iB
	thermals
)

type thermal [thermals]float64

// thermalAt computes the row at a temperature from the tables of constants.
func thermalAt(t quantity.Celsius) (r thermal) {
	T := t.Kelvin()
	lg := func(name string) float64 { return logK(name, T) }
	p := func(x float64) float64 { return math.Pow(10, x) }
	k1, k2 := lg("K1"), lg("K2")
	h1, h2 := lg("HPO4"), lg("H2PO4")
	r[iK1], r[iInvK2], r[iInvK12] = p(k1), p(-k2), p(-k1-k2)
	r[iHenry], r[iKw] = p(lg("KH")), p(lg("Kw"))
	r[iCalcite], r[iAragonite], r[iVaterite], r[iGypsum] = p(lg("calcite")), p(lg("aragonite")), p(lg("vaterite")), p(lg("gypsum"))
	r[iCaHCO3], r[iMgHCO3], r[iNaHCO3] = p(lg("CaHCO3")-k2), p(lg("MgHCO3")-k2), p(lg("NaHCO3")-k2)
	r[iCaCO3], r[iMgCO3], r[iNaCO3] = p(lg("CaCO3")), p(lg("MgCO3")), p(lg("NaCO3"))
	r[iCaSO4], r[iMgSO4], r[iNaSO4], r[iKSO4] = p(lg("CaSO4")), p(lg("MgSO4")), p(lg("NaSO4")), p(lg("KSO4"))
	r[iNH4SO4], r[iHSO4], r[iCaOH], r[iMgOH] = p(lg("NH4SO4")), p(lg("HSO4")), p(lg("CaOH")), p(lg("MgOH"))
	r[iHPO4], r[iH2PO4], r[iH3PO4] = p(h1), p(h2), p(lg("H3PO4"))
	r[iCaPO4], r[iMgPO4] = p(lg("CaPO4")), p(lg("MgPO4"))
	r[iCaHPO4], r[iMgHPO4] = p(lg("CaHPO4")+h1), p(lg("MgHPO4")+h1)
	r[iNaHPO4], r[iKHPO4] = p(lg("NaHPO4")+h1), p(lg("KHPO4")+h1)
	r[iCaH2PO4], r[iMgH2PO4] = p(lg("CaH2PO4")+h2), p(lg("MgH2PO4")+h2)
	r[iNH4], r[iNH4Parkhurst] = p(lg("NH4 Emerson")), p(lg("NH4 Parkhurst"))
	r[iA], r[iB] = debyeHuckel(T)
	return r
}

const gridStep = 0.25 // C

var thermalGrid = func() []thermal {
	n := int((highestCelsius-lowestCelsius)/gridStep) + 3 // one beyond either end
	grid := make([]thermal, n)
	for i := range grid {
		grid[i] = thermalAt(quantity.Celsius(lowestCelsius + gridStep*float64(i-1)))
	}
	return grid
}()

// read fills r for a temperature inside the span of the package.
func (r *thermal) read(t quantity.Celsius) {
	x := (float64(t) - lowestCelsius) / gridStep
	i := min(int(x), len(thermalGrid)-4)
	u := x - float64(i) // 0 to 1 between the middle points
	a, b, c, d := &thermalGrid[i], &thermalGrid[i+1], &thermalGrid[i+2], &thermalGrid[i+3]
	wa := -u * (u - 1) * (u - 2) / 6
	wb := (u + 1) * (u - 1) * (u - 2) / 2
	wc := -(u + 1) * u * (u - 2) / 2
	wd := (u + 1) * u * (u - 1) / 6
	for k := range r {
		r[k] = wa*a[k] + wb*b[k] + wc*c[k] + wd*d[k]
	}
}
