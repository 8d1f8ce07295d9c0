package plan

import (
	"math"
	"slices"

	"halfwater/change"
	"halfwater/enclosure"
	"halfwater/kit"
	"halfwater/quantity"
	"halfwater/water"
)

// source is a source water made whole.
type source struct {
	name     string
	fact     enclosure.SourceWater
	carbon   change.Carbonated
	mid      change.Levels // Temp is NaN when it was never stated
	no3      quantity.Nitrate
	gh, kh   quantity.Range[float64] // what a drop test or the season leaves open
	chlorine quantity.MgPerL         // free and bound, as Cl2
	bound    quantity.MgPerL         // chloramine, as Cl2
	softened bool                    // by its analysis; no substitute for RO
	stated   bool                    // chlorine was stated at all, or cannot be in it
	store    quantity.Litres         // an infinity when as much as wanted
}

// endless is the store of a water of which there is as much as wanted.
var endless = quantity.Litres(math.Inf(1))

// readSources makes the source waters whole; what cannot be is used in part, or left out, and named.
func (v *visit) readSources() {
	for _, f := range v.Facts.Sources {
		s := source{name: f.Name, fact: f, store: endless}
		a := f.Analysis
		s.gh, s.kh = leftOpen(v.Facts, quantity.OfGH, a), leftOpen(v.Facts, quantity.OfKH, a)
		if a.GH.Is {
			a.GH.Value = quantity.Hardness(s.gh.Middle())
		}
		if a.KH.Is {
			a.KH.Value = quantity.Alkalinity(s.kh.Middle())
		}
		c, err := a.Middle()
		off := quantity.Share(0)
		if err != nil {
			fault := faultOf(err)
			if less, ok := partial(a); ok {
				a = less
				c, err = a.Middle()
			}
			off = fault.Off
			v.faulty = append(v.faulty, faulty{f, fault, err == nil})
			if err != nil {
				continue
			}
		}
		s.softened = slices.Contains(c.Notes, water.LooksSoftened)
		s.carbon = change.Carbonated{Composition: c.Composition, DIC: c.DIC.Value}
		if !c.DIC.Is {
			if sp, err := water.Open(c.Composition, roomCO2); err == nil {
				s.carbon.DIC = sp.DIC
			}
		}
		s.mid = change.Levels{
			GH: c.Composition.GH(), KH: c.Composition.KH(), EC: a.EC.Or(c.EC),
			Temp: a.Temperature.Or(quantity.Celsius(math.NaN())),
		}
		s.no3 = quantity.Nitrate(float64(c.Composition.NO3) * water.MolarN)
		if !a.GH.Is {
			s.gh = around(float64(s.mid.GH))
		}
		if !a.KH.Is {
			s.kh = around(float64(s.mid.KH))
		}
		if off > 0 {
			s.gh, s.kh = wider(float64(s.mid.GH), off), wider(float64(s.mid.KH), off)
		}
		s.bound = a.Chloramine.Or(0)
		if f.Chloramine && !a.Chloramine.Is {
			s.bound = a.FreeChlorine.Or(0)
		}
		s.chlorine = max(a.FreeChlorine.Or(0)+a.Chloramine.Or(0), s.bound)
		s.stated = a.FreeChlorine.Is || a.Chloramine.Is || a.Kind == water.RO || a.Kind == water.Rain ||
			a.Kind == water.Well || f.MadeBy != ""
		if f.InStore.Is {
			s.store = f.InStore.Value
		}
		v.sources = append(v.sources, s)
	}
}

// around is a number of a report with the doubt of its season.
func around(x float64) quantity.Range[float64] {
	return quantity.Range[float64]{Lo: x * (1 - seasonDoubt), Hi: x * (1 + seasonDoubt)}
}

// leftOpen is what is open in a stated hardness. A whole number of drops says (n-1, n] drops; a
// report that gives the ions, or any other number, is doubted as its season.
func leftOpen(f enclosure.Facts, of quantity.Measurand, a water.Analysis) quantity.Range[float64] {
	x, report := float64(a.GH.Value), a.Ca.Is
	if of == quantity.OfKH {
		x = float64(a.KH.Value)
	}
	drop := 1.0
	for _, k := range f.Kits {
		if k.Of == of && k.Form == kit.Drops && k.PerDrop > 0 {
			drop = k.PerDrop
			if y, err := of.Canonical(k.PerDrop, k.Unit, k.Basis); err == nil {
				drop = y
			}
		}
	}
	if n := x / drop; report || x <= 0 || math.Abs(n-math.Round(n)) > 1e-6 {
		return around(x)
	}
	return quantity.Range[float64]{Lo: x - drop, Hi: x}
}

func point(x float64) quantity.Range[float64] { return quantity.Range[float64]{Lo: x, Hi: x} }

// spreadOf is one way in which the truth of a source may lie within what its test left open, for
// draw i: the fractional parts of multiples of the golden ratio fill the span evenly and in the
// same order each time (weyl1916, from memory).
func spreadOf(r quantity.Range[float64], i, salt int) float64 {
	if r.Lo == r.Hi {
		return r.Lo
	}
	u := 0.5 + 0.6180339887498949*float64(i) + 0.7548776662466927*float64(salt)
	return r.Lo + (u-math.Floor(u))*(r.Hi-r.Lo)
}
