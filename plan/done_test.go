package plan_test

import (
	"testing"
	"time"

	"halfwater/book"
	"halfwater/husbandry"
	"halfwater/plan"
	"halfwater/quantity"
)

func poured(ago time.Duration, litres quantity.Litres) book.Line {
	return book.Line{ID: "poured", At: sunday.Add(-ago), Water: "main", Body: book.Change{OutLitres: litres, In: []book.Poured{{Source: "tap", Litres: litres}}}}
}

func settled(lines ...book.Line) plan.Input {
	f := riverbank()
	f.Wanted = nil
	f.Sources[0] = likeTank()
	return plan.Input{Belief: exactly(about()), Facts: f, Lines: lines, Now: sunday}
}

// A change of this morning is not asked for again in the afternoon; what is due after it still is.
func TestChangeOfTodayIsDone(t *testing.T) {
	for _, c := range []struct {
		ago  time.Duration
		code string
	}{
		{2 * time.Hour, "plan.done-today"}, {20 * time.Hour, "plan.done-lately"}, {60 * time.Hour, "plan.done-lately"}, {5 * 24 * time.Hour, ""}, {7 * 24 * time.Hour, ""},
	} {
		s := plan.Write(settled(poured(c.ago, 16)))
		if c.code == "" {
			if s.Done != nil || s.Pour == nil {
				t.Errorf("%v ago: done %+v, poured %+v", c.ago, s.Done, s.Pour)
			}
			continue
		}
		if s.Done == nil || s.Done.Code != c.code || s.Pour != nil || s.Siphon != nil {
			t.Fatalf("%v ago: done %+v, pour %+v", c.ago, s.Done, s.Pour)
		}
		if want := sunday.Add(-c.ago).AddDate(0, 0, 7); !s.Done.Next.Equal(want) {
			t.Errorf("the next on %v, want %v", s.Done.Next, want)
		}
		if len(s.Tests) == 0 || s.Tests[0].At.Before(sunday) {
			t.Errorf("%v ago: tests %+v", c.ago, s.Tests)
		}
		if (len(s.Restart) > 0) != (c.code == "plan.done-today") {
			t.Errorf("%v ago: restart %+v", c.ago, s.Restart)
		}
	}
}

// After a day a danger does not wait for the routine; within the day it does.
func TestDangerDoesNotWaitForTheRoutine(t *testing.T) {
	for ago, want := range map[time.Duration]bool{2 * time.Hour: false, 60 * time.Hour: true} {
		in := settled(poured(ago, 16))
		d := about()
		d.NO2 = 2
		in.Belief = exactly(d)
		if s := plan.Write(in); s.Tier != husbandry.ActNow || (s.Pour != nil) != want {
			t.Errorf("%v after a change with nitrite at 2: poured %+v", ago, s.Pour)
		}
	}
}

// A share that the keeper asks for on the same day is held by what the day's step leaves: 10 % were
// poured, so what both pour together stays within the limit that one alone had.
func TestDaysStepCountsWhatWasPoured(t *testing.T) {
	in := settled()
	in.Facts.Sources = in.Facts.Sources[1:]
	in.Share = 0.40
	alone := plan.Write(in)
	in.Lines = []book.Line{poured(2*time.Hour, 4)}
	after := plan.Write(in)
	if alone.Pour == nil || after.Pour == nil {
		t.Fatalf("no pour: %+v, %+v", alone.Refused, after.Refused)
	}
	first, _ := refused(alone, "plan.step-too-large")
	second, ok := refused(after, "plan.step-too-large")
	if d := first.Limit - second.Limit; !ok || d < 4.99 || d > 5.01 {
		t.Errorf("a day's step of %v %% becomes %v %% after 5 %%", first.Limit, second.Limit)
	}
}
