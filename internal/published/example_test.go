package published_test

import (
	"fmt"

	"halfwater/internal/published"
)

func ExampleValue_Off() {
	kw := published.Value{
		ID: "S01-006", Quantity: "log10 Kw", Inputs: "25 C", Expected: -14, Unit: "1",
		Tolerance: "abs:0.004", Source: "Plummer & Busenberg 1982", Basis: published.Independent,
	}
	fmt.Printf("%q\n", kw.Off(-13.998))
	fmt.Println(kw.Off(-13.9))
	// Output:
	// ""
	// S01-006 log10 Kw (25 C): got -13.9, expected -14 1 within abs:0.004; independent, Plummer & Busenberg 1982
}
