package water

import (
	"fmt"

	"halfwater/quantity"
)

// Part is an amount of one water that goes into a blend: litres of it, what it holds, and its
// dissolved inorganic carbon (from [GivenPH] or [Open]).
type Part struct {
	Composition Composition
	DIC         Molality
	Litres      quantity.Litres
}

// Mixed is a blend: the very same amounts, in the sum of the litres, at the temperature that the
// heat balance gives. No CO2 has left yet.
type Mixed struct {
	Composition Composition
	DIC         Molality
	Litres      quantity.Litres
}

// Blend mixes any number of waters in a closed vessel. Every element, the alkalinity (so the
// charge), the inorganic and organic carbon and the heat are conserved; pH is not averaged but
// follows with [Mixed.Closed]. A litre counts as a kilogram and heat capacities as equal.
// Errors: [NothingToMix], [OutOfSpan].
func Blend(parts []Part) (Mixed, error) {
	var m Mixed
	for _, p := range parts {
		if !(p.Litres >= 0 && p.Litres <= highestLitres) {
			return Mixed{}, OutOfSpan{"litres", float64(p.Litres), 0, highestLitres, "L"}
		}
		if err := p.Composition.check(); err != nil {
			return Mixed{}, err
		}
		if !(p.DIC >= 0 && p.DIC <= 1000) {
			return Mixed{}, OutOfSpan{"DIC", float64(p.DIC), 0, 1000, "mmol/kg"}
		}
		m.Litres += p.Litres
	}
	if m.Litres == 0 {
		return Mixed{}, NothingToMix{len(parts)}
	}
	c := &m.Composition
	for _, p := range parts {
		f := float64(p.Litres / m.Litres)
		n, q := Molality(f), &p.Composition
		c.Temperature += quantity.Celsius(f) * q.Temperature
		c.Ca += n * q.Ca
		c.Mg += n * q.Mg
		c.Na += n * q.Na
		c.K += n * q.K
		c.Cl += n * q.Cl
		c.SO4 += n * q.SO4
		c.NO3 += n * q.NO3
		c.NO2 += n * q.NO2
		c.TAN += n * q.TAN
		c.PO4 += n * q.PO4
		c.Alk += Equivalents(f) * q.Alk
		c.DOC += quantity.MgPerL(f) * q.DOC
		m.DIC += n * p.DIC
	}
	return m, nil
}

// Closed is the blend at once, before any CO2 has left.
func (m Mixed) Closed() (Speciation, error) { return Closed(m.Composition, m.DIC) }

// Open is the blend when it has come to rest with a pressure of CO2.
func (m Mixed) Open(pCO2 quantity.Atm) (Speciation, error) { return Open(m.Composition, pCO2) }

// Part is the blend as a part of the next one.
func (m Mixed) Part() Part { return Part(m) }

const highestLitres = 1e7

// NothingToMix is a blend without a drop in it.
type NothingToMix struct{ Parts int }

func (e NothingToMix) Error() string {
	return fmt.Sprintf("nothing to mix: %d waters and not a litre in all; give the litres of each", e.Parts)
}
