package plan

import (
	"slices"
	"time"

	"halfwater/husbandry"
	"halfwater/quantity"
)

// restart are the checks of switching back on, at once and looked at again. Common practice, no
// source; a heater that was in air is left off until it has stood in water for a quarter of an hour.
func (v *visit) restart(s *Sheet) []RestartCheck {
	if s.Siphon == nil && s.Pour == nil && s.Service.Due == nil && !v.changedToday(s) {
		return nil
	}
	out := []RestartCheck{
		{Code: "plan.restart-level"},
		{Code: "plan.restart-flow"},
		{Code: "plan.restart-air"},
		{Code: "plan.restart-drip"},
		{Code: "plan.restart-timers"},
	}
	heater, fittings := false, len(v.Facts.Fittings) > 0
	for _, f := range v.Facts.Fittings {
		heater = heater || f.What == "heater"
	}
	again := 10 * time.Minute
	out = append(out, RestartCheck{Code: "plan.restart-again", After: again})
	if heater || !fittings {
		out = append(out, RestartCheck{Code: "plan.restart-heater", After: 15 * time.Minute})
	}
	return append(out, RestartCheck{Code: "plan.restart-hour", After: time.Hour})
}

// tests are those due after the visit: ammonia after a day, nitrite after three, and after a week,
// before the next change, what the plateau rests on.
func (v *visit) tests(s *Sheet) []TestDue {
	if s.Siphon == nil && s.Pour == nil && s.Service.Due == nil && s.Done == nil {
		return nil
	}
	from := v.on
	if s.Done != nil && s.Service.Due == nil {
		from = s.Done.At
	}
	why := "plan.test-after-change"
	if s.Service.Due != nil {
		why = "plan.test-after-service"
	}
	if s.Pour != nil && s.Pour.Neutraliser != nil && s.Pour.Neutraliser.TANLeft > 0 {
		why = "plan.test-chloramine"
	}
	day := func(d int) time.Time { return from.AddDate(0, 0, d) }
	due := []TestDue{
		{Of: quantity.OfTAN, At: day(1), Why: why},
		{Of: quantity.OfNO2, At: day(3), Why: "plan.test-third-day"},
		{Of: quantity.OfNO3, At: day(7), Why: "plan.test-plateau"},
		{Of: quantity.OfKH, At: day(7), Why: "plan.test-plateau"},
	}
	for i := range due { // sooner where something is to be looked at again
		for _, c := range s.Concerns {
			if c.Of == due[i].Of && c.Tier >= husbandry.Watch && c.LookAgain.After(v.on) && c.LookAgain.Before(due[i].At) {
				due[i].At = c.LookAgain
			}
		}
	}
	return slices.DeleteFunc(due, func(t TestDue) bool { return t.At.Before(v.on) })
}

// changedToday reports whether the change is done and of today, so that it is still to be seen
// whether everything runs again.
func (v *visit) changedToday(s *Sheet) bool { return s.Done != nil && v.sameDay(s.Done.At) }
