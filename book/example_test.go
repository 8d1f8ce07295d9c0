package book_test

import (
	"fmt"
	"time"

	"halfwater/book"
	"halfwater/enclosure"
)

// The tap was analysed anew in June and the letter came in July: what was known in June stays as it
// was.
func ExampleFactsAt() {
	day := func(month, day int) time.Time { return time.Date(2026, time.Month(month), day, 0, 0, 0, 0, time.UTC) }
	lines := []book.Line{
		{ID: "1", At: day(3, 1), Recorded: day(3, 1), Body: enclosure.Batch{Name: "ricefish", Count: 12}, Water: book.MainWater},
		{ID: "2", At: day(6, 1), Recorded: day(7, 1), Body: enclosure.Batch{Name: "ricefish", Count: 20}, Water: book.MainWater},
	}
	for _, known := range []time.Time{day(6, 15), day(7, 15)} {
		f := book.FactsAt(lines, book.MainWater, day(6, 10), known)
		fmt.Printf("known on %s: %d ricefish on 10 June\n", known.Format("2 January"), f.Stock[0].Count)
	}
	// Output:
	// known on 15 June: 12 ricefish on 10 June
	// known on 15 July: 20 ricefish on 10 June
}

// A line is checked before it is kept; the fault says what to do.
func ExampleLine_Check() {
	now := time.Date(2026, 5, 24, 18, 0, 0, 0, time.UTC)
	l := book.Line{ID: "1", At: now, Recorded: now, By: book.Keeper, Water: book.MainWater, Body: book.Change{LevelBefore: 200, LevelAfter: 240}}
	fmt.Println(l.Check(now))
	// Output:
	// change, level after is 24 cm, above the level before, 20 cm: write the level at the siphon mark, before pouring back
}
