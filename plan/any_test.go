package plan_test

import (
	"math"
	"time"

	"pgregory.net/rapid"

	"halfwater/book"
	"halfwater/enclosure"
	"halfwater/plan"
	"halfwater/quantity"
	"halfwater/water"
)

// anyInput draws an enclosure with whatever may be in it, known or not, and a few lines of book.
func anyInput(t *rapid.T) plan.Input {
	yes := func(name string) bool { return rapid.Bool().Draw(t, name) }
	f := riverbank()
	d := about()
	between := func(name string, lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(t, name) }
	d.Held = quantity.HeldLitres(between("held", 10, 300))
	d.GH, d.KH = quantity.Hardness(between("gh", 0.5, 20)), quantity.Alkalinity(between("kh", 0.2, 12))
	d.EC, d.TAN = quantity.Conductivity(between("ec", 50, 900)), quantity.TotalAmmonia(between("tan", 0, 3))
	d.PH, d.NO3 = quantity.PH(between("ph", 6, 8.6)), quantity.Nitrate(between("no3", 0, 25))
	for _, unknown := range []struct {
		name string
		is   func()
	}{
		{"gh", func() { d.GH = quantity.Hardness(math.NaN()) }},
		{"kh", func() { d.KH = quantity.Alkalinity(math.NaN()) }},
		{"ph", func() { d.PH = quantity.PH(math.NaN()) }},
		{"tan", func() { d.TAN = quantity.TotalAmmonia(math.NaN()) }},
		{"temp", func() { d.Temp = quantity.Celsius(math.NaN()) }},
		{"rates", func() { d.KHFall, d.NO3Rise = quantity.Alkalinity(math.NaN()), quantity.Nitrate(math.NaN()) }},
	} {
		if rapid.IntRange(0, 3).Draw(t, "unknown "+unknown.name) == 0 {
			unknown.is()
		}
	}
	if yes("no basin") {
		f.Basin = nil
	} else {
		f.Basin.StoneKg = rapid.SampledFrom([]float64{0, 8}).Draw(t, "stone")
	}
	if yes("no ranges") {
		f.Wanted = nil
	}
	if yes("no vessels") {
		f.Vessels = nil
	} else {
		f.Vessels[0].Litres = quantity.Litres(rapid.IntRange(1, 40).Draw(t, "vessel")) / 2
	}
	if yes("no neutraliser") {
		f.Neutralisers = nil
	}
	if yes("store") {
		f.Sources[1].InStore = water.Stated(quantity.Litres(rapid.IntRange(0, 60).Draw(t, "in store")) / 2)
	}
	if yes("rain") {
		f.Sources = append(f.Sources, enclosure.SourceWater{Name: "rain", Analysis: water.Analysis{
			Kind: water.Rain, GH: water.Stated[quantity.Hardness](0.3), KH: water.Stated[quantity.Alkalinity](0.3),
		}})
	}
	if yes("chloramine") {
		f.Sources[0].Chloramine = true
	}
	if yes("salts") {
		f.Routine.Salts = []string{"NaHCO3", "CaCl2.2H2O", "MgSO4.7H2O", "NaCl"}
	}
	if yes("lamp") {
		f.Fittings = append(f.Fittings, enclosure.Fitting{Name: "lamp", What: "uv lamp"})
	}
	for _, species := range []string{"Theloderma corticale", "Neocaridina davidi", "Pistia stratiotes", "Trachemys scripta"} {
		if yes(species) {
			f.Stock = append(f.Stock, enclosure.Batch{Name: species, Species: species, Count: 3})
		}
	}
	in := plan.Input{Belief: belief(d, 40, 0.1), Facts: f, Now: sunday}
	at := func(days int, body book.Body) {
		in.Lines = append(in.Lines, book.Line{ID: book.ID(rune('a' + len(in.Lines))), At: sunday.AddDate(0, 0, -days), Water: "main", Body: body})
	}
	if yes("medicine") {
		at(3, book.Dose{What: "medicine of the vet", Millilitres: 5})
	}
	if yes("sponge") {
		at(rapid.IntRange(0, 90).Draw(t, "days since"), book.Service{Stage: "fine sponge", RinsedIn: "tank water"})
	}
	if yes("bed") {
		at(0, book.Change{BedShare: 0.5})
	}
	if yes("carbon") {
		at(0, book.Service{Stage: "carbon", RinsedIn: "replaced"})
	}
	if yes("jug") {
		at(0, book.TimedJug{Stage: "coarse sponge", Litres: 2, Seconds: rapid.Float64Range(14, 40).Draw(t, "seconds")})
	}
	if yes("trim") {
		at(0, book.Trim{What: "plants", WetGrams: 80})
	}
	in.On = sunday.Add(time.Duration(rapid.IntRange(0, 72).Draw(t, "hours ahead")) * time.Hour)
	in.Share = rapid.SampledFrom([]quantity.Share{0, 0, 0.1, 0.4}).Draw(t, "share")
	return in
}
