package infer_test

import (
	"fmt"
	"time"

	"halfwater/book"
	"halfwater/infer"
	"halfwater/quantity"
)

// A KH test changed colour at the third drop, this morning.
func ExampleBelieve() {
	at := time.Date(2026, 5, 3, 9, 0, 0, 0, time.UTC)
	b, err := infer.Believe(infer.Window{
		At: at.Add(2 * time.Hour),
		Lines: []book.Line{{
			ID: "1", At: at, Recorded: at, Water: book.MainWater, By: book.Keeper,
			Body: book.Reading{Of: quantity.OfKH, Shown: "3", Unit: "dKH", Lo: 2, Hi: 3},
		}},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	band, _ := b.Band(quantity.OfKH)
	fmt.Printf("KH %.1f, 8 in 10 between %.1f and %.1f\n", band.Median, band.Lo, band.Hi)
	_, known := b.Band(quantity.OfGH)
	fmt.Println("GH known:", known)
	// Output:
	// KH 2.4, 8 in 10 between 1.8 and 3.3
	// GH known: false
}
