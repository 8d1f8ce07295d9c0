package plan

import (
	"strings"

	"halfwater/book"
	"halfwater/caution"
	"halfwater/husbandry"
	"halfwater/water"
)

// cautions are those of the work on this sheet, in the order of a sheet.
func (v *visit) cautions(s *Sheet) []caution.Caution {
	on := map[caution.Trigger]bool{}
	add := func(is bool, triggers ...caution.Trigger) {
		for _, t := range triggers {
			on[t] = on[t] || is
		}
	}
	wet := s.Siphon != nil || s.Pour != nil || s.Service.Due != nil
	add(wet, caution.Mains, caution.Hygiene, caution.Lifting)
	add(s.Siphon != nil || s.Service.Due != nil, caution.LevelFalls)
	add(s.Siphon != nil || s.Pour != nil, caution.LevelFalls, caution.MouthSiphon, caution.WaterOut)
	if b := v.Facts.Basin; b != nil && wet {
		add(b.StoneKg > 0, caution.Glass)
	}
	add(len(s.Tests) > 0 || s.Pour != nil && (s.Pour.Neutraliser != nil || len(s.Pour.Salts) > 0), caution.Chemicals)
	if s.Pour != nil {
		add(len(s.Pour.Salts) > 0, caution.Powder)
	}
	for _, r := range s.Refused {
		add(strings.HasPrefix(r.Code, "plan.salt-"), caution.Salt)
	}
	for _, f := range v.Facts.Fittings {
		add(wet && (f.What == "lamp" || f.What == "uv lamp"), caution.HotSurface)
		add(wet && f.What == "uv lamp", caution.UVLamp)
	}
	for _, k := range v.ranges.Kept() {
		g, sp := k.Species.Group, k.Species
		add(wet && g.Amphibian(), caution.Amphibian)
		add(wet && (g.Reptile() || g.Amphibian()), caution.FrailHousehold)
		add(wet && (sp.Has(husbandry.ToxicSkin) || sp.Has(husbandry.WeakToxin)), caution.ToxicSkin)
		add(wet && (sp.Has(husbandry.Bites) || sp.Has(husbandry.Grips)), caution.Bite)
		add(wet && (sp.Has(husbandry.ClimbsOut) || g.Reptile() || g.Amphibian()), caution.Escape)
		add(s.Siphon != nil && (g == husbandry.Plant || g == husbandry.Snail), caution.Disposal)
		add(listed(sp), caution.ListedSpecies, caution.Release, caution.Disposal)
	}
	for _, l := range v.Lines {
		if !v.mine(l) {
			continue
		}
		switch b := l.Body.(type) {
		case book.Dose:
			add(medicine(b) && v.on.Sub(l.At) < medicineFor, caution.Medicine)
		case book.Trim, book.TakenOut:
			add(v.on.Sub(l.At) < lately, caution.Disposal)
		case book.Animal:
			add(b.RedFlag && v.on.Sub(l.At) < lately, caution.RedFlag)
		}
	}
	var triggers []caution.Trigger
	for t, is := range on {
		if is {
			triggers = append(triggers, t)
		}
	}
	return caution.For(triggers...)
}

// medicine reports whether what was put in is a medicine: whatever is no neutraliser, salt or
// starter. In doubt it is one.
func medicine(d book.Dose) bool {
	what := strings.ToLower(d.What)
	for _, no := range []string{"neutraliser", "conditioner", "starter", "salt", "fertiliser"} {
		if strings.Contains(what, no) {
			return false
		}
	}
	_, err := water.SaltNamed(d.What)
	return err != nil
}

// listed reports whether the species table knows of a law about the species somewhere. The sheet
// then points to the authority; it gives no advice on law.
func listed(s husbandry.Species) bool {
	notes := s.Social + s.Hazard + s.Law
	return s.Has(husbandry.Listed) || s.Has(husbandry.Invasive) || strings.Contains(notes, "CITES App") || strings.Contains(notes, "EU list")
}
