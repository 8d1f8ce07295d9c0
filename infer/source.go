package infer

import (
	"math"

	"halfwater/enclosure"
	"halfwater/quantity"
	"halfwater/water"
)

// brew is what a source water brings of each dissolved slot, with the doubt of that one beside the
// doubt that all share.
type brew struct {
	mean, own [chloride + 1]float64
	has       [chloride + 1]bool
	share     float64 // relative doubt that all share
	tan       float64 // mg N/L, chloramine's nitrogen in it
	no2       float64
}

// brewOf reads an analysis. What is not stated is taken as wide as usual waters are wide; chloride
// that is not stated is not known.
func brewOf(s enclosure.SourceWater) brew {
	a := s.Analysis
	b := brew{share: value("source.mineral")}
	pure := a.Kind == water.RO || a.Kind == water.Rain || s.MadeBy != "" ||
		a.EC.Is && a.EC.Value < 60 || a.GH.Is && a.KH.Is && a.GH.Value <= 0.5 && a.KH.Value <= 0.5
	if pure {
		b.share = value("source.pure")
	}
	own := value("source.own")
	put := func(slot int, x, least float64) {
		b.mean[slot], b.own[slot], b.has[slot] = x, math.Hypot(own*x, least), true
	}
	guess := func(slot int, x, sd float64) { b.mean[slot], b.own[slot], b.has[slot] = x, sd, true }

	switch {
	case a.GH.Is:
		put(gh, float64(a.GH.Value), 0.1)
	case a.Ca.Is && a.Mg.Is:
		put(gh, float64(quantity.HardnessMmol(float64(a.Ca.Value)/40.078+float64(a.Mg.Value)/24.305)), 0.1)
	case pure:
		guess(gh, 0.15, 0.15)
	}
	switch {
	case a.KH.Is:
		put(kh, float64(a.KH.Value), 0.1)
	case pure:
		guess(kh, 0.15, 0.15)
	}
	switch {
	case a.NO3.Is:
		put(nitrate, float64(a.NO3.Value), 0.1)
	case pure:
		guess(nitrate, 0.1, 0.1)
	default:
		guess(nitrate, 1.8, 2)
	}
	switch {
	case a.Cl.Is:
		put(chloride, float64(a.Cl.Value), 0.5)
	case pure:
		guess(chloride, 1, 1)
	}
	switch {
	case a.EC.Is:
		put(ions, strength(float64(a.EC.Value)), 2)
	case pure:
		guess(ions, strength(12), 8)
	case b.has[gh]:
		x := 40 * math.Max(b.mean[gh], b.mean[kh]) // 30 %: hard bicarbonate water
		if ec, ok := computed(a); ok {
			guess(ions, strength(ec), 0.05*ec)
		} else {
			guess(ions, strength(x), 0.3*x)
		}
	}
	b.tan = float64(a.TAN.Or(0)) + value("chloramine.n")*float64(a.Chloramine.Or(0))
	b.no2 = float64(a.NO2.Or(0))
	return b
}

// pure reports whether the water is one of next to nothing.
func (b brew) pure() bool { return b.share == value("source.pure") }

// computed is the conductivity of an analysis whose ions are stated.
func computed(a water.Analysis) (float64, bool) {
	if !(a.Ca.Is && a.Mg.Is && a.KH.Is && (a.Na.Is || a.Cl.Is)) {
		return 0, false
	}
	mmol := func(k water.Known[quantity.MgPerL], molar float64) water.Molality {
		return water.Molality(float64(k.Or(0)) / molar)
	}
	c := water.Composition{
		Temperature: 25,
		Ca:          mmol(a.Ca, 40.078), Mg: mmol(a.Mg, 24.305), Na: mmol(a.Na, 22.99), K: mmol(a.K, 39.098),
		Cl: mmol(a.Cl, water.MolarCl), SO4: mmol(a.SO4, water.MolarSO4), NO3: water.Molality(a.NO3.Or(0) / water.MolarN),
		Alk: water.FromTitration(a.KH.Value, 0),
	}
	s, err := water.GivenPH(c, 7.5)
	if err != nil {
		return 0, false
	}
	return float64(s.EC25()), true
}

// unknownBrew stands for water of which nothing was ever written down.
func unknownBrew(known map[string]brew) brew {
	b := brew{share: 0}
	n := 0.0
	for i := range b.mean {
		var lo, hi float64
		first := true
		for _, k := range known {
			if !k.has[i] {
				continue
			}
			if first {
				lo, hi, first = k.mean[i], k.mean[i], false
			}
			lo, hi = math.Min(lo, k.mean[i]), math.Max(hi, k.mean[i])
		}
		if !first {
			b.mean[i], b.own[i], b.has[i] = (lo+hi)/2, (hi-lo)/2+0.2*hi+0.2, true
			n++
		}
	}
	return b
}

// source gives a source water in force and its doubt; false when it was never described, and then
// whatever was described stands in, as wide as it is.
func (w *walk) source(name string) (brew, doubt, bool) {
	if b, ok := w.brews[name]; ok && name != "" {
		return b, w.doubts[name], true
	}
	return unknownBrew(w.brews), doubt{}, false
}

// doubt holds the slots of what may be wrong with an analysis; 0 is none. All is a share of all that
// the source holds, own an amount of one ion.
type doubt struct {
	all int
	own [chloride + 1]int
}

// terms are what litres per litre held of a source bring in doubt to one slot, and the variance of
// what has no slot.
func (d doubt) terms(b brew, slot int, share float64) (sum []term, noise float64) {
	if d.all > 0 {
		sum = append(sum, term{d.all, share * b.mean[slot]})
	} else {
		noise += square(share * b.share * b.mean[slot])
	}
	if d.own[slot] > 0 {
		sum = append(sum, term{d.own[slot], share})
	} else {
		noise += square(share * b.own[slot])
	}
	return sum, noise
}

// doubtOf makes room for the doubt of a source.
func (w *walk) doubtOf(name string, b brew) doubt {
	d := w.doubts[name]
	slot := func(have int, sd float64) int {
		if have == 0 {
			if w.taken >= manyDoubts {
				return 0
			}
			have = sources + w.taken
			w.taken++
		}
		w.g.put(have, 0, sd)
		return have
	}
	d.all = slot(d.all, b.share)
	for i := range d.own {
		if b.has[i] && b.own[i] > 0 {
			d.own[i] = slot(d.own[i], b.own[i])
		}
	}
	w.doubts[name] = d
	return d
}
