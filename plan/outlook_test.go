package plan_test

import (
	"fmt"
	"math"
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
func kept(t *testing.T) plan.Input {
	t.Helper()
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
	if err != nil {
		t.Fatal(err)
	}
	return plan.Input{Belief: b, Facts: book.FactsAt(lines, book.MainWater, sunday, sunday), Lines: lines, Now: sunday}
}

// TestAheadPlateau: what has stood at 10 mg N/L before every change for half a year stands there in twelve
// weeks too, when the routine is kept; the closed form of the plateau (package change) says as much.
func TestAheadPlateau(t *testing.T) {
	in := kept(t)
	o, err := plan.Ahead(in, 12, 1)
	if err != nil {
		t.Fatal(err)
	}
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
	o, err := plan.Ahead(kept(t), 12, 1)
	if err != nil {
		t.Fatal(err)
	}
	seen := 0
	for _, l := range o.Lines {
		for i := range l.Watch {
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
	a, _ := plan.Ahead(in, 4, 7)
	b, _ := plan.Ahead(in, 4, 7)
	if fmt.Sprint(a) != fmt.Sprint(b) {
		t.Error("two outlooks of one book")
	}
	s := a.Shown("test")
	if err := s.Check(); err != nil || len(s.Bands) == 0 {
		t.Error(err, len(s.Bands))
	}
}

func BenchmarkAhead(b *testing.B) {
	in := kept(&testing.T{})
	b.ReportAllocs()
	for b.Loop() {
		if _, err := plan.Ahead(in, 12, 1); err != nil {
			b.Fatal(err)
		}
	}
}
