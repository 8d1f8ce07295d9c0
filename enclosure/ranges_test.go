package enclosure

import (
	"errors"
	"math"
	"strings"
	"testing"

	"halfwater/husbandry"
	"halfwater/quantity"
)

var riverbank = []Batch{
	{Name: "frogs", Species: "Theloderma corticale", Count: 4},
	{Name: "ricefish", Species: "Oryzias latipes", Count: 12},
	{Name: "shrimp", Species: "Neocaridina davidi", Count: 40},
}

// The ends are those of the species table.
func TestRangesNameWhoSetsThem(t *testing.T) {
	r, err := KeepingRanges(riverbank, nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		of         quantity.Measurand
		lo, hi     float64
		loBy, hiBy string
	}{
		{quantity.OfGH, 5, 10, "ricefish", "frogs"},
		{quantity.OfKH, 3, 6, "ricefish", "frogs"},
		{quantity.OfPH, 6.8, 7.5, "ricefish", "frogs"},
		{quantity.OfWaterTemp, 18, 24, "frogs", "frogs"},
	} {
		k, ok := r.Of(c.of)
		if !ok || k.Range.Lo != c.lo || k.Range.Hi != c.hi || k.LoBy.Batch != c.loBy || k.HiBy.Batch != c.hiBy {
			t.Errorf("%s: %+v", c.of, k)
		}
	}
	if no3, _ := r.Of(quantity.OfNO3); math.Abs(quantity.Nitrate(no3.Range.Hi).AsNO3()-20) > 1e-9 || no3.HiBy.Batch != "frogs" {
		t.Errorf("nitrate: %+v", no3)
	}
	if r.Steps.GH != 0.08 || r.Class != husbandry.Ordinary {
		t.Errorf("steps %+v, class %s", r.Steps, r.Class)
	}
}

func TestSplashersDoNotHoldTheWater(t *testing.T) {
	with := append([]Batch{{Name: "dragon", Species: "Physignathus cocincinus", Count: 1}}, riverbank...)
	a, err := KeepingRanges(with, nil)
	var c Conflict
	if !errors.As(err, &c) || c.Of != quantity.OfAirTemp { // the dragon wants it warmer than the frogs bear
		t.Errorf("air: %v", err)
	}
	b, _ := KeepingRanges(riverbank, nil)
	for _, of := range []quantity.Measurand{quantity.OfGH, quantity.OfKH, quantity.OfNO3} {
		x, _ := a.Of(of)
		y, _ := b.Of(of)
		if x.Range != y.Range {
			t.Errorf("%s: %v with a water dragon, %v without", of, x.Range, y.Range)
		}
	}
	if len(a.LeftOut) == 0 {
		t.Error("what was left out is not said")
	}
}

func TestConflictNamesBoth(t *testing.T) {
	stock := []Batch{{Name: "mollies", Species: "Poecilia sphenops", Count: 5}, {Name: "cardinals", Species: "Paracheirodon axelrodi", Count: 10}}
	r, err := KeepingRanges(stock, nil)
	var c Conflict
	if !errors.As(err, &c) || c.LoBy.Batch != "mollies" || c.HiBy.Batch != "cardinals" || !(c.Lo > c.Hi) {
		t.Fatalf("%v", err)
	}
	if !strings.Contains(err.Error(), "molly needs at least") || !strings.Contains(err.Error(), "cardinal tetra bears at most") {
		t.Errorf("%v", err)
	}
	if _, ok := r.Of(quantity.OfWaterTemp); !ok {
		t.Error("the other ranges are not given")
	}
	// The keeper's own range decides, and says whom it passes.
	own := []RangeWanted{
		{Of: quantity.OfGH, Range: quantity.Range[float64]{Lo: 8, Hi: 12}},
		{Of: quantity.OfKH, Range: quantity.Range[float64]{Lo: 4, Hi: 9}},
		{Of: quantity.OfPH, Range: quantity.Range[float64]{Lo: 7, Hi: 7.2}},
	}
	r, err = KeepingRanges(stock, own)
	if err != nil {
		t.Fatal(err)
	}
	if gh, _ := r.Of(quantity.OfGH); len(gh.Beyond) != 2 || !gh.LoBy.Keeper {
		t.Errorf("GH %+v", gh)
	}
}

func TestOwnRangesNeverLoosenPoisons(t *testing.T) {
	inf := math.Inf(1)
	var looser husbandry.LooserThanTable
	for _, w := range []RangeWanted{
		{Of: quantity.OfNO2, Range: quantity.Range[float64]{Lo: 0, Hi: 1}},
		{Of: quantity.OfOxygen, Range: quantity.Range[float64]{Lo: 4, Hi: inf}},
	} {
		if _, err := KeepingRanges(riverbank, []RangeWanted{w}); !errors.As(err, &looser) {
			t.Errorf("%s: %v", w.Of, err)
		}
	}
	r, err := KeepingRanges(riverbank, []RangeWanted{{Of: quantity.OfNO2, Range: quantity.Range[float64]{Lo: 0, Hi: 0.1}}})
	if err != nil {
		t.Fatal(err)
	}
	line, _ := r.Lines(husbandry.Maybe[quantity.MgPerL]{}).Of(husbandry.NitriteLine)
	if act, _ := line.Act.Get(); act != 0.1 {
		t.Errorf("act line of nitrite %+v", line)
	}
}

func TestUnknownStockIsTakenAsTheMostSensitive(t *testing.T) {
	r, err := KeepingRanges([]Batch{{Name: "pair", Count: 2}, {Name: "gone", Species: "Oryzias latipes"}}, nil)
	if err != nil || len(r.Unknown) != 1 || r.Class != husbandry.Sensitive || r.Steps.GH != 0.08 || len(r.All) != 0 {
		t.Errorf("%+v %v", r, err)
	}
}

func TestPlantsGiveWayToAnimals(t *testing.T) {
	stock := []Batch{{Name: "newts", Species: "Danio rerio", Count: 3}, {Name: "sword", Species: "Echinodorus grisebachii", Count: 1}}
	r, err := KeepingRanges(stock, nil)
	if err != nil {
		t.Fatal(err)
	}
	if k, _ := r.Of(quantity.OfWaterTemp); k.Range.Lo != 21 || !k.LoBy.Plant {
		t.Errorf("the plant narrows where there is room: %+v", k)
	}
	stock[0] = Batch{Name: "mollies", Species: "Poecilia sphenops", Count: 3}
	stock[1].Species = "Elodea canadensis"                                                              // 10 to 24 C, KH 3 to 18
	stock = append(stock, Batch{Name: "mudskipper", Species: "Periophthalmus novemradiatus", Count: 1}) // 25 to 29 C
	r, err = KeepingRanges(stock, nil)
	if err != nil {
		t.Fatal(err)
	}
	if k, _ := r.Of(quantity.OfWaterTemp); k.Range.Lo != 25 || k.Range.Hi != 28 {
		t.Errorf("animals first: %+v", k)
	}
}
