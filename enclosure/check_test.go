package enclosure

import (
	"errors"
	"math"
	"testing"

	"halfwater/husbandry"
	"halfwater/quantity"
	"halfwater/water"
)

func TestCheckNamesTheFault(t *testing.T) {
	box := Basin{Length: 900, Width: 450, Height: 500, FullMark: 300, PumpIntake: 100, HeaterLine: 120, LandShare: 0.35, BedFront: 20, BedBack: 60, StoneKg: 20, WoodKg: 3}
	if err := box.Check(); err != nil {
		t.Fatal(err)
	}
	with := func(change func(*Basin)) Basin { b := box; change(&b); return b }
	for _, c := range []struct {
		fact  interface{ Check() error }
		field string
		code  string
	}{
		{with(func(b *Basin) { b.Width = 0 }), "width", "enclosure.no-footprint"},
		{with(func(b *Basin) { b.FullMark = 510 }), "full mark", "enclosure.full-mark"},
		{with(func(b *Basin) { b.FullMark = 0 }), "full mark", "enclosure.full-mark"},
		{with(func(b *Basin) { b.PumpIntake = 320 }), "pump intake", "enclosure.above-full-mark"},
		{with(func(b *Basin) { b.HeaterLine = 301 }), "heater line", "enclosure.above-full-mark"},
		{with(func(b *Basin) { b.LandShare = 35 }), "land share", "enclosure.share"},
		{with(func(b *Basin) { b.LandShare = quantity.Share(math.NaN()) }), "land share", "enclosure.share"},
		{with(func(b *Basin) { b.BedBack = 600 }), "bed at the back", "enclosure.bed"},
		{with(func(b *Basin) { b.BedFront, b.BedBack = 400, 400 }), "bed in front", "enclosure.no-water"},
		{with(func(b *Basin) { b.StoneKg = -1 }), "stone", "enclosure.negative"},
		{with(func(b *Basin) { b.StoneKg = 900 }), "stone", "enclosure.displaced"},
		{with(func(b *Basin) { b.FilterLitres = 5000 }), "filter", "enclosure.filter"},
		{with(func(b *Basin) { b.Profile = []Point{{0, 300}} }), "profile", "enclosure.profile"},
		{with(func(b *Basin) { b.Profile = []Point{{0, 300}, {500, 40}, {400, 40}} }), "profile", "enclosure.profile-order"},
		{with(func(b *Basin) { b.Profile = []Point{{0, 300}, {1000, 40}} }), "profile", "enclosure.profile"},
		{SourceWater{}, "name", "enclosure.no-name"},
		{SourceWater{Name: "tap", InStore: water.Stated(quantity.Litres(-1))}, "in store", "enclosure.negative"},
		{Fitting{Name: "h", What: Heater, Power: -5}, "power", "enclosure.negative"},
		{Fitting{Name: "RO", What: ROUnit, PressureShare: 73}, "pressure share", "enclosure.share"},
		{Fitting{Name: "x"}, "what", "enclosure.no-what"},
		{Stage{Name: "sponge", CleanJug: 14e9}, "jug", "enclosure.jug"},
		{Batch{Name: "frogs", Count: -1}, "count", "enclosure.negative"},
		{Batch{Name: "frogs", Species: "Theloderma corticela"}, "species", "enclosure.species"},
		{RangeWanted{Of: "hardness"}, "of", "enclosure.unknown-measurand"},
		{RangeWanted{Of: quantity.OfPH, Range: quantity.Range[float64]{Lo: 8, Hi: 7}}, "range", "enclosure.range-empty"},
		{RangeWanted{Of: quantity.OfPH, Range: quantity.Range[float64]{Lo: 70, Hi: 80}}, "range", "enclosure.range-span"},
		{Vessel{Name: "bucket"}, "litres", "enclosure.vessel"},
		{Neutraliser{Name: "drops", MlPer: 5}, "litres", "enclosure.label"},
		{Routine{ChangeShare: 20}, "change share", "enclosure.share"},
		{Retired{OfKind: "frog"}, "kind", "enclosure.retired"},
		{Retired{OfKind: "stage"}, "key", "enclosure.retired"},
		{About{Altitude: 9000}, "altitude", "enclosure.altitude"},
	} {
		err := c.fact.Check()
		var f Fault
		if !errors.As(err, &f) || f.Field != c.field || f.Code != c.code || f.Do == "" {
			t.Errorf("%+v: %v, want %s of %s", c.fact, err, c.code, c.field)
		}
	}
	err := Batch{Name: "frogs", Species: "Theloderma corticela"}.Check()
	var u husbandry.UnknownSpecies
	if !errors.As(err, &u) || len(u.Near) == 0 {
		t.Errorf("no suggestion: %v", err)
	}
	for _, ok := range []interface{ Check() error }{
		About{Name: "Riverbank"},
		riverbank[0],
		Routine{ChangeShare: 0.2, EveryDays: 7},
		Retired{OfKind: "basin"},
		RangeWanted{Of: quantity.OfGH, Range: quantity.Range[float64]{Lo: 4, Hi: math.Inf(1)}},
		with(func(b *Basin) { b.Profile = []Point{{0, 300}, {400, 300}, {400, 40}, {900, 30}} }),
	} {
		if err := ok.Check(); err != nil {
			t.Errorf("%+v: %v", ok, err)
		}
	}
}

// A later fact of the same kind and key replaces the earlier one and leaves it as it was.
func TestFactsReplaceByKey(t *testing.T) {
	var f Facts
	f = f.With(Stage{Name: "sponge", Order: 1}).With(Stage{Name: "floss", Order: 2})
	before := f
	f = f.With(Stage{Name: "sponge", Order: 3}).With(Retired{OfKind: "stage", OfKey: "floss"})
	if len(before.Stages) != 2 || before.Stages[0].Order != 1 || len(f.Stages) != 1 || f.Stages[0].Order != 3 {
		t.Errorf("%+v then %+v", before.Stages, f.Stages)
	}
}
