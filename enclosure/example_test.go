package enclosure_test

import (
	"fmt"

	"halfwater/enclosure"
	"halfwater/quantity"
)

// 120 x 50 cm with 35 % land; the level fell 26 mm: 0.39 m2 x 26 mm.
func ExampleLevelTable_Fell() {
	box := enclosure.Basin{Length: 1200, Width: 500, Height: 500, FullMark: 300, LandShare: 0.35}
	table, err := enclosure.NewLevelTable(box, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	fell := table.Fell(300, 274)
	fmt.Printf("%.1f L, in 8 of 10 cases %.1f to %.1f\n", fell.Median, fell.Lo, fell.Hi)
	// Output: 10.1 L, in 8 of 10 cases 9.3 to 11.0
}

// A weekly change of known litres, read with one pen before, after and in the bucket, says how much
// water there is, whatever the gain of the pen.
func ExampleHeldWater() {
	box := enclosure.Basin{Length: 1000, Width: 450, Height: 500, FullMark: 260, LandShare: 0.3, BedFront: 30, BedBack: 60}
	change := enclosure.Dilution{
		Of: quantity.OfEC, Out: 15, In: 15,
		Before: enclosure.Value{X: 420, SD: 4}, After: enclosure.Value{X: 347, SD: 4}, Poured: enclosure.Value{X: 40, SD: 1},
	}
	held, err := enclosure.HeldWater(enclosure.Geometry{Basin: &box}, []enclosure.Dilution{change})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, s := range held.Sources {
		fmt.Printf("%-24s %.0f L (%.0f to %.0f)\n", s.Code, s.Held.Median, s.Held.Lo, s.Held.Hi)
	}
	_, err = held.DoseLitres(120)
	fmt.Println(err)
	// Output:
	// enclosure.held-prior     59 L (39 to 89)
	// enclosure.held-measures  74 L (65 to 85)
	// enclosure.held-dilution  78 L (70 to 86)
	// a dose for 120 L of the label is 54 % too much: the box holds 78 L (70 to 86); dose for the held water
}

// Rated 190 L a day at 25 C; the water has 10 C and 73 % of the rated pressure.
func ExampleFitting_Production() {
	unit := enclosure.Fitting{Name: "RO unit", What: enclosure.ROUnit, Rated: 190, RatedTemp: 25, PressureShare: 0.73, RejectRatio: 3}
	p, err := unit.Production(10)
	if err != nil {
		fmt.Println(err)
		return
	}
	usual, _ := p.Takes(25)
	fmt.Printf("%.0f L/d; 25 L take %.1f h with %.0f L of reject\n", p.Rate.Median, usual.Hours(), p.Reject(25))
	// Output: 88 L/d; 25 L take 6.8 h with 75 L of reject
}

// The animal that sets each end is named.
func ExampleKeepingRanges() {
	r, err := enclosure.KeepingRanges([]enclosure.Batch{
		{Name: "frogs", Species: "Theloderma corticale", Count: 4},
		{Name: "ricefish", Species: "Oryzias latipes", Count: 12},
	}, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	gh, _ := r.Of(quantity.OfGH)
	fmt.Printf("GH %g (%s) to %g (%s)\n", gh.Range.Lo, gh.LoBy, gh.Range.Hi, gh.HiBy)
	_, err = enclosure.KeepingRanges([]enclosure.Batch{
		{Name: "mollies", Species: "Poecilia sphenops", Count: 5},
		{Name: "tetras", Species: "Paracheirodon axelrodi", Count: 10},
	}, []enclosure.RangeWanted{
		{Of: quantity.OfGH, Range: quantity.Range[float64]{Lo: 8, Hi: 12}, Reason: "as they were raised"},
		{Of: quantity.OfPH, Range: quantity.Range[float64]{Lo: 7, Hi: 7.4}},
	})
	fmt.Println(err)
	// Output:
	// GH 5 (Japanese rice fish) to 10 (Vietnamese mossy frog)
	// KH: molly needs at least 9 dKH, cardinal tetra bears at most 4: they cannot share this enclosure; house one of them apart, or set a range of your own
}
