package climate_test

import (
	"fmt"

	"halfwater/climate"
)

// Air of 25 C and 80 %: it drips at 21.3 C.
func ExampleAir_DewPoint() {
	air := climate.Air{T: 25, RH: 80}
	fmt.Printf("dew point %.1f C, %.1f g/m3, deficit %.1f hPa\n", air.DewPoint(), air.Density(), air.Deficit())
	// Output:
	// dew point 21.3 C, 18.4 g/m3, deficit 6.3 hPa
}

// Topping up 0.2 L a day tells how often the air under the lid is changed.
func ExampleBox_FitChanges() {
	box := climate.Box{
		Surface: 0.4, Water: 25, Activity: 0.5, Volume: 0.35, AirTemp: 26, Room: climate.Air{T: 21, RH: 45},
	}
	n, err := box.FitChanges(0.2)
	fmt.Printf("%.1f changes an hour, RH %.0f %%, %v\n", n, box.At(n).RH, err)
	_, err = box.FitChanges(6)
	fmt.Println(err)
	// Output:
	// 1.9 changes an hour, RH 85 %, <nil>
	// a loss of 6.00 L a day is more than the 1.28 L that this water can give off: look for a leak, or check the water surface
}

// A heater of 150 W stuck on in 78 L that lose 10 W/K, in a room of 19 C.
func ExampleBath() {
	b := climate.Bath{Held: 78, Loss: 10, Room: 19}
	after, _ := b.Until(25, 30, 150)
	fmt.Printf("ends at %.0f C, starts at %.1f K/h, passes 30 C after %.1f h\n", b.EndPoint(150), b.Rate(25, 150), after.Hours())
	// Output:
	// ends at 34 C, starts at 1.0 K/h, passes 30 C after 7.4 h
}

func ExampleDecay_Reaches() {
	decay, _ := climate.FitDecay([]climate.UVReading{{Age: 0, UVI: 3.0}, {Age: 3, UVI: 2.8}, {Age: 7, UVI: 2.5}, {Age: 10, UVI: 2.3}})
	ages, _ := decay.Reaches(2.0)
	fmt.Printf("between month %.1f and %.1f\n", ages.Lo, ages.Hi)
	// Output:
	// between month 14.2 and 15.3
}
