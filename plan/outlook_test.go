package plan_test

import (
	"fmt"
	"math"
	"sync"
	"testing"
	"time"

	"halfwater/book"
	"halfwater/change"
	"halfwater/enclosure"
	"halfwater/husbandry"
	"halfwater/infer"
	"halfwater/kit"
	"halfwater/plan"
	"halfwater/quantity"
)

// kept is half a year of a riverbank: fed daily, nitrate rising until the Sunday change of 20 %, read each
// week just before it.
func kept(t testing.TB) plan.Input {
	t.Helper()
	in, err := keptOnce()
	if err != nil {
		t.Fatal(err)
	}
	return in
}

// twelve weeks from the book of kept, for the tests that only look at them.
func twelve(t testing.TB) plan.Outlook {
	t.Helper()
	o, err := twelveOnce()
	if err != nil {
		t.Fatal(err)
	}
	return o
}

var twelveOnce = sync.OnceValues(func() (plan.Outlook, error) {
	in, err := keptOnce()
	if err != nil {
		return plan.Outlook{}, err
	}
	return plan.Ahead(in, 12)
})

var keptOnce = sync.OnceValues(func() (plan.Input, error) {
	f := riverbank()
	start := sunday.AddDate(0, 0, -7*26)
	var lines []book.Line
	add := func(at time.Time, body book.Body) {
		lines = append(lines, book.Line{ID: book.ID(fmt.Sprintf("%05d", len(lines))), At: at, Recorded: at, Water: book.MainWater, By: book.Keeper, Body: body})
	}
	pen := kit.Kit{Name: "nitrate pen", Of: quantity.OfNO3, Form: kit.Meter, Unit: "mg/L", Basis: quantity.AsN, AccuracyShare: 0.05, Digit: 0.1}
	drops := f.Kits[1]
	for _, fact := range []enclosure.Fact{*f.Basin, f.Sources[0], f.Sources[1], *f.Routine, drops, pen} {
		add(start, fact.(book.Body))
	}
	add(start, book.Feed{What: "dry", Grams: 0.3, ProteinShare: 0.45, InWater: true, PerDay: true})
	for wk := 1; wk <= 26; wk++ {
		at := start.AddDate(0, 0, 7*wk).Add(-2 * time.Hour)
		add(at, book.Reading{Of: quantity.OfNO3, Kit: pen.Name, Shown: "10.0", Unit: "mg/L", Basis: quantity.AsN, Lo: 9.5, Hi: 10.5})
		add(at, book.Reading{Of: quantity.OfKH, Kit: drops.Name, Shown: "4", Unit: "dKH", Lo: 3, Hi: 4})
		add(at.Add(time.Hour), book.Change{OutLitres: 20, In: []book.Poured{{Source: "tap", Litres: 7}, {Source: "RO", Litres: 13}}})
	}
	b, err := infer.Believe(infer.Window{Lines: lines, Water: book.MainWater, At: sunday, Recorded: sunday, Seed: 1})
	return plan.Input{Belief: b, Facts: book.FactsAt(lines, book.MainWater, sunday, sunday), Lines: lines, Now: sunday}, err
})

// TestAheadPlateau: what has stood at 10 mg N/L before every change for half a year stands there in twelve
// weeks too, when the routine is kept; the closed form of the plateau (package change) says as much.
func TestAheadPlateau(t *testing.T) {
	in, o := kept(t), twelve(t)
	if len(o.Eves) != 13 || !o.AsLast || o.Every != 7 {
		t.Fatalf("%d eves, every %g days, as last %v", len(o.Eves), o.Every, o.AsLast)
	}
	end := o.Eves[12].Bands[quantity.OfNO3]
	if end.Lo > 10 || end.Hi < 10 {
		t.Errorf("nitrate in twelve weeks %.1f to %.1f, was 10 before every change", end.Lo, end.Hi)
	}
	d := 0.0
	for _, x := range in.Belief.Draws {
		d += float64(x.NO3Rise) / float64(len(in.Belief.Draws))
	}
	want := change.Plateau(0.35*float64(quantity.NitrateAsNO3(10)), d, o.Share).Before
	if math.Abs(end.Median-want) > 0.15*want {
		t.Errorf("nitrate in twelve weeks %.1f, plateau of the rise learnt %.1f", end.Median, want)
	}
	first := o.Eves[1].Bands[quantity.OfNO3]
	if !(end.Hi-end.Lo > first.Hi-first.Lo) {
		t.Errorf("band in one week %.2f wide, in twelve %.2f", first.Hi-first.Lo, end.Hi-end.Lo)
	}
	if _, ok := o.Eves[5].Bands[quantity.OfNO2]; ok {
		t.Error("foretells nitrite, which was never read")
	}
}

// TestAheadOdds: odds lie between 0 and 1, the act line is passed no oftener than the watch line, and what was
// never read has none.
func TestAheadOdds(t *testing.T) {
	o := twelve(t)
	seen := 0
	for _, l := range o.Lines {
		if !math.IsNaN(l.EverAct) && !(l.EverAct <= l.EverWatch && l.EverWatch <= 1) {
			t.Errorf("%s: ever past the watch line %g, the act line %g", l.Of, l.EverWatch, l.EverAct)
		}
		for i := range l.Watch {
			if l.EverWatch < l.Watch[i] || l.EverAct < l.Act[i] || math.IsNaN(l.EverAct) != math.IsNaN(l.Act[i]) {
				t.Errorf("%s, eve %d: more often there than ever there: %+v", l.Of, i, l)
			}
			switch {
			case l.Of == husbandry.NitriteLine || l.Of == husbandry.FreeAmmonia:
				if !math.IsNaN(l.Watch[i]) {
					t.Errorf("%s has odds and was never read", l.Of)
				}
			case !(l.Act[i] >= 0 && l.Act[i] <= l.Watch[i] && l.Watch[i] <= 1):
				t.Errorf("%s, eve %d: watch %g, act %g", l.Of, i, l.Watch[i], l.Act[i])
			default:
				seen++
			}
		}
	}
	if seen == 0 {
		t.Error("no odds at all")
	}
}

// TestAheadTwice: the same book and seed give the same outlook, and its line passes the book's own check.
func TestAheadTwice(t *testing.T) {
	in := kept(t)
	a, _ := plan.Ahead(in, 4)
	b, _ := plan.Ahead(in, 4)
	if fmt.Sprint(a) != fmt.Sprint(b) {
		t.Error("two outlooks of one book")
	}
	s := a.Shown("test")
	if err := s.Check(); err != nil || len(s.Bands) == 0 {
		t.Error(err, len(s.Bands))
	}
}

func BenchmarkAhead(b *testing.B) {
	in := kept(b)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := plan.Ahead(in, 12); err != nil {
			b.Fatal(err)
		}
	}
}

// TestAheadRests: what has stood at one level before every change for half a year rests near where it is
// foretold to stand in twelve weeks, and does so within them.
func TestAheadRests(t *testing.T) {
	in, o := kept(t), twelve(t)
	for _, p := range o.Plateaus {
		if p.Of != quantity.OfNO3 {
			continue
		}
		end := o.Eves[12].Bands[p.Of]
		if math.Abs(p.Level-end.Median) > (end.Hi-end.Lo)/4 {
			t.Errorf("rests at %.2f, the last median is %.2f", p.Level, end.Median)
		}
		if p.By.IsZero() || p.By.After(in.Now.AddDate(0, 0, 84)) {
			t.Errorf("rests from %v on", p.By)
		}
		return
	}
	t.Errorf("no plateau of nitrate in %+v", o.Plateaus)
}

// TestAheadHalf: half the odds lie within the 8 in 10, on both sides of the median.
func TestAheadHalf(t *testing.T) {
	o := twelve(t)
	for i, e := range o.Eves {
		if len(e.Half) != len(e.Bands) || len(e.Half) == 0 {
			t.Fatalf("eve %d: %d halves, %d bands", i, len(e.Half), len(e.Bands))
		}
		for m, h := range e.Half {
			b := e.Bands[m]
			if !(b.Lo <= h.Lo && h.Lo <= b.Median && b.Median <= h.Hi && h.Hi <= b.Hi) {
				t.Errorf("eve %d, %s: %v in %v", i, m, h, b)
			}
		}
	}
}

// TestNotHeldStretchesOddsToo: after twenty outlooks that missed, the bands are twice as wide, and so is the
// doubt that the odds rest on: what lies beyond the median's side of a line grows likelier.
func TestNotHeldStretchesOddsToo(t *testing.T) {
	in := kept(t)
	honest, err := plan.Ahead(in, 4)
	if err != nil {
		t.Fatal(err)
	}
	missed := in
	missed.Lines = nil
	for _, l := range in.Lines {
		if r, ok := l.Body.(book.Reading); ok {
			shown := book.ShownOutlook{Bands: []book.ShownBand{{Of: r.Of, On: l.At, Lo: 0.1, Median: 0.2, Hi: 0.3}}}
			missed.Lines = append(missed.Lines, book.Line{ID: "s" + l.ID, At: l.At.Add(-time.Hour), Recorded: l.At, Water: book.MainWater, By: book.Keeper, Body: shown})
		}
		missed.Lines = append(missed.Lines, l)
	}
	wide, err := plan.Ahead(missed, 4)
	if err != nil {
		t.Fatal(err)
	}
	if wide.Scored.N != 20 || wide.Scored.Held != 0 || wide.Scored.Wider() != 2 {
		t.Fatalf("scored %+v", wide.Scored)
	}
	n := 0
	for _, of := range wide.Scored.Of {
		n += of.N
		if math.Abs(of.Width-0.2) > 1e-9 {
			t.Errorf("%s: shown %g wide, was 0.2", of.Of, of.Width)
		}
	}
	if n != 20 {
		t.Errorf("the parts of the score count %d readings", n)
	}
	for i := range wide.Eves {
		a, b := honest.Eves[i].Bands[quantity.OfNO3], wide.Eves[i].Bands[quantity.OfNO3]
		if math.Abs((b.Hi-b.Median)-2*(a.Hi-a.Median)) > 1e-9 {
			t.Errorf("eve %d: %v became %v", i, a, b)
		}
		ha, hb := honest.Eves[i].Half[quantity.OfNO3], wide.Eves[i].Half[quantity.OfNO3]
		if math.Abs(hb.Width()-2*ha.Width()) > 1e-9 {
			t.Errorf("eve %d: half %v became %v", i, ha, hb)
		}
	}
	grew := false
	for k, l := range wide.Lines {
		for i := range l.Act {
			if p := honest.Lines[k].Act[i]; p < 0.5 && l.Act[i] < p-1e-9 {
				t.Errorf("%s, eve %d: %g became %g", l.Of, i, p, l.Act[i])
			} else if l.Act[i] > p {
				grew = true
			}
		}
	}
	if !grew {
		t.Error("no odds grew with the bands")
	}
}
