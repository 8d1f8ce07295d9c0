package plan_test

import (
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"halfwater/book"
	"halfwater/caution"
	"halfwater/husbandry"
	"halfwater/plan"
)

// Every sheet with mains, lifting, glass, chemicals, medicine, disposal or a listed species carries
// its caution, and the cautions stand in the order of the table. What a sheet asks for is read here
// from the sheet and the facts, not from the planner.
func TestEverySheetCarriesItsCautions(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := anyInput(t)
		s := plan.Write(in)
		has := func(tr caution.Trigger) bool {
			return slices.ContainsFunc(s.Cautions, func(c caution.Caution) bool { return c.Trigger == tr })
		}
		must := func(when bool, tr caution.Trigger) {
			if when && !has(tr) {
				t.Fatalf("no caution of %s among %+v", tr, s.Cautions)
			}
		}
		handsIn := s.Siphon != nil || s.Pour != nil || s.Service.Due != nil
		must(handsIn, caution.Mains)
		must(handsIn, caution.LevelFalls)
		must(handsIn, caution.Hygiene)
		must(s.Siphon != nil, caution.MouthSiphon)
		must(s.Siphon != nil, caution.WaterOut)
		must(s.Pour != nil, caution.Lifting)
		must(s.Siphon != nil && in.Facts.Basin.StoneKg > 0, caution.Glass)
		must(len(s.Tests) > 0, caution.Chemicals)
		must(s.Pour != nil && s.Pour.Neutraliser != nil, caution.Chemicals)
		must(s.Pour != nil && len(s.Pour.Salts) > 0, caution.Powder)
		for _, l := range in.Lines {
			if d, ok := l.Body.(book.Dose); ok {
				must(strings.Contains(d.What, "medicine"), caution.Medicine)
			}
			_, trim := l.Body.(book.Trim)
			must(trim, caution.Disposal)
		}
		for _, b := range in.Facts.Stock {
			sp, err := husbandry.Lookup(b.Species)
			if err != nil {
				t.Fatal(err)
			}
			must(sp.Has(husbandry.Invasive), caution.ListedSpecies)
			must(sp.Has(husbandry.Invasive), caution.Release)
			must(sp.Has(husbandry.Invasive), caution.Disposal)
			must(handsIn && sp.Group.Amphibian(), caution.Amphibian)
		}
		if !slices.IsSortedFunc(s.Cautions, func(a, b caution.Caution) int { return a.Order - b.Order }) {
			t.Fatal("the cautions are out of order")
		}
	})
}

// The vet sees nothing of a dose of ours: no sheet holds a medicine's amount.
func TestNoSheetDosesAMedicine(t *testing.T) {
	in := plan.Input{Belief: exactly(about()), Facts: riverbank(), Now: sunday}
	in.Lines = []book.Line{{ID: "1", At: sunday.AddDate(0, 0, -2), Water: "main", Body: book.Dose{What: "as the vet said", Millilitres: 3}}}
	s := plan.Write(in)
	if !slices.ContainsFunc(s.Cautions, func(c caution.Caution) bool {
		return c.Trigger == caution.Medicine && slices.Contains(c.DefersTo, caution.Vet)
	}) {
		t.Error("what is no neutraliser, salt or starter counts as a medicine, and the sheet does not point to the vet")
	}
	for _, d := range s.Pour.Salts {
		t.Errorf("a dose of %s without any salt on the shelf", d.Formula)
	}
}
