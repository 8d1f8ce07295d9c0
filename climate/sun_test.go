package climate

import (
	"math"
	"testing"
	"time"

	"halfwater/internal/published"
)

func on(month time.Month, day int) time.Time {
	return time.Date(2026, month, day, 12, 0, 0, 0, time.UTC)
}

func TestSunAgainstTheAlmanac(t *testing.T) {
	june, december := on(time.June, 21), on(time.December, 21)
	for id, c := range map[string]struct {
		latitude Degrees
		date     time.Time
	}{
		"S12-001": {51.5, june}, "S12-002": {51.5, december}, "S12-003": {40, june}, "S12-004": {40, december}, "S12-005": {0, june},
	} {
		published.Check(t, id, DayLength(c.latitude, c.date).Hours())
	}
	published.Check(t, "S12-006", float64(Declination(june)))
	published.Check(t, "S12-007", float64(Declination(december)))
	published.Check(t, "S12-008", EquationOfTime(on(time.February, 14)).Minutes())
	published.Check(t, "S12-009", EquationOfTime(on(time.November, 3)).Minutes())
}

// At the instants of equinoxes the sun crosses the equator. The formula states 0.01 deg; an instant
// is printed to the minute.
func TestEquinoxes(t *testing.T) {
	for _, r := range published.Read(t, "almanac-equinoxes").Rows {
		at, err := time.Parse("2006-01-02 15:04", r.Cells[0])
		if err != nil {
			t.Fatal(err)
		}
		if got := float64(Declination(at)); math.Abs(got-r.Number(t, 1)) > 0.01+r.HalfDigit(t, 1) {
			t.Errorf("%s: declination %.4f deg, not %s", r.Cells[0], got, r.Cells[1])
		}
	}
}

func TestPolarDays(t *testing.T) {
	if d := DayLength(75, on(time.June, 21)); d.Round(time.Second) != 24*time.Hour {
		t.Errorf("midsummer at 75 N is %v long", d)
	}
	if d := DayLength(75, on(time.December, 21)); d != 0 {
		t.Errorf("midwinter at 75 N is %v long", d)
	}
	if d := DayLength(40, on(time.June, 21)) - DayLength(-40, on(time.December, 21)); d.Abs() > time.Minute {
		t.Errorf("the halves of the earth differ by %v", d)
	}
	// On an equinox the day is 12 h and what refraction and the disc add: 2 x 0.833 / 15 h over cos.
	want := 12 + 2*0.833/15/math.Cos(50*math.Pi/180)
	if d := DayLength(50, on(time.March, 20)).Hours(); math.Abs(d-want) > 2.0/60 {
		t.Errorf("equinox at 50 N: %.3f h, not %.3f", d, want)
	}
}

// In early November the sun is highest 16.4 minutes before noon at Greenwich (almanac, from memory).
func TestNoon(t *testing.T) {
	november := on(time.November, 3)
	if d := 12*time.Hour - Noon(0, november); math.Abs(d.Minutes()-16.4) > 0.15 {
		t.Errorf("noon is %v early", d)
	}
	if d := Noon(15, november) - Noon(0, november); d != -time.Hour {
		t.Errorf("fifteen degrees east is %v", d)
	}
}
