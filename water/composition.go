package water

import (
	"math"

	"halfwater/quantity"
)

// Molality is an amount per kilogram of water. Unit: mmol/kg (taken equal to mmol/L).
type Molality float64

// Equivalents is an amount of charge per kilogram of water. Unit: meq/kg.
type Equivalents float64

// Composition is what a water holds per kilogram, at one temperature: totals, whatever their
// form. Its carbon dioxide is not part of it (see [GivenPH], [Open], [Closed]).
//
// Alk is the alkalinity with the reference level CO2, NH4+, H2PO4- and uncharged organic acid,
// so that the charges agree:
//
//	Alk = 2 Ca + 2 Mg + Na + K + TAN - Cl - 2 SO4 - NO3 - NO2 - PO4
//
// and CO2 coming or going, or organic acid arriving, leaves it as it is. A titration counts a
// little less when organic acids are there: see [Composition.KH] and [FromTitration].
// The functions that speciate take Alk as it is given; [Composition.ChargeImbalance] says how
// well it agrees with the ions.
type Composition struct {
	Temperature quantity.Celsius

	Ca, Mg, Na, K, Cl, SO4, NO3, NO2 Molality
	TAN                              Molality // NH3 + NH4+, mmol N/kg
	PO4                              Molality // all orthophosphate, mmol P/kg

	Alk Equivalents     // meq/kg
	DOC quantity.MgPerL // dissolved organic carbon as organic acid, mg C/L
}

// GH is the general hardness, Ca + Mg.
func (c Composition) GH() quantity.Hardness { return quantity.HardnessMmol(float64(c.Ca + c.Mg)) }

// KH is the alkalinity as a titration to pH 4.5 counts it (ISO 9963-1): bicarbonate and
// carbonate, and whatever of ammonia, phosphate and organic acids takes up acid down to there.
// The acid still free at the end point is not counted, as a kit's own blank is not. Organic acid
// already charged at pH 4.5 is therefore missing from a titrated KH: 0.05 meq/L per 10 mg/L DOC.
func (c Composition) KH() quantity.Alkalinity {
	return quantity.AlkalinityMeq(float64(c.Alk - endPointCharge(c.DOC)))
}

// FromTitration is the alkalinity Alk of a water whose titrated KH was kh and whose DOC is doc.
// It is the inverse of [Composition.KH].
func FromTitration(kh quantity.Alkalinity, doc quantity.MgPerL) Equivalents {
	return Equivalents(kh.Meq()) + endPointCharge(doc)
}

// StrongIonBalance is the alkalinity that the ions leave by electroneutrality, meq/kg.
func (c Composition) StrongIonBalance() Equivalents {
	return Equivalents(2*c.Ca + 2*c.Mg + c.Na + c.K + c.TAN - c.Cl - 2*c.SO4 - c.NO3 - c.NO2 - c.PO4)
}

// ChargeImbalance is what is left over: cations minus anions, alkalinity counted as an anion, and
// that as a share of the sum of both, as hydrochemists report it (Standard Methods 1030 E, from
// memory). Zero for an electroneutral composition.
func (c Composition) ChargeImbalance() (excess Equivalents, share quantity.Share) {
	cations := Equivalents(2*c.Ca+2*c.Mg+c.Na+c.K+c.TAN) + max(-c.Alk, 0)
	anions := Equivalents(c.Cl+2*c.SO4+c.NO3+c.NO2+c.PO4) + max(c.Alk, 0)
	excess = c.StrongIonBalance() - c.Alk
	if sum := cations + anions; sum > 0 {
		share = quantity.Share(excess / sum)
	}
	return excess, share
}

// Scaled is the composition with every total multiplied by f: water lost by evaporation (f > 1)
// or diluted with pure water of the same temperature (f < 1).
func (c Composition) Scaled(f float64) Composition {
	m := Molality(f)
	return Composition{
		c.Temperature,
		c.Ca * m, c.Mg * m, c.Na * m, c.K * m, c.Cl * m, c.SO4 * m, c.NO3 * m, c.NO2 * m, c.TAN * m, c.PO4 * m,
		c.Alk * Equivalents(f), c.DOC * quantity.MgPerL(f),
	}
}

// check refuses what cannot be a water: see [OutOfSpan].
func (c *Composition) check() error {
	if t := c.Temperature; !(t >= lowestCelsius && t <= highestCelsius) {
		return OutOfSpan{"temperature", float64(t), lowestCelsius, highestCelsius, "C"}
	}
	// The sum catches everything at once; which one it is matters only when it is wrong.
	least := min(c.Ca, c.Mg, c.Na, c.K, c.Cl, c.SO4, c.NO3, c.NO2, c.TAN, c.PO4, Molality(c.DOC))
	most := c.Ca + c.Mg + c.Na + c.K + c.Cl + c.SO4 + c.NO3 + c.NO2 + c.TAN + c.PO4
	if least >= 0 && most <= highestMolality && c.DOC <= highestDOC && math.Abs(float64(c.Alk)) <= highestMolality {
		return nil
	}
	for _, m := range [...]struct {
		name string
		m    Molality
	}{
		{"Ca", c.Ca},
		{"Mg", c.Mg},
		{"Na", c.Na},
		{"K", c.K},
		{"Cl", c.Cl},
		{"SO4", c.SO4},
		{"NO3", c.NO3},
		{"NO2", c.NO2},
		{"TAN", c.TAN},
		{"PO4", c.PO4},
	} {
		if !(m.m >= 0 && m.m <= highestMolality) {
			return OutOfSpan{m.name, float64(m.m), 0, highestMolality, "mmol/kg"}
		}
	}
	if !(c.DOC >= 0 && c.DOC <= highestDOC) {
		return OutOfSpan{"DOC", float64(c.DOC), 0, highestDOC, "mg/L"}
	}
	if !(math.Abs(float64(c.Alk)) <= highestMolality) {
		return OutOfSpan{"alkalinity", float64(c.Alk), -highestMolality, highestMolality, "meq/kg"}
	}
	return OutOfSpan{"sum of ions", float64(most), 0, highestMolality, "mmol/kg"}
}

// What is still a water, for this package. Seawater is 1100 mmol/kg and I = 0.7; the activity
// model ends at about I = 1 (Truesdell and Jones 1974). The rest is judgement.
const (
	lowestCelsius   = -1
	highestCelsius  = 45
	highestMolality = 1500 // mmol/kg
	highestDOC      = 1000 // mg C/L
	highestStrength = 1    // mol/kg
)

// CheckBalance refuses a composition whose charges differ by more than 5 % of their sum (and by
// more than 0.02 meq/kg): [Unbalanced] says by how much and which ion is suspect.
func (c Composition) CheckBalance() error {
	excess, share := c.ChargeImbalance()
	if math.Abs(float64(share)) > mostImbalance && math.Abs(float64(excess)) > 0.02 {
		return unbalanced(c, share)
	}
	return nil
}
