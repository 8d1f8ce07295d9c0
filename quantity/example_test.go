package quantity_test

import (
	"fmt"

	"halfwater/quantity"
)

// A card shows nitrate as NO3; the program keeps the nitrogen.
func ExampleMeasurand_Canonical() {
	n, err := quantity.OfNO3.Canonical(10, "mg/L", quantity.AsNO3)
	fmt.Printf("%.2f %s as N %v\n", n, quantity.OfNO3.Unit(), err)
	_, err = quantity.OfNO3.Canonical(10, "mg/L", quantity.NoBasis)
	fmt.Println(err)
	// Output:
	// 2.26 mg/L as N <nil>
	// nitrate needs a basis, one of [as N as NO3]
}

func ExampleHardness() {
	fmt.Printf("%.1f mg/L as CaCO3\n", quantity.Hardness(6).CaCO3())
	fmt.Printf("%.1f dGH\n", quantity.HardnessMmol(1))
	// Output:
	// 107.1 mg/L as CaCO3
	// 5.6 dGH
}
