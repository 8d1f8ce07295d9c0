package infer

import (
	"math"
	"slices"
	"testing"
	"time"

	"halfwater/book"
	"halfwater/infer/blame"
	"halfwater/quantity"
)

// TestAlarm: in an enclosure whose filter bears what comes in ammonia is read at about 1 mg N/L once, half a year on. What may kill is
// believed, now and in the weeks to come; everything else stays what the histories say; read again as before, it is over.
func TestAlarm(t *testing.T) {
	e := newTruth(6, "plain")
	e.keep(26)
	at := e.lines[len(e.lines)-1].At
	calm, err := Believe(Window{Lines: e.lines, At: at, Recorded: at, Seed: 1})
	if err != nil {
		t.Fatal(err)
	}
	if calm.Rough || calm.Evidence[quantity.OfTAN].Alarming {
		t.Fatalf("rough %v, alarming %v before anything is high", calm.Rough, calm.Evidence[quantity.OfTAN].Alarming)
	}
	read := func(lines []book.Line, id book.ID, day int, lo, hi float64) []book.Line {
		return append(lines[:len(lines):len(lines)], e.shows(quantity.OfTAN, id, at.AddDate(0, 0, day), lo, hi))
	}
	lines := read(e.lines, "alarm", 1, 0.6, 1.2)
	when := at.AddDate(0, 0, 1)
	high, err := Believe(Window{Lines: lines, At: when, Recorded: when, Seed: 1})
	if err != nil {
		t.Fatal(err)
	}
	if high.Rough || !high.Evidence[quantity.OfTAN].Alarming || high.Evidence[quantity.OfNO3].Alarming {
		t.Errorf("rough %v, alarming %v; nitrate %v", high.Rough, high.Evidence[quantity.OfTAN].Alarming, high.Evidence[quantity.OfNO3].Alarming)
	}
	for i, d := range high.Draws {
		if _, co2 := d.pressed(float64(d.PH)); !math.IsNaN(d.Reserve) || math.Abs(float64(co2/d.PCO2)-1) > 1e-6 {
			t.Fatalf("draw %d: reserve %.1f, CO2 %g atm, by its pH and KH %g", i, d.Reserve, d.PCO2, co2)
		}
	}
	if a, b := band(t, calm, quantity.OfTAN), band(t, high, quantity.OfTAN); b.Hi < 5*a.Hi {
		t.Errorf("ammonia could be %.2f at most, %.2f before", b.Hi, a.Hi)
	}
	for _, of := range []quantity.Measurand{quantity.OfNO3, quantity.OfGH, quantity.OfEC} {
		a, b := band(t, calm, of), band(t, high, of)
		if b.Median < a.Lo || b.Median > a.Hi || b.Hi-b.Lo > 1.5*(a.Hi-a.Lo) {
			t.Errorf("%s goes from %+v to %+v", of.Label(), a, b)
		}
	}
	soon, err := Foresee(high, nil, []time.Time{when.AddDate(0, 0, 1), when.AddDate(0, 0, 28)})
	if err != nil {
		t.Fatal(err)
	}
	for _, of := range []quantity.Measurand{quantity.OfTAN, quantity.OfNO2} {
		if x, ok := soon[0].Band(of); ok {
			t.Errorf("%s is foretold as %+v while ammonia alarms", of.Label(), x)
		}
	}
	if a, b := band(t, soon[0], quantity.OfPH), band(t, soon[1], quantity.OfPH); b.Hi-b.Lo <= a.Hi-a.Lo {
		t.Errorf("pH is foretold as %.2f to %.2f a day ahead, %.2f to %.2f four weeks ahead", a.Lo, a.Hi, b.Lo, b.Hi)
	}
	if a, b := band(t, calm, quantity.OfNO3), band(t, soon[1], quantity.OfNO3); b.Median <= a.Median {
		t.Errorf("nitrate, %.1f now, is foretold as %.1f without a change", a.Median, b.Median)
	}

	lines = read(lines, "again", 2, 0, 0.1)
	when = at.AddDate(0, 0, 2)
	over, err := Believe(Window{Lines: lines, At: when, Recorded: when, Seed: 1, Before: &high})
	if err != nil {
		t.Fatal(err)
	}
	if over.Rough || over.Evidence[quantity.OfTAN].Alarming {
		t.Errorf("read again: rough %v, alarming %v", over.Rough, over.Evidence[quantity.OfTAN].Alarming)
	}
}

// TestNoAlarmIsTooHighToBelieve: however far a card of ammonia or nitrite goes up after half a quiet year, were it a quarter of an hour
// after it showed nothing, the water may hold, one time in ten or more, what it shows, for as long as it is not read again; and it is
// among what may have brought it about.
func TestNoAlarmIsTooHighToBelieve(t *testing.T) {
	e := newTruth(6, "plain")
	e.keep(26)
	at := e.lines[len(e.lines)-1].At.AddDate(0, 0, 1)
	for _, of := range []quantity.Measurand{quantity.OfTAN, quantity.OfNO2} {
		for _, step := range [][2]float64{{0.6, 1.2}, {1.5, 3}, {3, 6}, {6, 10}} {
			line := e.shows(of, "alarm", at, step[0], step[1])
			b, err := Believe(Window{Lines: append(e.lines[:len(e.lines):len(e.lines)], line), At: at, Recorded: at, Seed: 1})
			if err != nil {
				t.Fatal(err)
			}
			if hi := band(t, b, of).Hi; hi < step[0] {
				t.Errorf("%s, read as %g to %g, could be %.2f at most", of.Label(), step[0], step[1], hi)
			}
			calm := e.shows(of, "calm", at.Add(-15*time.Minute), 0, 0.1)
			later := at.AddDate(0, 0, 14)
			for _, of := range []Window{
				{Lines: append(e.lines[:len(e.lines):len(e.lines)], calm, line), At: at, Recorded: at, Seed: 1},
				{Lines: append(e.lines[:len(e.lines):len(e.lines)], line), At: later, Recorded: later, Seed: 1},
			} {
				g, err := Glance(of)
				if err != nil {
					t.Fatal(err)
				}
				r := line.Body.(book.Reading)
				if hi := band(t, g, r.Of).Hi; hi < step[0] || !g.Evidence[r.Of].Alarming {
					t.Errorf("%s, read as %g to %g, could be %.2f at most, alarming %v", r.Of.Label(), step[0], step[1], hi, g.Evidence[r.Of].Alarming)
				}
			}
			water, act := 0.0, false
			for _, c := range b.Contradictions {
				act = act || slices.Contains(c.Checks, "infer.check-again-now")
				for _, x := range c.Culprits {
					if x.Code == blame.ByWater && slices.Contains(c.Lines, line.ID) {
						water = x.Odds
					}
				}
			}
			if water < 0.1 || !act {
				t.Errorf("%s, read as %g to %g: the water has odds of %.2f, to act on it is said: %v", of.Label(), step[0], step[1], water, act)
			}
			over := at.AddDate(0, 0, 1)
			lines := append(e.lines[:len(e.lines):len(e.lines)], line, e.shows(of, "over", over, 0, 0.1))
			if b, err = Believe(Window{Lines: lines, At: over, Recorded: over, Seed: 1}); err != nil {
				t.Fatal(err)
			}
			for _, c := range b.Contradictions {
				if slices.Contains(c.Checks, "infer.check-again-now") {
					t.Errorf("%s, read as nothing a day after %g to %g, is to be acted on: %+v", of.Label(), step[0], step[1], c)
				}
			}
		}
	}
}

// shows is a line of the card that was used for a quantity, with other ends.
func (e *truth) shows(of quantity.Measurand, id book.ID, at time.Time, lo, hi float64) book.Line {
	var like book.Line
	for _, l := range e.lines {
		if r, ok := l.Body.(book.Reading); ok && r.Of == of {
			like = l
		}
	}
	r := like.Body.(book.Reading)
	r.Lo, r.Hi = lo, hi
	like.ID, like.Body, like.At, like.Recorded = id, r, at, at
	return like
}
