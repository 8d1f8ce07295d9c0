package load_test

import (
	"fmt"

	"halfwater/load"
	"halfwater/quantity"
)

// A dead fish of 5 g that nobody saw, in 78 L of held water.
func ExampleCarcass() {
	n := load.Carcass(5).N
	fmt.Printf("%.0f mg N, up to %.1f mg N/L\n", n.Median, n.Median.In(78))
	// Output: 125 mg N, up to 1.6 mg N/L
}

// A hundred grams of hair algae taken out, wet.
func ExampleTrimmed() {
	n := load.Trimmed(100).Median
	fmt.Printf("%.0f mg N, as much as %.0f mg of nitrate\n", n, quantity.Nitrate(n).AsNO3())
	// Output: 200 mg N, as much as 885 mg of nitrate
}
