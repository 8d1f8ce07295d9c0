package plan_test

import (
	"fmt"
	"time"

	"halfwater/enclosure"
	"halfwater/infer"
	"halfwater/plan"
	"halfwater/quantity"
	"halfwater/water"
)

// A fifth of 80 L is due. The tap is hard, the rest is RO; the enclosure should stay at GH 6 and
// KH 4, and loses 0.2 dKH a week.
func ExampleWrite() {
	tap := water.Analysis{GH: water.Stated[quantity.Hardness](16), KH: water.Stated[quantity.Alkalinity](12), PH: water.Stated[quantity.PH](7.6)}
	ro := water.Analysis{Kind: water.RO, GH: water.Stated[quantity.Hardness](0), KH: water.Stated[quantity.Alkalinity](0)}
	facts := enclosure.Facts{
		Basin:   &enclosure.Basin{Length: 1000, Width: 500, Height: 600, FullMark: 240, HeaterLine: 120, LandShare: 0.35},
		Sources: []enclosure.SourceWater{{Name: "tap", Analysis: tap}, {Name: "RO", Analysis: ro}},
		Vessels: []enclosure.Vessel{{Name: "bucket", Litres: 9, Count: 2}},
		Wanted: []enclosure.RangeWanted{
			{Of: quantity.OfGH, Range: quantity.Range[float64]{Lo: 5, Hi: 7}}, {Of: quantity.OfKH, Range: quantity.Range[float64]{Lo: 3, Hi: 5}},
		},
	}
	d := infer.Draw{Held: 80, Temp: 23, PH: 7.3, PCO2: 2e-3, GH: 6, KH: 4, EC: 300, KHFall: 0.2}
	s := plan.Write(plan.Input{
		Belief: infer.Belief{Water: "main", Draws: []infer.Draw{d}}, Facts: facts,
		Now: time.Date(2026, 11, 22, 9, 0, 0, 0, time.UTC),
	})
	fmt.Printf("siphon to %.1f cm, not under %.1f\n", s.Siphon.Mark.Centimetres(), s.Siphon.Stop.Centimetres())
	for _, p := range s.Pour.Parts {
		fmt.Printf("%.1f L %s\n", float64(p.Litres), p.Source)
	}
	for _, v := range s.Pour.Vessels {
		fmt.Printf("%s: %.1f + %.1f\n", v.Vessel, float64(v.Parts[0].Litres), float64(v.Parts[1].Litres))
	}
	// Output:
	// siphon to 20.3 cm, not under 14.0
	// 5.0 L tap
	// 7.0 L RO
	// bucket: 2.5 + 3.5
	// bucket: 2.5 + 3.5
}
