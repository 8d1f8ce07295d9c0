package report

import (
	"strings"
	"testing"

	"halfwater/emergency"
	"halfwater/quantity"
)

// TestWarmerThanTheHeater: where the water is warmer than a stuck heater would make it nothing is said of how fast it warms.
func TestWarmerThanTheHeater(t *testing.T) {
	says := func(rate quantity.CelsiusDiff) string {
		h := emergency.HeaterFault{Code: emergency.HeaterListed, Watts: 25}
		h.Stuck.End = quantity.Band[quantity.Celsius]{Lo: 21, Median: 22, Hi: 23}
		h.Stuck.Rate.Lo, h.Stuck.Rate.Median, h.Stuck.Rate.Hi = 0.5*rate, rate, 2*rate
		return strings.Join(heaterPart(h).Lines, " ")
	}
	if warm := says(1.2); !strings.Contains(warm, "takes the water to") || strings.Contains(warm, "other heat") {
		t.Error(warm)
	}
	if hot := says(-1.2); !strings.Contains(hot, "other heat") || strings.Contains(hot, "an hour, ") || strings.Contains(hot, "takes the water to about 22") {
		t.Error(hot)
	}
}
