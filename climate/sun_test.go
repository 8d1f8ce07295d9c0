package climate

import (
	"math"
	"testing"
	"time"

	"halfwater/internal/published"
)

func TestSunAgainstTheAlmanac(t *testing.T) {
	for id, c := range map[string]struct {
		latitude Degrees
		day      int
	}{"S12-001": {51.5, 172}, "S12-002": {51.5, 355}, "S12-003": {40, 172}, "S12-004": {40, 355}, "S12-005": {0, 172}} {
		published.Check(t, id, DayLength(c.latitude, c.day).Hours())
	}
	published.Check(t, "S12-006", float64(Declination(172)))
	published.Check(t, "S12-007", float64(Declination(355)))
	published.Check(t, "S12-008", EquationOfTime(45).Minutes())
	published.Check(t, "S12-009", EquationOfTime(307).Minutes())
}

func TestPolarDays(t *testing.T) {
	if d := DayLength(75, 172); d.Round(time.Second) != 24*time.Hour {
		t.Errorf("midsummer at 75 N is %v long", d)
	}
	if d := DayLength(75, 355); d != 0 {
		t.Errorf("midwinter at 75 N is %v long", d)
	}
	// North in June is as long as south half a year later, within the two days' difference.
	if d := DayLength(40, 172) - DayLength(-40, 355); d.Abs() > 3*time.Minute {
		t.Errorf("the halves differ by %v", d)
	}
}

// At Greenwich in early November the sun is highest 16.4 minutes before noon (almanac, from memory).
func TestNoon(t *testing.T) {
	if d := 12*time.Hour - Noon(0, 307); math.Abs(d.Minutes()-16.4) > 0.3 {
		t.Errorf("noon is %v early", d)
	}
	if d := Noon(15, 307) - Noon(0, 307); d != -time.Hour {
		t.Errorf("fifteen degrees east is %v", d)
	}
}
