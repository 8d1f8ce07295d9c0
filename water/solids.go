package water

import (
	"fmt"
	"math"

	"halfwater/quantity"
)

// Mineral is a solid that can dissolve or form.
type Mineral int

// The minerals known. Coral sand and shell are aragonite, most limestone is calcite.
const (
	Calcite Mineral = iota
	Aragonite
	Vaterite
	Gypsum
)

var mineralNames = [...]string{"calcite", "aragonite", "vaterite", "gypsum"}

func (m Mineral) String() string { return mineralNames[m] }

// SI is the saturation index of a mineral.
func (s Speciation) SI(m Mineral) float64 {
	switch m {
	case Aragonite:
		return s.SIAragonite()
	case Vaterite:
		return s.SIVaterite()
	case Gypsum:
		return s.SIGypsum()
	}
	return s.SICalcite()
}

// Equilibrium is a water that has come to rest with a mineral.
type Equilibrium struct {
	Speciation Speciation
	Dissolved  Molality // mmol of mineral per kg taken up; negative when it formed
	CO2        Molality // mmol of CO2 per kg taken up from the air (open only)
}

// dissolved is c with x mmol/kg of a mineral more.
func (m Mineral) dissolved(c Composition, x Molality) (Composition, Molality) {
	c.Ca += x
	if m == Gypsum {
		c.SO4 += x
		return c, 0
	}
	c.Alk += Equivalents(2 * x)
	return c, x
}

// EquilibrateOpen lets a mineral dissolve or form until its saturation index is 0, while CO2
// keeps a pressure. Errors: those of [Open] and [NoRest].
func EquilibrateOpen(c Composition, m Mineral, pCO2 quantity.Atm) (Equilibrium, error) {
	before, err := Open(c, pCO2)
	if err != nil {
		return Equilibrium{}, err
	}
	e, err := equilibrate(c, m, func(d Composition, carbon Molality) (Speciation, error) { return Open(d, pCO2) })
	if err != nil {
		return e, err
	}
	_, carbon := m.dissolved(c, e.Dissolved)
	e.CO2 = e.Speciation.DIC - before.DIC - carbon
	return e, nil
}

// EquilibrateClosed lets a mineral dissolve or form until its saturation index is 0, with no gas
// exchanged. Errors: those of [Closed] and [NoRest].
func EquilibrateClosed(c Composition, dic Molality, m Mineral) (Equilibrium, error) {
	return equilibrate(c, m, func(d Composition, carbon Molality) (Speciation, error) { return Closed(d, dic+carbon) })
}

// NoRest is a water that a mineral cannot bring to saturation.
type NoRest struct{ Mineral Mineral }

func (e NoRest) Error() string {
	return fmt.Sprintf("%s does not come to rest in this water; check its acid and its calcium", e.Mineral)
}

// equilibrate brackets the amount: the saturation index rises with what has dissolved.
func equilibrate(c Composition, m Mineral, speciate func(Composition, Molality) (Speciation, error)) (Equilibrium, error) {
	at := func(x float64) (Speciation, float64, error) {
		d, carbon := m.dissolved(c, Molality(x))
		s, err := speciate(d, carbon)
		if err != nil {
			return s, 0, err
		}
		return s, s.SI(m), nil
	}
	s, si, err := at(0)
	if err != nil {
		return Equilibrium{}, err
	}
	lo, hi := 0.0, 0.0
	switch {
	case si > 0: // it can form, at most until the calcium is gone
		lo = -float64(c.Ca)
		if m == Gypsum {
			lo = -float64(min(c.Ca, c.SO4))
		}
	default:
		for hi = 0.1; ; hi *= 2 {
			if hi > 200 {
				return Equilibrium{}, NoRest{m}
			}
			if _, si, err = at(hi); err != nil {
				return Equilibrium{}, err
			} else if si > 0 {
				break
			}
		}
	}
	for range 60 {
		mid := (lo + hi) / 2
		t, si, err := at(mid)
		switch {
		case err != nil && mid < 0: // beyond what can form
			lo = mid
			continue
		case err != nil:
			return Equilibrium{}, err
		case si < 0:
			lo = mid
		default:
			hi = mid
		}
		s = t
		if math.Abs(si) < 1e-9 {
			break
		}
	}
	if last := s.SI(m); math.Abs(last) > 1e-6 {
		return Equilibrium{}, NoRest{m}
	}
	return Equilibrium{Speciation: s, Dissolved: s.Composition.Ca - c.Ca}, nil
}

// DissolutionRate is the net rate of a carbonate mineral after Plummer, Wigley and Parkhurst 1978,
// (k1 aH + k2 aCO2 + k3 aw)(1 - 10^(2/3 SI)), mmol per m2 of surface and hour, 5 to 60 C; negative
// when it grows. A film of bacteria slows it 3 to 30 times in practice; biofilm is that divisor,
// 1 for clean mineral. It is a rate of calcite; aragonite uses it with its own SI. Zero for gypsum.
func (s Speciation) DissolutionRate(m Mineral, biofilm float64) float64 {
	if m == Gypsum || !(biofilm >= 1) {
		return 0
	}
	T := s.Composition.Temperature.Kelvin()
	v := rateTab.Value
	k1 := math.Pow(10, v("PWP k1, a")+v("PWP k1, c")/T)
	k2 := math.Pow(10, v("PWP k2, a")+v("PWP k2, c")/T)
	cold, warm := v("PWP k3 cold, a")+v("PWP k3 cold, c")/T, v("PWP k3 warm, a")+v("PWP k3 warm, c")/T
	k3 := math.Pow(10, cold)
	if s.Composition.Temperature > 25 {
		k3 = math.Pow(10, warm)
	}
	aH := math.Pow(10, -float64(s.PH))
	aCO2 := 1e-3 * float64(s.Species.CO2) * s.Activity.GammaCO2
	forward := k1*aH + k2*aCO2 + k3 // mmol/cm2/s, activities of the mol/kg scale
	const perM2Hour = 1e4 * 3600
	return perM2Hour * forward * (1 - math.Pow(10, 2./3*s.SI(m))) / biofilm
}

// Dissolve follows a mineral as it dissolves (or grows) for some hours in an open water, with
// surface m2 per litre and a biofilm divisor, CO2 kept at a pressure.
func Dissolve(c Composition, m Mineral, pCO2 quantity.Atm, surfacePerLitre quantity.SquareMetres, biofilm, hours float64) (Speciation, error) {
	s, err := Open(c, pCO2)
	if err != nil || m == Gypsum || !(hours > 0) || !(surfacePerLitre > 0) {
		return s, err
	}
	rate := func(x float64) (float64, error) {
		d, _ := m.dissolved(c, Molality(x))
		if s, err = Open(d, pCO2); err != nil {
			return 0, err
		}
		return float64(surfacePerLitre) * s.DissolutionRate(m, biofilm), nil
	}
	rest, err := EquilibrateOpen(c, m, pCO2)
	if err != nil {
		return s, err
	}
	// Towards the end the rate is proportional to the distance from rest, so the distance is
	// followed in steps in which it shrinks by a fixed factor and the hours are added up
	// (trapezium on dt = dx/rate).
	end := float64(rest.Dissolved)
	left, used := 1.0, 0.0
	r0, err := rate(0)
	if err != nil {
		return s, err
	}
	if r0 == 0 || end == 0 {
		return s, nil
	}
	for range 400 {
		next := left * 0.97
		r1, err := rate(end * (1 - next))
		if err != nil {
			return s, err
		}
		dt := math.Abs(end*(left-next)) * (1/math.Abs(r0) + 1/math.Abs(r1)) / 2
		if used+dt >= hours {
			next = left - (left-next)*(hours-used)/dt
			_, err := rate(end * (1 - next))
			return s, err
		}
		used += dt
		left, r0 = next, r1
	}
	return rest.Speciation, nil
}

// Scaling says what a water does to limestone, shell and kettle.
type Scaling int

// The tendencies. The lines are common practice: dissolved organic matter and phosphate keep
// calcite from forming up to SI 0.3 to 1 (House 1987, from memory).
const (
	Dissolves Scaling = iota // SI of aragonite below -0.2: shell and coral sand dissolve
	Rests                    // nothing much happens
	Scales                   // SI of calcite above 0.5: tends to deposit scale
)

// Scaling is the tendency of the water.
func (s Speciation) Scaling() Scaling {
	switch {
	case s.SICalcite() > rateTab.Value("scaling line"):
		return Scales
	case s.SIAragonite() < rateTab.Value("dissolving line"):
		return Dissolves
	}
	return Rests
}

// LangelierIndex is the log-fit form of Langelier's index, pH - pHs, with pHs = 9.3 + A + B - C - D
// (textbook form), for comparing with other people's numbers; [Speciation.SICalcite] is better.
// calcium is the calcium hardness. Valid for TDS above 1 mg/L.
func LangelierIndex(ph quantity.PH, t quantity.Celsius, tds quantity.MgPerL, calcium quantity.Hardness, kh quantity.Alkalinity) float64 {
	a := (math.Log10(float64(tds)) - 1) / 10
	b := -13.12*math.Log10(float64(t)+273) + 34.55
	c := math.Log10(calcium.CaCO3()) - 0.4
	d := math.Log10(kh.CaCO3())
	return float64(ph) - (9.3 + a + b - c - d)
}
