package dynamics

import "math"

// happen does what an event does. All of it is exact: sums of amounts.
func (x *scene) happen(e *Event, c *Course, d *Deviations) {
	s := &x.State
	s.stride = min(s.stride, x.pace.first())
	switch e.Kind {
	case Poured:
		x.change(e, d)
	case Dosed:
		x.dose(e)
	case Renewed:
		s.Carbon, s.Loaded = e.Grams, 0
	case Disturbed:
		x.disturb(e.Share)
	case Trimmed:
		s.Plants -= e.N
		s.Gone.N += e.N
	case Skimmed:
		s.Film = 0
	}
	if e.Loss > 0 {
		lost := c.Losses[e.Loss-1].Sure
		if e.Loss <= len(d.Loss) {
			lost = d.Loss[e.Loss-1]
		}
		if e.Kind != Poured { // what a rinse takes of the films it takes half as much of the mulm there
			s.siphon(e.Mulm * lost)
		}
		for i, hit := range e.Places {
			if hit {
				s.Strength[i].lose(lost)
			}
		}
	}
	x.mature = s.working(x.noFlow)
	if e.Kind != Poured {
		x.h = 0
	}
}

func (n *Nitrifiers) lose(share float64) {
	n.Ammonia *= 1 - share
	n.Frugal *= 1 - share
	n.Nitrite *= 1 - share
}

// change takes water out and pours water in. Everything dissolved mixes by amounts, inorganic carbon
// too: the pressure of CO2 just after is that of the mixed carbon.
func (x *scene) change(e *Event, d *Deviations) {
	s := &x.State
	factor := 1.0
	if e.Change > 0 {
		factor = math.Exp(at(d.Litres, e.Change-1))
	}
	x.look()
	dic := x.carbonate.dic(x.h, s.PCO2, &x.warm) * s.Volume

	out := min(e.Out*factor, 0.98*s.Volume)
	left := 1 - out/s.Volume
	s.takeOut(left)
	dic *= left
	s.siphon(min(e.Mulm*(1-left)+e.Bed, 1))

	in := e.In * factor
	if e.ToMark {
		in = max(x.held-s.Volume, 0)
	}
	pour := e.Pour.following(&e.Tap, at(d.Tap, int(s.Day/Month)))
	s.Temp = (s.Temp*s.Volume + pour.Temp*in) / (s.Volume + in)
	pour.into(s, in)
	e.Salts.into(s, 1)
	dic += pour.DIC*in + e.Salts.DIC
	if e.Binds {
		s.toAmmonia(s.Chloramine)
		s.Bound += s.Chloramine
		s.Chloramine = 0
	}

	x.warm = warmthOf(s.Temp)
	s.PCO2 = x.pressureOf(dic / s.Volume)
}

// dose adds salts without water. What of them is carbonate brings CO2 or takes it up.
func (x *scene) dose(e *Event) {
	s := &x.State
	carbonate := e.Salts.DIC != 0 || e.Salts.Alk != 0
	var dic float64
	if carbonate {
		x.look()
		dic = x.carbonate.dic(x.h, s.PCO2, &x.warm)*s.Volume + e.Salts.DIC
	}
	e.Salts.into(s, 1)
	if e.Binds {
		s.Bound += s.TAN + s.Chloramine
		s.toAmmonia(s.Chloramine)
		s.TAN, s.Chloramine = 0, 0
	}
	if carbonate {
		s.PCO2 = x.pressureOf(dic / s.Volume)
	}
}

// siphon takes a share of the mulm away.
func (s *State) siphon(share float64) {
	s.Gone.N += share * (s.Labile + s.Slow)
	s.Labile *= 1 - share
	s.Slow *= 1 - share
}

// toAmmonia counts the chloride that chloramine leaves when it turns to ammonia.
func (s *State) toAmmonia(n float64) {
	s.Cl += n / molarN
	s.Given.Cl += n / molarN
}

// takeOut leaves a share of all that is dissolved.
func (s *State) takeOut(left float64) {
	s.Gone.Litres += (1 - left) * s.Volume
	s.Volume *= left
	s.Oxygen *= left
	s.drain(left)
}

// drain leaves a share of what is dissolved, gases not among it, and the litres as they are.
func (s *State) drain(left float64) {
	go1 := 1 - left
	g := &s.Gone
	g.N += go1 * (s.TAN + s.Bound + s.Chloramine + s.NO2 + s.NO3)
	g.P += go1 * s.PO4
	g.Ca += go1 * s.Ca
	g.Mg += go1 * s.Mg
	g.Na += go1 * s.Na
	g.K += go1 * s.K
	g.Cl += go1 * s.Cl
	g.SO4 += go1 * s.SO4
	s.Ca *= left
	s.Mg *= left
	s.Na *= left
	s.K *= left
	s.Cl *= left
	s.SO4 *= left
	s.Alk *= left
	s.DOC *= left
	s.TAN *= left
	s.Bound *= left
	s.Chloramine *= left
	s.NO2 *= left
	s.NO3 *= left
	s.PO4 *= left
}

// into adds litres of the water to a state (or to its slope, with litres a day).
func (w *Water) into(s *State, litres float64) {
	s.Ca += w.Ca * litres
	s.Mg += w.Mg * litres
	s.Na += w.Na * litres
	s.K += w.K * litres
	s.Cl += w.Cl * litres
	s.SO4 += w.SO4 * litres
	s.Alk += w.Alk * litres
	s.TAN += w.TAN * litres
	s.Chloramine += w.Chloramine * litres
	s.NO2 += w.NO2 * litres
	s.NO3 += w.NO3 * litres
	s.PO4 += w.PO4 * litres
	s.DOC += w.DOC * litres
	s.Oxygen += w.Oxygen * litres
	s.Volume += w.Volume * litres
	g := &s.Given
	g.N += (w.TAN + w.Chloramine + w.NO2 + w.NO3) * litres
	g.P += w.PO4 * litres
	g.Ca += w.Ca * litres
	g.Mg += w.Mg * litres
	g.Na += w.Na * litres
	g.K += w.K * litres
	g.Cl += w.Cl * litres
	g.SO4 += w.SO4 * litres
	g.Litres += w.Volume * litres
}

// following is the water with its tap part e^t times as strong in calcium, magnesium and alkalinity.
// Sulfate closes the charge, or sodium where there is none.
func (w *Water) following(tap *Water, t float64) Water {
	out := *w
	if t == 0 {
		return out
	}
	more := math.Expm1(t)
	out.Ca += more * tap.Ca
	out.Mg += more * tap.Mg
	out.Alk += more * tap.Alk
	out.DIC += more * tap.DIC
	if open := more * (2*tap.Ca + 2*tap.Mg - tap.Alk); out.SO4+open/2 >= 0 {
		out.SO4 += open / 2
	} else {
		out.Na -= open
	}
	return out
}

// pressureOf is the pressure of CO2 of a mixed water by its inorganic carbon, mmol/L; 1e-6 to 1 atm. The solve
// begins where the water was before.
func (x *scene) pressureOf(dic float64) float64 {
	s, c := &x.State, &x.carbonate
	c.of(s, s.Volume, s.Alk, s.TAN, s.PCO2, &x.warm)
	var by float64
	x.h, by = c.closed(x.h, dic, s.PCO2, &x.warm)
	return min(max(s.PCO2*by, 1e-6), 1)
}
