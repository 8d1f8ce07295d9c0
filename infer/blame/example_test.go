package blame_test

import (
	"fmt"
	"time"

	"halfwater/book"
	"halfwater/infer/blame"
	"halfwater/quantity"
)

// A level stands 20 mm higher than five days before, and no water is written down between.
func ExampleRisen() {
	level := func(id book.ID, day int, mm float64) book.Line {
		at := time.Date(2026, 5, day, 18, 0, 0, 0, time.UTC)
		return book.Line{ID: id, At: at, Recorded: at, By: book.Keeper, Body: book.Reading{Of: quantity.OfLevel, Lo: mm - 0.5, Hi: mm + 0.5}}
	}
	for _, c := range blame.Risen([]book.Line{level("first", 3, 180), level("second", 8, 200)}) {
		fmt.Println(c.Of.Label(), c.Lines)
		for _, x := range c.Culprits {
			fmt.Printf("%s %s %.2f\n", x.Code, x.Name, x.Odds)
		}
	}
	// Output:
	// level [first second]
	// infer.culprit-log top-up 0.93
	// infer.culprit-water  0.04
	// infer.culprit-reading second 0.03
}
