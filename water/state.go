package water

import "math"

// state is the kernel: one water while its balances are being closed. Amounts are mol/kg.
//
// The unknowns are activities: of the cations, of the anions that pair with them, of H+ (h).
// Every species is a product of activities times a constant in which the inverse of its own
// activity coefficient is already folded ("conditional" constants, lowercase c).
type state struct {
	thermal
	model Model

	// totals
	ca, mg, na, k, tan, so4, po4, alk, doc float64
	plain                                  float64 // Cl + NO3 + NO2: ions that pair with nothing

	water float64 // activity of water; pairs and CO2 make no difference to it here

	// unknowns
	h, strength             float64
	aCa, aMg, aNa, aK, aNH4 float64
	aCO3, aSO4, aPO4        float64
	dCa, dMg, dNa, dK, dNH4 float64 // total per activity of each cation, at the last pass

	// inverse activity coefficients
	gH, gOH, gCa, gMg, gNa, gK, gNH4, gSO4, gHCO3, gMgHCO3, gNone float64

	// conditional constants
	cCO3, cHCO3, cCO2                      float64
	cCaHCO3, cMgHCO3, cNaHCO3              float64
	cCaCO3, cMgCO3, cNaCO3                 float64
	cCaSO4, cMgSO4, cNaSO4, cKSO4, cNH4SO4 float64
	cHSO4, cCaOH, cMgOH, cOH, cNH3         float64
	cPO4, cHPO4, cH2PO4, cH3PO4            float64
	cCaPO4, cCaHPO4, cCaH2PO4              float64
	cMgPO4, cMgHPO4, cMgH2PO4              float64
	cNaHPO4, cKHPO4                        float64

	// sums per anion activity, for the present cations
	bic, car       float64 // of carbonate: bicarbonates per h, carbonates
	p0, p1, p2, p3 float64 // of phosphate, per power of h
	s0             float64 // of sulfate without HSO4-
	n4             float64 // of NH4+, pairs included
}

var sizes = struct{ h, oh, ca, mg, na, k, so4, hco3, nh4, mghco3, cahco3, hpo4, h2po4, bCa, bMg, bNa, bK, bSO4, bNone float64 }{
	activityTab.Value("H, a"), activityTab.Value("OH, a"), activityTab.Value("Ca, a"), activityTab.Value("Mg, a"),
	activityTab.Value("Na, a"), activityTab.Value("K, a"), activityTab.Value("SO4, a"), activityTab.Value("HCO3, a"),
	activityTab.Value("NH4, a"), activityTab.Value("MgHCO3, a"), activityTab.Value("CaHCO3, a"), activityTab.Value("HPO4, a"), activityTab.Value("H2PO4, a"),
	math.Ln10 * activityTab.Value("Ca, b"), math.Ln10 * activityTab.Value("Mg, b"), math.Ln10 * activityTab.Value("Na, b"),
	math.Ln10 * activityTab.Value("K, b"), math.Ln10 * activityTab.Value("SO4, b"), math.Ln10 * activityTab.Value("uncharged, b"),
}

// set takes over a composition and puts the unknowns where no pairs are.
func (w *state) set(c *Composition, m Model) {
	w.model = m
	w.read(c.Temperature)
	w.ca, w.mg, w.na, w.k = 1e-3*float64(c.Ca), 1e-3*float64(c.Mg), 1e-3*float64(c.Na), 1e-3*float64(c.K)
	w.tan, w.so4, w.po4 = 1e-3*float64(c.TAN), 1e-3*float64(c.SO4), 1e-3*float64(c.PO4)
	w.plain = 1e-3 * float64(c.Cl+c.NO3+c.NO2)
	w.alk, w.doc = 1e-3*float64(c.Alk), 1e-3*float64(c.DOC)
	w.solvent(1 - waterPerMol*(w.ca+w.mg+w.so4+w.na+w.k+w.tan+w.plain+w.po4+math.Abs(w.alk)))
	w.strength = 0.5 * (4*(w.ca+w.mg+w.so4) + w.na + w.k + w.tan + w.plain + w.po4 + math.Abs(w.alk))
	w.activities()
	w.aCa, w.aMg, w.aNa, w.aK, w.aNH4 = w.ca/w.gCa, w.mg/w.gMg, w.na/w.gNa, w.k/w.gK, w.tan/w.gNH4
	w.aSO4 = w.so4 / (w.gSO4 + (w.aCa*w.cCaSO4 + w.aMg*w.cMgSO4))
}

// solvent puts the activity of water into the constants of the reactions that use it up.
func (w *state) solvent(a float64) {
	w.water = a
	w.thermal[iInvK12] /= a
	w.thermal[iKw] *= a
	w.thermal[iCaOH] *= a
	w.thermal[iMgOH] *= a
}

var waterPerMol = activityTab.Value("water, per mol")

// activities puts the activity coefficients for the present ionic strength into the constants.
func (w *state) activities() {
	i := w.strength
	s := math.Sqrt(i)
	a, b := math.Ln10*w.thermal[iA]*s, w.thermal[iB]*s
	w.gH = expSmall(a / (1 + b*sizes.h))
	w.gOH = expSmall(a / (1 + b*sizes.oh))
	w.gCa = expSmall(4*a/(1+b*sizes.ca) - sizes.bCa*i)
	w.gMg = expSmall(4*a/(1+b*sizes.mg) - sizes.bMg*i)
	w.gNa = expSmall(a/(1+b*sizes.na) - sizes.bNa*i)
	w.gK = expSmall(a/(1+b*sizes.k) - sizes.bK*i)
	w.gSO4 = expSmall(4*a/(1+b*sizes.so4) - sizes.bSO4*i)
	w.gHCO3 = expSmall(a / (1 + b*sizes.hco3))
	w.gNH4 = expSmall(a / (1 + b*sizes.nh4))
	w.gMgHCO3 = expSmall(a / (1 + b*sizes.mghco3))
	w.gNone = expSmall(-sizes.bNone * i)

	k, one, none := &w.thermal, w.gHCO3, w.gNone
	w.cCO3 = one * one * one * one
	w.cHCO3, w.cCO2 = k[iInvK2]*one, k[iInvK12]*none
	w.cCaHCO3, w.cMgHCO3, w.cNaHCO3 = k[iCaHCO3]*expSmall(a/(1+b*sizes.cahco3)), k[iMgHCO3]*w.gMgHCO3, k[iNaHCO3]*none
	w.cCaCO3, w.cMgCO3, w.cNaCO3 = k[iCaCO3]*none, k[iMgCO3]*none, k[iNaCO3]*one
	w.cCaSO4, w.cMgSO4, w.cNaSO4, w.cKSO4, w.cNH4SO4 = k[iCaSO4]*none, k[iMgSO4]*none, k[iNaSO4]*one, k[iKSO4]*one, k[iNH4SO4]*one
	w.cHSO4, w.cCaOH, w.cMgOH, w.cOH = k[iHSO4]*one, k[iCaOH]*one, k[iMgOH]*one, k[iKw]*w.gOH
	w.cNH3 = k[iNH4+int(w.model.Ammonia)] * none
	if w.po4 > 0 {
		two := w.gMgHCO3 * w.gMgHCO3
		two *= two
		w.cPO4, w.cH3PO4 = two*two*w.gMgHCO3, k[iH3PO4]*none
		w.cHPO4 = k[iHPO4] * expSmall(4*a/(1+b*sizes.hpo4))
		w.cH2PO4 = k[iH2PO4] * expSmall(a/(1+b*sizes.h2po4))
		w.cCaPO4, w.cCaHPO4, w.cCaH2PO4 = k[iCaPO4]*one, k[iCaHPO4]*none, k[iCaH2PO4]*one
		w.cMgPO4, w.cMgHPO4, w.cMgH2PO4 = k[iMgPO4]*one, k[iMgHPO4]*none, k[iMgH2PO4]*one
		w.cNaHPO4, w.cKHPO4 = k[iNaHPO4]*one, k[iKHPO4]*one
	}
}

// sums gathers, for the present cations, what one unit of each anion's activity carries.
func (w *state) sums() {
	w.bic = w.cHCO3 + w.cCaHCO3*w.aCa + w.cMgHCO3*w.aMg + w.cNaHCO3*w.aNa
	w.car = w.cCO3 + w.cCaCO3*w.aCa + w.cMgCO3*w.aMg + w.cNaCO3*w.aNa
	w.s0 = w.gSO4 + w.cCaSO4*w.aCa + w.cMgSO4*w.aMg + w.cNaSO4*w.aNa + w.cKSO4*w.aK + w.cNH4SO4*w.aNH4
	if w.po4 > 0 {
		w.p0 = w.cPO4 + w.cCaPO4*w.aCa + w.cMgPO4*w.aMg
		w.p1 = w.cHPO4 + w.cCaHPO4*w.aCa + w.cMgHPO4*w.aMg + w.cNaHPO4*w.aNa + w.cKHPO4*w.aK
		w.p2 = w.cH2PO4 + w.cCaH2PO4*w.aCa + w.cMgH2PO4*w.aMg
		w.p3 = w.cH3PO4
	}
	w.n4 = w.gNH4 + w.cNH4SO4*w.aSO4
}

// others is the alkalinity that is not carbonate, for the present sums, at h, and its slope with
// ln h, which is never positive: every term falls or stays as h grows.
func (w *state) others(h float64) (alk, slope float64) {
	inv := 1 / h
	oh := (w.cOH + w.cCaOH*w.aCa + w.cMgOH*w.aMg) * inv
	acid := h * w.gH
	alk, slope = oh-acid, -oh-acid
	if w.so4 > 0 {
		s1 := w.cHSO4 * h
		f := s1 / (w.s0 + s1)
		alk -= w.so4 * f
		slope -= w.so4 * f * (1 - f)
	}
	if w.tan > 0 {
		n3 := w.cNH3 * inv
		f := n3 / (w.n4 + n3)
		alk += w.tan * f
		slope -= w.tan * f * (1 - f)
	}
	if w.po4 > 0 {
		p1 := w.p1 * h
		p2 := w.p2 * h * h
		p3 := w.p3 * h * h * h
		sum := 1 / (w.p0 + p1 + p2 + p3)
		z := (2*w.p0 + p1 - p3) * sum
		zz := (4*w.p0 + p1 + p3) * sum
		alk += w.po4 * z
		slope -= w.po4 * (zz - z*z)
	}
	if w.doc > 0 {
		q, dq := organicCharge(w.model.Organic, h)
		alk += w.doc * q
		slope += w.doc * dq
	}
	return alk, slope
}

// anions settles the anions for the present sums and h; the carbonate is set by the pose.
func (w *state) anions() {
	w.aSO4 = w.so4 / (w.s0 + w.cHSO4*w.h)
	if w.po4 > 0 {
		w.aPO4 = w.po4 / (w.p0 + w.h*(w.p1+w.h*(w.p2+w.h*w.p3)))
	}
}

// cations settles the cations for the present anions and h. It returns the largest relative move.
func (w *state) cations() float64 {
	h, inv := w.h, 1/w.h
	c, s, p := w.aCO3, w.aSO4, w.aPO4
	dCa := w.gCa + c*(h*w.cCaHCO3+w.cCaCO3) + s*w.cCaSO4 + inv*w.cCaOH
	dMg := w.gMg + c*(h*w.cMgHCO3+w.cMgCO3) + s*w.cMgSO4 + inv*w.cMgOH
	dNa := w.gNa + c*(h*w.cNaHCO3+w.cNaCO3) + s*w.cNaSO4
	dK := w.gK + s*w.cKSO4
	dN := w.gNH4 + inv*w.cNH3 + s*w.cNH4SO4
	if p > 0 {
		dCa += p * (w.cCaPO4 + h*(w.cCaHPO4+h*w.cCaH2PO4))
		dMg += p * (w.cMgPO4 + h*(w.cMgHPO4+h*w.cMgH2PO4))
		dNa += p * h * w.cNaHPO4
		dK += p * h * w.cKHPO4
	}
	iCa, iMg, iNa, iK, iN := 1/dCa, 1/dMg, 1/dNa, 1/dK, 1/dN
	move := max(math.Abs(dCa-w.dCa)*iCa, math.Abs(dMg-w.dMg)*iMg, math.Abs(dNa-w.dNa)*iNa, math.Abs(dK-w.dK)*iK, math.Abs(dN-w.dNH4)*iN)
	w.dCa, w.dMg, w.dNa, w.dK, w.dNH4 = dCa, dMg, dNa, dK, dN
	w.aCa, w.aMg, w.aNa, w.aK, w.aNH4 = w.ca*iCa, w.mg*iMg, w.na*iNa, w.k*iK, w.tan*iN
	return move
}

// measureStrength is the ionic strength, 0.5 sum m z^2, of the present species. Organic anions
// are left out, as their acids' constants are conditional.
func (w *state) measureStrength() float64 {
	h, inv := w.h, 1/w.h
	c, p := w.aCO3, w.aPO4
	two := w.aCa*w.gCa + w.aMg*w.gMg + w.aSO4*w.gSO4 + c*w.cCO3
	one := h*w.gH + inv*w.cOH + w.plain + w.na + w.k + c*h*w.cHCO3 + w.aSO4*h*w.cHSO4
	one -= w.aNa * c * h * w.cNaHCO3
	one += w.tan - w.aNH4*inv*w.cNH3
	one += w.aCa*(c*h*w.cCaHCO3+inv*w.cCaOH) + w.aMg*(c*h*w.cMgHCO3+inv*w.cMgOH)
	if p > 0 {
		one += p * (9*w.cPO4 + w.aCa*(w.cCaPO4+h*h*w.cCaH2PO4) + w.aMg*(w.cMgPO4+h*h*w.cMgH2PO4) + h*h*w.cH2PO4)
		two += p * h * w.cHPO4
	}
	return 0.5 * (one + 4*two)
}
