package say_test

import (
	"fmt"
	"math"
	"testing"
	"time"

	"halfwater/internal/look"
	"halfwater/internal/say"
	"halfwater/quantity"
)

func ExampleBand() {
	nitrate := quantity.Band[float64]{
		Lo: float64(quantity.NitrateAsNO3(15)), Median: float64(quantity.NitrateAsNO3(22)), Hi: float64(quantity.NitrateAsNO3(30)),
	}
	fmt.Println(say.Band(quantity.OfNO3, nitrate, 0))
	fmt.Println(say.Band(quantity.OfKH, quantity.Band[float64]{Lo: 1.63, Median: 2.11, Hi: 2.58}, 0))
	fmt.Println(say.Band(quantity.OfTAN, quantity.Band[float64]{Lo: 0.01, Median: 0.02, Hi: 0.06}, 0.1))
	fmt.Println(say.Band(quantity.OfNO2, quantity.Band[float64]{Lo: 0.01, Median: 0.02, Hi: 0.07}, 0.04))
	fmt.Println(say.Band(quantity.OfEC, quantity.Band[float64]{Lo: 238.4, Median: 259.7, Hi: 281.2}, 0))
	// Output:
	// about 22 mg/L as NO3, could be 15 to 30
	// about 2.1 °dKH, could be 1.6 to 2.6
	// under 0.10 mg/L as N
	// likely under 0.04 mg/L as N, could be up to 0.07
	// about 260 µS/cm at 25 °C, could be 240 to 280
}

func TestNumbersShowNoFalseDigits(t *testing.T) {
	wide := quantity.Band[float64]{Lo: 2.04, Median: 5.16, Hi: 14.9}
	if got := say.Band(quantity.OfGH, wide, 0); got != "about 5 °dGH, could be 2 to 15" {
		t.Errorf("a band 13 wide is printed %q", got)
	}
	if got := say.Number(-0.01, 1); got != "0.0" {
		t.Errorf("minus nothing is printed %q", got)
	}
	if got := say.Value(quantity.OfPH, math.NaN()); got != look.Unsaid {
		t.Errorf("an unknown pH is printed %q", got)
	}
}

func ExampleSpan() {
	fmt.Println(say.Span(10 * time.Minute))
	fmt.Println(say.Span(time.Hour + 30*time.Minute))
	fmt.Println(say.Span(24 * time.Hour))
	fmt.Println(say.Span(7 * 24 * time.Hour))
	// Output:
	// 10 minutes
	// 1.5 hours
	// 24 hours
	// 7 days
}

func TestSentenceNeverHidesAMissingCode(t *testing.T) {
	if got := say.Sentence("no.such.code", nil); got != "[no.such.code]" {
		t.Errorf("got %q", got)
	}
}

// An end at which nothing more can be is no number that anyone read.
func TestFromToWithAnOpenEnd(t *testing.T) {
	most := quantity.OfNO3.Span().Hi
	for got, want := range map[string]string{
		say.FromTo(quantity.OfNO3, float64(quantity.NitrateAsNO3(100)), most):                              "100 mg/L as NO3 or more",
		say.FromTo(quantity.OfNO3, 0, float64(quantity.NitrateAsNO3(5))):                                   "0 to 5 mg/L as NO3",
		say.FromTo(quantity.OfPH, 2, 6):                                                                    "6.0 or less",
		say.FromTo(quantity.OfLevel, 80, 120):                                                              "8.0 to 12.0 cm",
		say.FromTo(quantity.OfNO3, float64(quantity.NitrateAsNO3(11)), float64(quantity.NitrateAsNO3(42))): "11 to 42 mg/L as NO3",
	} {
		if got != want {
			t.Errorf("%q, not %q", got, want)
		}
	}
}
