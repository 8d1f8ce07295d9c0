package plan_test

import (
	"testing"

	"pgregory.net/rapid"

	"halfwater/plan"
	"halfwater/quantity"
)

// A keeper who reads one bucket must not be told to hold by the sheet's own halves of a litre: the
// band to check against holds the mix of every vessel, here from the parts and the analyses alone.
func TestEveryVesselReadsWithinTheCheck(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := riverbank()
		f.Basin = nil
		f.Vessels[0].Litres = quantity.Litres(rapid.IntRange(4, 20).Draw(t, "brim")) / 2
		share := quantity.Share(rapid.Float64Range(0.05, 0.4).Draw(t, "share"))
		s := plan.Write(plan.Input{Belief: exactly(onlyKnown()), Facts: f, Now: sunday, Share: share})
		if s.Pour == nil || len(s.Pour.VesselMix) == 0 {
			t.Fatalf("no check: %+v", s.Refused)
		}
		for _, v := range s.Pour.Vessels {
			gh, kh, ec, all := 0.0, 0.0, 0.0, 0.0
			for _, p := range v.Parts {
				l := float64(p.Litres)
				all += l
				if p.Source == "tap" { // a drop test says (15, 16] and (11, 12]
					gh, kh, ec = gh+15.5*l, kh+11.5*l, ec+560*l
				} else {
					ec += 8 * l
				}
			}
			for of, x := range map[quantity.Measurand]float64{quantity.OfGH: gh / all, quantity.OfKH: kh / all, quantity.OfEC: ec / all} {
				for _, e := range s.Pour.VesselMix {
					if e.Of == of && (x < e.After.Lo-0.01 || x > e.After.Hi+0.01) {
						t.Fatalf("%s of a vessel is %v, the check says %v to %v: %+v", of, x, e.After.Lo, e.After.Hi, s.Pour.Vessels)
					}
				}
			}
		}
	})
}

// Every vessel holds of each water the same, as far as half litres allow.
func TestVesselsAreAlike(t *testing.T) {
	s := plan.Write(plan.Input{Belief: exactly(onlyKnown()), Facts: riverbank(), Now: sunday, Share: 0.375})
	least, most := map[string]quantity.Litres{}, map[string]quantity.Litres{}
	for _, v := range s.Pour.Vessels {
		for _, p := range v.Parts {
			if l, ok := least[p.Source]; !ok || p.Litres < l {
				least[p.Source] = p.Litres
			}
			most[p.Source] = max(most[p.Source], p.Litres)
		}
	}
	for source := range most {
		if most[source]-least[source] > 0.5 {
			t.Errorf("%s: %v to %v L in vessels of one pour", source, least[source], most[source])
		}
	}
}
