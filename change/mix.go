package change

import (
	"halfwater/husbandry"
	"halfwater/quantity"
	"halfwater/water"
)

// Carbonated is a water with its carbon: what it holds, and the dissolved inorganic carbon that
// goes with its pH (water.GivenPH) or with the CO2 over it (water.Open).
type Carbonated struct {
	Composition water.Composition
	DIC         water.Molality
}

// State is what a water is at one moment, in what an animal feels of it.
type State struct {
	PH   quantity.PH
	PCO2 quantity.Atm
	TAN  quantity.TotalAmmonia
	Free quantity.FreeAmmonia // after Emerson and others 1975 on that pH
	// Criterion is the chronic criterion of total ammonia at that pH and temperature (EPA 2013).
	Criterion quantity.TotalAmmonia
}

// Standing is where the state stands against the lines of ammonia.
func (s State) Standing(lines husbandry.Lines) husbandry.Standing {
	return lines.Ammonia(s.Free, s.TAN, s.Criterion)
}

func stateOf(s water.Speciation) State {
	c := &s.Composition
	tan := quantity.TotalAmmonia(c.TAN * water.MolarN)
	return State{
		PH: s.PH, PCO2: s.PCO2, TAN: tan, Free: water.FreeAmmonia(tan, s.PH, c.Temperature),
		Criterion: water.ChronicAmmonia(s.PH, c.Temperature),
	}
}

// Mixture is what a change does to pH and ammonia.
type Mixture struct {
	Before   State
	AtMixing State // closed: the carbon of both waters, mixed
	Later    State // within two days: at rest with the CO2 that was given for it
	Undone   State // the enclosure without any change, at rest with that same CO2
	Poured   water.Composition
}

// Worst is the state after the change with more free ammonia.
func (m Mixture) Worst() State {
	if m.Later.Free > m.AtMixing.Free {
		return m.Later
	}
	return m.AtMixing
}

// Tolerated is how much free ammonia may grow by a change when it is past its line anyway: there
// has to be a way out of bad water. Judgement.
const Tolerated = 1.05

// Without is the state with more free ammonia when nothing is changed: now, or at rest.
func (m Mixture) Without() State {
	if m.Undone.Free > m.Before.Free {
		return m.Undone
	}
	return m.Before
}

// Passes reports whether ammonia passes the act line, at mixing or within two days, with more than
// [Tolerated] of what is there now: free ammonia against its line, total ammonia against the
// criterion at its pH. Such a change is not for one visit, even when the enclosure would come to
// more by itself: it may keep its CO2.
func (m Mixture) Passes(lines husbandry.Lines) bool {
	past := func(w husbandry.Watched, now, then float64) bool {
		return lines.At(w, then).Tier == husbandry.ActNow && then > Tolerated*now
	}
	for _, s := range []State{m.AtMixing, m.Later} {
		if past(husbandry.FreeAmmonia, float64(m.Before.Free), float64(s.Free)) ||
			past(husbandry.AmmoniaShare, float64(m.Before.TAN/m.Before.Criterion), float64(s.TAN/s.Criterion)) {
			return true
		}
	}
	return false
}

// Harms reports whether the change takes ammonia past the act line with more than [Tolerated] of what
// the enclosure would have without it, at the same CO2: it does more harm than to pour nothing. The
// small steps out of bad water are held to this.
func (m Mixture) Harms(lines husbandry.Lines) bool {
	return m.Worst().Standing(lines).Tier == husbandry.ActNow && m.Worst().Free > Tolerated*m.Without().Free
}

// AiredCO2 is the pressure of CO2 to which a stocked box comes within a day or two when its
// surface is well stirred, as it is after a change. Judgement: between room air (about 7e-4 atm)
// and a spray bar or airstone (about 1e-3).
const AiredCO2 quantity.Atm = 8e-4

// Mix pours a share of the held water, already taken out, back as another water. later is the
// pressure of CO2 with which the enclosure comes to rest within two days; the enclosure's own when
// nothing else drives it, [AiredCO2] at the least favourable for ammonia. Errors are those of
// package water.
func Mix(now, poured Carbonated, share quantity.Share, later quantity.Atm) (Mixture, error) {
	m := Mixture{Poured: poured.Composition}
	mixed, err := water.Blend([]water.Part{
		{Composition: now.Composition, DIC: now.DIC, Litres: quantity.Litres(1 - share)},
		{Composition: poured.Composition, DIC: poured.DIC, Litres: quantity.Litres(share)},
	})
	if err != nil {
		return m, err
	}
	for _, at := range []struct {
		to *State
		s  func() (water.Speciation, error)
	}{
		{&m.Before, func() (water.Speciation, error) { return water.Closed(now.Composition, now.DIC) }},
		{&m.AtMixing, mixed.Closed},
		{&m.Later, func() (water.Speciation, error) { return mixed.Open(later) }},
		{&m.Undone, func() (water.Speciation, error) { return water.Open(now.Composition, later) }},
	} {
		s, err := at.s()
		if err != nil {
			return m, err
		}
		*at.to = stateOf(s)
	}
	return m, nil
}
