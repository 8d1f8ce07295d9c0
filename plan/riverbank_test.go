package plan_test

import (
	"math"
	"math/rand/v2"
	"time"

	"halfwater/enclosure"
	"halfwater/infer"
	"halfwater/kit"
	"halfwater/plan"
	"halfwater/quantity"
	"halfwater/water"
)

var sunday = time.Date(2026, 11, 22, 9, 0, 0, 0, time.UTC)

// about is a draw in which little is in doubt.
func about() infer.Draw {
	return infer.Draw{
		Held: 80, Temp: 23, PH: 7.4, PCO2: 2e-3, GH: 7, KH: 3.5, EC: 300, TAN: 0.03, NO2: 0.01, NO3: 4, Chloride: 15,
		NO3Rise: 0.7, KHFall: 0.2, Evaporation: 0.8,
	}
}

// belief spreads a draw by a relative doubt, seeded.
func belief(d infer.Draw, n int, doubt float64) infer.Belief {
	r := rand.New(rand.NewPCG(7, 11))
	b := infer.Belief{Water: "main", At: sunday, Evidence: map[quantity.Measurand]infer.Evidence{}}
	by := func(x float64) float64 { return x * math.Exp(doubt*r.NormFloat64()) }
	for range n {
		e := d
		e.Held = quantity.HeldLitres(by(float64(d.Held)))
		e.GH, e.KH, e.EC = quantity.Hardness(by(float64(d.GH))), quantity.Alkalinity(by(float64(d.KH))), quantity.Conductivity(by(float64(d.EC)))
		e.TAN, e.NO2, e.NO3 = quantity.TotalAmmonia(by(float64(d.TAN))), quantity.Nitrite(by(float64(d.NO2))), quantity.Nitrate(by(float64(d.NO3)))
		e.NO3Rise, e.KHFall = quantity.Nitrate(by(float64(d.NO3Rise))), quantity.Alkalinity(by(float64(d.KHFall)))
		e.PH = d.PH + quantity.PH(doubt*r.NormFloat64())
		e.PCO2 = quantity.Atm(math.NaN())
		b.Draws = append(b.Draws, e)
	}
	return b
}

func hardTap() enclosure.SourceWater {
	return enclosure.SourceWater{Name: "tap", Analysis: water.Analysis{
		Kind: water.Mains, Temperature: water.Stated[quantity.Celsius](14), GH: water.Stated[quantity.Hardness](16),
		KH: water.Stated[quantity.Alkalinity](12), PH: water.Stated[quantity.PH](7.6), EC: water.Stated[quantity.Conductivity](560),
		NO3: water.Stated(quantity.NitrateAsNO3(10)), FreeChlorine: water.Stated[quantity.MgPerL](0.3),
	}}
}

func pureRO() enclosure.SourceWater {
	return enclosure.SourceWater{Name: "RO", MadeBy: "RO unit", Analysis: water.Analysis{
		Kind: water.RO, Temperature: water.Stated[quantity.Celsius](18), GH: water.Stated[quantity.Hardness](0),
		KH: water.Stated[quantity.Alkalinity](0), EC: water.Stated[quantity.Conductivity](8),
	}}
}

func riverbank() enclosure.Facts {
	return enclosure.Facts{
		About:   enclosure.About{Name: "Riverbank"},
		Basin:   &enclosure.Basin{Length: 1000, Width: 500, Height: 600, FullMark: 240, PumpIntake: 90, HeaterLine: 120, LandShare: 0.35, BedFront: 30, BedBack: 80, FilterLitres: 4},
		Sources: []enclosure.SourceWater{hardTap(), pureRO()},
		Fittings: []enclosure.Fitting{
			{Name: "heater", What: "heater", Power: 100},
			{Name: "pump", What: "pump", Power: 8},
			{Name: "RO unit", What: "ro unit", Rated: 190, RatedTemp: 25, PressureShare: 0.73, RejectRatio: 3},
		},
		Stages: []enclosure.Stage{
			{Name: "coarse sponge", Order: 1, Medium: "sponge", Biological: true, CleanJug: 14 * time.Second, Jug: 2},
			{Name: "fine sponge", Order: 2, Medium: "sponge", Biological: true},
			{Name: "carbon", Order: 3, Medium: "carbon", Carbon: true},
		},
		Stock: []enclosure.Batch{{Name: "ricefish", Species: "Oryzias latipes", Count: 12, Mass: 0.4}},
		Wanted: []enclosure.RangeWanted{
			{Of: quantity.OfGH, Range: quantity.Range[float64]{Lo: 6, Hi: 6}}, {Of: quantity.OfKH, Range: quantity.Range[float64]{Lo: 4, Hi: 4}},
		},
		Vessels:      []enclosure.Vessel{{Name: "bucket", Litres: 8, Count: 2}},
		Neutralisers: []enclosure.Neutraliser{{Name: "water conditioner", MlPer: 5, ForLitres: 20}},
		Kits: []kit.Kit{
			{Name: "GH drops", Of: quantity.OfGH, Form: kit.Drops, Unit: "dGH", PerDrop: 1},
			{Name: "KH drops", Of: quantity.OfKH, Form: kit.Drops, Unit: "dKH", PerDrop: 1},
		},
		Routine: &enclosure.Routine{ChangeShare: 0.20, EveryDays: 7, TopUpWith: "RO"},
	}
}

func write(b infer.Belief, f enclosure.Facts) plan.Sheet {
	return plan.Write(plan.Input{Belief: b, Facts: f, Now: sunday})
}

// likeTank is a source water that moves nothing.
func likeTank() enclosure.SourceWater {
	return enclosure.SourceWater{Name: "tap", Analysis: water.Analysis{
		GH: water.Stated[quantity.Hardness](7.2), KH: water.Stated[quantity.Alkalinity](3.7), PH: water.Stated[quantity.PH](7.4),
		EC: water.Stated[quantity.Conductivity](300), NO3: water.Stated[quantity.Nitrate](0), FreeChlorine: water.Stated[quantity.MgPerL](0),
	}}
}
