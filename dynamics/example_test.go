package dynamics_test

import (
	"fmt"
	"time"

	"halfwater/book"
	"halfwater/dynamics"
	"halfwater/enclosure"
	"halfwater/quantity"
	"halfwater/water"
)

// A tank of 60 L, fed a gram of dry food a day, a fifth changed for tap each week. Where does nitrate stand
// after half a year by the book's constants, and what does the water lose of its KH in a week?
func Example() {
	begun := time.Date(2026, 1, 5, 9, 0, 0, 0, time.UTC)
	lines := []book.Line{
		{At: begun, Body: enclosure.SourceWater{Name: "tap", Analysis: water.Analysis{
			GH: water.Stated[quantity.Hardness](12), KH: water.Stated[quantity.Alkalinity](8), NO3: water.Stated(quantity.NitrateAsNO3(10)),
		}}},
		{At: begun, Water: book.MainWater, Body: enclosure.Stage{Name: "sponge", Biological: true}},
		{At: begun, Water: book.MainWater, Body: book.Feed{What: "dry", Grams: 1, PerDay: true, InWater: true}},
	}
	for week := range 26 {
		lines = append(lines, book.Line{
			At: begun.AddDate(0, 0, 7*week+6), Water: book.MainWater,
			Body: book.Change{OutLitres: 12, In: []book.Poured{{Source: "tap", Litres: 14}}}, // 2 L have evaporated
		})
	}
	for i := range lines {
		lines[i].ID, lines[i].Recorded = book.ID(fmt.Sprint(i)), lines[i].At
	}

	course, err := dynamics.Compile(lines, dynamics.Window{From: begun, To: begun.AddDate(0, 0, 182), Held: 60})
	if err != nil {
		fmt.Println(err)
		return
	}
	p, d := dynamics.Book(), course.Deviations()
	start := course.Mature(&p, course.Events[0].Pour, 0.2, 0.5)
	out := make([]dynamics.State, 2)
	course.Run(&p, &d, start, 182, []float64{174.5, 180.9}, out, dynamics.Careful)

	fmt.Printf("nitrate %.0f mg NO3/L\n", out[1].Nitrate().AsNO3())
	fmt.Printf("KH lost in the week %.1f d\n", out[0].KH()-out[1].KH())
	fmt.Printf("total ammonia under 0.05 mg N/L: %v\n", out[1].TotalAmmonia() < 0.05)
	// Output:
	// nitrate 149 mg NO3/L
	// KH lost in the week 1.5 d
	// total ammonia under 0.05 mg N/L: true
}

// What is believed of the share of nitrifiers that a rinse under the tap takes.
func ExampleLossOf() {
	tap := dynamics.LossOf("tap")
	fmt.Printf("%.2f, 9 in 10 times between %.2f and %.2f\n", tap.Median(), tap.At(-1.645), tap.At(1.645))
	// Output: 0.35, 9 in 10 times between 0.09 and 0.71
}

// A parameter from a standard normal score and back.
func ExamplePrior() {
	u := dynamics.AmmoniaGrowth.Prior()
	x := u.At(1.645)
	fmt.Printf("%s: %.2f %s, 95 %%: %.2f (z %.2f)\n", u.Name, u.Median, u.Unit, x, u.Z(x))
	// Output: ammonia growth: 0.55 1/d, 95 %: 0.95 (z 1.65)
}

// A night without pump: 120 L under 0.36 m2 of moved water, 60 mg of oxygen breathed an hour.
func ExampleBreathing() {
	b := dynamics.Breathing{Saturation: water.OxygenSaturation(25, 1), Exchange: 2 * 0.36 * 240 / 120, Demand: 60 * 24 / 120}
	fmt.Printf("%.0f hours from 7.5 to 3 mg/L\n", 24*b.Until(7.5, 3))
	// Output: 15 hours from 7.5 to 3 mg/L
}
