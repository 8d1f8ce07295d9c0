package dynamics

import (
	"halfwater/book"
	"halfwater/enclosure"
	"halfwater/quantity"
	"halfwater/water"
)

// brew is a source water as it is poured: all of it, and the part that follows the season of the tap.
type brew struct {
	all, tap Water
	chlorine bool // free chlorine in it that would kill
	bound    bool // its chlorine is chloramine
}

// source finds a source water in force and makes it whole. A source of which nothing is known, or that
// leaves too much open, is guessed and noted.
func (m *maker) source(name string, f enclosure.Facts, line book.ID) brew {
	s, ok := f.Source(name)
	if !ok {
		m.note(SourceUnknown, line, name)
		for _, other := range f.Sources { // the first that is no pure water
			if !pureSource(other) {
				return m.brewed(other, line)
			}
		}
		return brew{all: usualTap, tap: hardness(usualTap)}
	}
	return m.brewed(s, line)
}

func (m *maker) brewed(s enclosure.SourceWater, line book.ID) brew {
	if b, ok := m.brews[s]; ok {
		return b
	}
	b := m.brew(s, line)
	m.brews[s] = b
	return b
}

func (m *maker) brew(s enclosure.SourceWater, line book.ID) brew {
	a := s.Analysis
	whole, err := a.Middle()
	pure := a.Kind == water.RO || a.Kind == water.Rain || s.MadeBy != ""
	var b brew
	switch {
	case err == nil:
		b.all = waterOf(whole.Composition, whole.DIC)
	case pure:
		m.note(SourceGuessed, line, s.Name)
		b.all = nearlyPure
	default:
		m.note(SourceGuessed, line, s.Name)
		b.all = guessed(a)
	}
	if !pure {
		b.tap = hardness(b.all)
	}
	chloramine := float64(water.ChloramineAmmonia(a.Chloramine.Or(0)))
	if s.Chloramine && chloramine == 0 {
		chloramine = float64(water.ChloramineAmmonia(a.FreeChlorine.Or(0)))
	}
	b.all.Chloramine = chloramine
	b.bound = chloramine > 0
	b.chlorine = !b.bound && a.FreeChlorine.Or(0) > 0.05
	return b
}

// hardness is the part of a water that swings with the season.
func hardness(w Water) Water { return Water{Ca: w.Ca, Mg: w.Mg, Alk: w.Alk, DIC: w.DIC} }

// waterOf is a composition per litre. Without a DIC it has stood in the room.
func waterOf(c water.Composition, dic water.Known[water.Molality]) Water {
	w := Water{
		Ca: float64(c.Ca), Mg: float64(c.Mg), Na: float64(c.Na), K: float64(c.K), Cl: float64(c.Cl), SO4: float64(c.SO4),
		Alk: float64(c.Alk), DIC: float64(dic.Or(0)), TAN: float64(c.TAN) * molarN, NO2: float64(c.NO2) * molarN, NO3: float64(c.NO3) * molarN,
		PO4: float64(c.PO4) * molarP, DOC: float64(c.DOC), Volume: 1, Temp: float64(c.Temperature),
	}
	if !dic.Is {
		w.DIC = inRoom(c, w.Alk)
	}
	w.Oxygen = float64(water.OxygenSaturation(c.Temperature, 1))
	return w
}

// inRoom is the inorganic carbon of a water that stood in a room.
func inRoom(c water.Composition, alk float64) float64 {
	s, err := water.Open(c, quantity.Atm(roomCO2))
	if err != nil {
		return max(alk, 0) + 0.03
	}
	return float64(s.DIC)
}

// guessed closes what an analysis states without the rules of package water: calcium to magnesium as
// 4 to 1, alkalinity as hardness when it is not stated, sodium or chloride to close the charge.
func guessed(a water.Analysis) Water {
	gh := a.GH.Or(quantity.Hardness(a.KH.Or(8)))
	c := water.Composition{
		Temperature: 20,
		Ca:          water.Molality(0.8 * gh.Mmol()), Mg: water.Molality(0.2 * gh.Mmol()),
		NO3: water.Molality(a.NO3.Or(0) / quantity.Nitrate(molarN)), NO2: water.Molality(a.NO2.Or(0) / quantity.Nitrite(molarN)),
		TAN: water.Molality(a.TAN.Or(0) / quantity.TotalAmmonia(molarN)), PO4: water.Molality(a.PO4.Or(0) / quantity.Phosphate(molarP)),
		DOC: a.DOC.Or(1),
		Cl:  water.Molality(float64(a.Cl.Or(15)) / molarCl),
	}
	c.Alk = water.FromTitration(a.KH.Or(quantity.AlkalinityMeq(2*gh.Mmol()*0.8)), c.DOC)
	if open := float64(c.StrongIonBalance() - c.Alk); open > 0 {
		c.Cl += water.Molality(open)
	} else {
		c.Na -= water.Molality(open)
	}
	return waterOf(c, water.Known[water.Molality]{})
}

var (
	usualTap   = guessed(water.Analysis{GH: water.Stated[quantity.Hardness](10), KH: water.Stated[quantity.Alkalinity](7)})
	nearlyPure = guessed(water.Analysis{
		GH: water.Stated[quantity.Hardness](0.2), KH: water.Stated[quantity.Alkalinity](0.2), Cl: water.Stated[quantity.MgPerL](1), DOC: water.Stated[quantity.MgPerL](0.2),
	})
	roomCO2 = table.Value("room co2")
)

// blend mixes litres of sources.
func (m *maker) blend(in []book.Poured, f enclosure.Facts, line book.ID) (b brew) {
	total := 0.0
	for _, p := range in {
		total += float64(p.Litres)
	}
	for _, p := range in {
		part := m.source(p.Source, f, line)
		share := 1 / float64(len(in))
		if total > 0 {
			share = float64(p.Litres) / total
		}
		b.all.add(&part.all, share)
		b.tap.add(&part.tap, share)
		b.chlorine = b.chlorine || part.chlorine
		b.bound = b.bound || part.bound
	}
	return b
}

func (w *Water) add(o *Water, k float64) {
	w.Ca += k * o.Ca
	w.Mg += k * o.Mg
	w.Na += k * o.Na
	w.K += k * o.K
	w.Cl += k * o.Cl
	w.SO4 += k * o.SO4
	w.Alk += k * o.Alk
	w.DIC += k * o.DIC
	w.TAN += k * o.TAN
	w.Chloramine += k * o.Chloramine
	w.NO2 += k * o.NO2
	w.NO3 += k * o.NO3
	w.PO4 += k * o.PO4
	w.DOC += k * o.DOC
	w.Oxygen += k * o.Oxygen
	w.Volume += k * o.Volume
	w.Temp += k * o.Temp
}

// salts are the amounts in some grams of salts.
func (m *maker) salts(list []book.SaltPoured, line book.ID) (w Water) {
	for _, s := range list {
		known, err := water.SaltNamed(s.Formula)
		if err != nil {
			m.note(SaltUnknown, line, s.Formula)
			continue
		}
		a, g := known.PerGram(), float64(s.Grams)
		w.add(&Water{
			Ca: float64(a.Ca), Mg: float64(a.Mg), Na: float64(a.Na), K: float64(a.K), Cl: float64(a.Cl), SO4: float64(a.SO4),
			NO3: float64(a.NO3) * molarN, Alk: float64(a.Alk), DIC: float64(a.DIC),
		}, g)
	}
	return w
}

// strengthen makes a mix hold so many times as much of all its ions that it reads, with the salts in it, what the
// keeper's pen read: more tap and less RO went in, or the membrane is old.
func (b *brew) strengthen(ec float64, salts *Water, litres float64) {
	reads := func(times float64) float64 {
		s := State{Temp: 25, PCO2: roomCO2}
		w := b.all
		w.ions(times)
		w.Volume = 1
		w.into(&s, 1)
		salts.into(&s, 1/max(litres, 1e-9))
		return float64(s.EC())
	}
	lo, hi := 0., 1.
	for reads(hi) < ec && hi < 1e4 {
		lo, hi = hi, 2*hi
	}
	for range 40 {
		if mid := (lo + hi) / 2; reads(mid) < ec {
			lo = mid
		} else {
			hi = mid
		}
	}
	b.all.ions(hi)
	b.tap.ions(hi)
}

// ions multiplies what carries current, and the carbon that goes with it.
func (w *Water) ions(by float64) {
	for _, x := range [...]*float64{&w.Ca, &w.Mg, &w.Na, &w.K, &w.Cl, &w.SO4, &w.Alk, &w.DIC, &w.NO3} {
		*x *= by
	}
}

// Poured is the mean of the waters of the course's changes; a middling tap when there were none.
func (c *Course) Poured() Water {
	var sum Water
	n := 0.0
	for _, e := range c.Events {
		if e.Kind != Poured || e.Change == 0 {
			continue
		}
		p := e.Pour
		n++
		sum.Ca += p.Ca
		sum.Mg += p.Mg
		sum.Na += p.Na
		sum.K += p.K
		sum.Cl += p.Cl
		sum.SO4 += p.SO4
		sum.Alk += p.Alk
		sum.NO3 += p.NO3
		sum.PO4 += p.PO4
		sum.DOC += p.DOC
	}
	if n == 0 {
		return Water{Ca: 1.1, Mg: 0.3, Na: 0.8, K: 0.1, Cl: 0.8, SO4: 0.5, Alk: 1.8, DOC: 2}
	}
	for _, x := range []*float64{&sum.Ca, &sum.Mg, &sum.Na, &sum.K, &sum.Cl, &sum.SO4, &sum.Alk, &sum.NO3, &sum.PO4, &sum.DOC} {
		*x /= n
	}
	return sum
}
