package plan_test

import (
	"strings"
	"testing"
	"time"

	"halfwater/enclosure"
	"halfwater/internal/say"
	"halfwater/plan"
	"halfwater/quantity"
	"halfwater/water"
)

// Two litres of RO in store and twelve or so wanted: neat hard water is not poured in its place. The
// unit is started for the missing litres, for today when there is time and else for a later day.
func TestVisitWaitsForRO(t *testing.T) {
	f := riverbank()
	f.Basin = nil
	stored(&f.Sources[1], 2)
	in := plan.Input{Belief: exactly(onlyKnown()), Facts: f, Now: sunday.Add(-12 * time.Hour), On: sunday}
	s := plan.Write(in)
	if s.Pour != nil || len(s.RO) != 1 {
		t.Fatalf("poured %+v, RO %+v, refused %+v", s.Pour, s.RO, s.Refused)
	}
	// By hand: a fifth of 80 L is 16 L, of which about 63 % is RO (tap 15.5 to 6 and 11.5 to 4): 10 L,
	// less the 2 in store.
	if r := s.RO[0]; r.Litres < 7 || r.Litres > 9 || !r.For.Equal(sunday) || r.StartBy.Before(in.Now) {
		t.Errorf("start %+v", s.RO[0])
	}
	in.Now = sunday
	s = plan.Write(in)
	r, ok := refused(s, "plan.wait-for-ro")
	if !ok || !r.Until.After(sunday) || r.Until.Sub(sunday) > 24*time.Hour || len(s.RO) != 1 || !s.RO[0].For.Equal(r.Until) {
		t.Fatalf("too late for today: %+v, RO %+v", s.Refused, s.RO)
	}
	for _, said := range []string{say.Sentence(r.Code, r), say.Sentence("sheet.ro-when", s.RO[0])} {
		if !strings.Contains(said, "Monday 23 November") {
			t.Errorf("said %q", said)
		}
	}
	stored(&f.Sources[1], 0) // none at all, and said so
	in.Facts = f
	if s = plan.Write(in); s.Pour != nil || len(s.RO) != 1 || s.RO[0].Litres < 9 {
		t.Errorf("an empty store: poured %+v, RO %+v", s.Pour, s.RO)
	}
	d := onlyKnown()
	d.NO2 = 2
	in.Belief = exactly(d)
	if s = plan.Write(in); s.Pour == nil {
		t.Errorf("nitrite does not wait for RO, but nothing is poured: %+v", s.Refused)
	}
}

func stored(s *enclosure.SourceWater, l quantity.Litres) { s.InStore = water.Stated(l) }
