package say

import (
	"time"
)

// Day prints a date: "Sunday 22 November 2026".
func Day(t time.Time) string { return t.Format("Monday 2 January 2006") }

// ShortDay prints a date without its year: "22 November", with the weekday when it lies within
// six days of now.
func ShortDay(t, now time.Time) string {
	if d := t.Sub(now); d > -6*24*time.Hour && d < 6*24*time.Hour {
		return t.Format("Monday 2 January")
	}
	if t.Year() != now.Year() {
		return t.Format("2 January 2006")
	}
	return t.Format("2 January")
}

// SoonDay prints when to look again at what cannot wait: "today, 22:00", "Monday 23 November, 06:00",
// "now" for a moment that is not ahead, and a date without an hour from two days ahead.
func SoonDay(t, now time.Time) string {
	t = t.In(now.Location())
	switch ahead := t.Sub(now); {
	case ahead <= 0:
		return "now"
	case t.Format(time.DateOnly) == now.Format(time.DateOnly):
		return "today, " + t.Format("15:04")
	case ahead < 48*time.Hour:
		return ShortDay(t, now) + ", " + t.Format("15:04")
	}
	return ShortDay(t, now)
}

// Clock prints a day and an hour: "Saturday 21 November, 20:30".
func Clock(t time.Time) string { return t.Format("Monday 2 January, 15:04") }

// Span prints a length of time in the unit that a person would use: "10 minutes", "6.8 hours",
// "3 days".
func Span(d time.Duration) string {
	switch {
	case d < 90*time.Minute:
		return plural(d.Minutes(), 0, "minute")
	case d < 48*time.Hour:
		dec := 0
		if h := d.Hours(); d < 10*time.Hour && h != float64(int(h)) {
			dec = 1
		}
		return plural(d.Hours(), dec, "hour")
	}
	return plural(d.Hours()/24, 0, "day")
}

func plural(x float64, decimals int, one string) string {
	n := Number(x, decimals)
	if n == "1" {
		return n + " " + one
	}
	return n + " " + one + "s"
}
