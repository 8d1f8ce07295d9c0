package kit_test

import (
	"fmt"
	"time"

	"halfwater/kit"
	"halfwater/quantity"
)

// A card that shows 10 says 7.1 to 15.8 mg/L as NO3, kept as nitrogen; what it does not print it
// does not say.
func ExampleKit_Read() {
	card := kit.Kit{
		Name: "nitrate card", Of: quantity.OfNO3, Form: kit.Card, Unit: "mg/L", Basis: quantity.AsNO3,
		Steps: []float64{0, 5, 10, 25, 50, 100},
	}
	iv, err := card.Read("10", time.Time{})
	fmt.Printf("%.1f to %.1f mg NO3/L = %.2f to %.2f mg N/L, %v\n",
		quantity.Nitrate(iv.Lo).AsNO3(), quantity.Nitrate(iv.Hi).AsNO3(), iv.Lo, iv.Hi, err)
	_, err = card.Read("12", time.Time{})
	fmt.Println(err)
	card.Basis = quantity.NoBasis
	_, err = card.Read("10", time.Time{})
	fmt.Println(err)
	// Output:
	// 7.1 to 15.8 mg NO3/L = 1.60 to 3.57 mg N/L, <nil>
	// kit "nitrate card" prints no 12 mg/L: its nearest steps are 10 and 25; write one of them or "between 10 and 25"
	// kit "nitrate card" (nitrate): as NO3 or as N? The same number differs by a factor of up to 4.43; look on the card or the leaflet; when neither says, write "not stated"
}

// The fourth drop changed the colour: three were too few.
func ExampleKit_Read_drops() {
	kh := kit.Kit{Name: "KH drops", Of: quantity.OfKH, Form: kit.Drops, Unit: "dKH", PerDrop: 1}
	iv, _ := kh.Read("4", time.Time{})
	fmt.Printf("KH over %g, at most %g\n", iv.Lo, iv.Hi)
	// Output: KH over 3, at most 4
}
