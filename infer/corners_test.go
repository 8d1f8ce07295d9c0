package infer

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"testing"
	"time"

	"halfwater/book"
	"halfwater/dynamics"
	"halfwater/infer/blame"
	"halfwater/infer/fit"
	"halfwater/kit"
	"halfwater/quantity"
)

// quiet is a book in which all is well, some weeks long: four readings and a change a week. Its facts are as old as is asked.
func quiet(t testing.TB, weeks int, facts time.Time) *notes {
	n := &notes{}
	n.add(facts, plain)
	n.add(facts, hardTap)
	for _, k := range []kit.Kit{no3Card, khDrops, phPen, ecPen} {
		n.add(facts, k)
	}
	n.add(facts, book.Feed{What: "dry", Grams: 0.3, ProteinShare: 0.45, InWater: true, PerDay: true})
	for wk := range weeks {
		at := day0.AddDate(0, 0, 7*wk+1)
		n.read(t, at, no3Card, "25")
		n.read(t, at, khDrops, "6")
		n.read(t, at, phPen, "7.40")
		n.read(t, at, ecPen, "450")
		n.add(at.Add(time.Hour), book.Change{OutLitres: 15, In: []book.Poured{{Source: "tap", Litres: 15}}})
	}
	return n
}

// TestWindowIsAsLongAsItSays: however long before its first reading a book begins, histories begin with it or 26 to 39 weeks before the
// last reading, and hear every reading.
func TestWindowIsAsLongAsItSays(t *testing.T) {
	at := day0.AddDate(0, 0, 33)
	last := day0.AddDate(0, 0, 29)
	for _, back := range []int{0, 60, 250, 300, 400, 600, 1000} {
		n := quiet(t, 5, day0.AddDate(0, 0, -back))
		_, v, lines, err := believe(Window{Lines: n.lines, At: at, Seed: 1})
		if err != nil {
			t.Fatal(err)
		}
		from := v.epoch(lines)
		if first := day0.AddDate(0, 0, -back); !from.Equal(first) && (last.Sub(from) < 26*week || last.Sub(from) > 39*week) {
			t.Errorf("a book that begins %d days before is heard from %s on", back, from)
		}
		q, err := v.ask(lines, book.MainWater, from, at, at)
		if err != nil {
			t.Fatal(err)
		}
		if len(q.Readings) != 20 {
			t.Errorf("of a book that begins %d days before %d of 20 readings are heard", back, len(q.Readings))
		}
	}
}

// TestSetAsideWhenever: what is known now to say nothing says nothing of any earlier moment either.
func TestSetAsideWhenever(t *testing.T) {
	n := quiet(t, 8, day0)
	early, late := day0.AddDate(0, 0, 20), day0.AddDate(0, 0, 60)
	wrong := n.read(t, day0.AddDate(0, 0, 19), khDrops, "12")
	with, err := Glance(Window{Lines: n.lines, At: early, Recorded: late, Seed: 1})
	if err != nil {
		t.Fatal(err)
	}
	n.add(late, book.SetAside{Line: wrong, Reason: "wrong tube"})
	aside, err := Glance(Window{Lines: n.lines, At: early, Recorded: late, Seed: 1})
	if err != nil {
		t.Fatal(err)
	}
	n.lines[len(n.lines)-1].Body = book.Withdraw{Line: wrong}
	without, err := Glance(Window{Lines: n.lines, At: early, Recorded: late, Seed: 1})
	if err != nil {
		t.Fatal(err)
	}
	same := func(a, b Belief) bool { return fmt.Sprint(a.Draws) == fmt.Sprint(b.Draws) }
	if same(aside, with) || !same(aside, without) {
		t.Errorf("KH with the reading %+v, set aside %+v, withdrawn %+v", band(t, with, quantity.OfKH), band(t, aside, quantity.OfKH), band(t, without, quantity.OfKH))
	}
}

// TestPastHangsOnItsTests: a half year before that was found with a test of another water is found anew without it, and when a later
// fact says on what basis its readings were.
func TestPastHangsOnItsTests(t *testing.T) {
	unstated := no3Card
	unstated.Name, unstated.Basis = "other card", quantity.NotStated
	n := quiet(t, 8, day0)
	n.add(day0, unstated)
	n.read(t, day0.AddDate(0, 0, 4), unstated, "25")
	sample := n.add(day0.AddDate(0, 0, 5), book.KnownSample{What: "standard", Kit: khDrops.Name, Of: quantity.OfKH, Value: 6, Shown: "6"})
	at := day0.AddDate(0, 0, 60)
	before := func() []string {
		_, v, lines, err := believe(Window{Lines: n.lines, At: at, Seed: 1})
		if err != nil {
			t.Fatal(err)
		}
		return v.linesBefore(lines, day0.AddDate(0, 0, 30))
	}
	first := before()
	if !slices.Equal(first, before()) {
		t.Error("the same book is another")
	}
	n.add(at, book.Withdraw{Line: sample})
	second := before()
	if slices.Equal(first, second) {
		t.Error("a test that is withdrawn is still there")
	}
	unstated.Basis = quantity.AsNO3
	n.add(at, unstated)
	if slices.Equal(second, before()) {
		t.Error("a basis that is told later changes nothing")
	}
}

// TestTestsOfOtherWatersAreNoLastReadings: two standards that two kits missed are no two readings of the enclosure that histories cannot
// account for; nor are two old glasses its last pH.
func TestTestsOfOtherWatersAreNoLastReadings(t *testing.T) {
	n := quiet(t, 8, day0)
	n.add(day0.AddDate(0, 0, 40), book.KnownSample{What: "standard", Kit: no3Card.Name, Of: quantity.OfNO3, Value: 1, Shown: "100"})
	n.add(day0.AddDate(0, 0, 41), book.KnownSample{What: "standard", Kit: khDrops.Name, Of: quantity.OfKH, Value: 1, Shown: "15"})
	for _, day := range []int{10, 12} {
		n.add(day0.AddDate(0, 0, day), book.AeratedGlass{Kit: phPen.Name, Before: 9.9, After: 10, Hours: 24})
	}
	q := n.asked(t, day0.AddDate(0, 0, 60))
	last := math.Inf(1)
	for i, of := range q.lastFirst {
		if of == "" || q.Readings[i].Day > last {
			t.Errorf("%q of day %.0f stands after day %.0f", of, q.Readings[i].Day, last)
		}
		last = q.Readings[i].Day
	}
	if b := n.believe(t, day0.AddDate(0, 0, 60)); b.Rough {
		t.Error("no histories are left")
	}
}

// TestBlankOfAPenThatErrsByShares: a conductivity pen that errs by 3 % says nothing by a blank, and spoils nothing.
func TestBlankOfAPenThatErrsByShares(t *testing.T) {
	for _, shown := range []string{"0", "1"} {
		n := quiet(t, 8, day0)
		n.add(day0.AddDate(0, 0, 41), book.KnownSample{What: "RO", Kit: ecPen.Name, Of: quantity.OfEC, Value: 0, Shown: shown})
		if b := n.believe(t, day0.AddDate(0, 0, 60)); b.Rough {
			t.Errorf("a blank that showed %s left no histories", shown)
		}
	}
}

// TestUnforeseeable: moments that descend or lie before the belief are refused with a sentence, as is what was foreseen itself; none gives none.
func TestUnforeseeable(t *testing.T) {
	now := day0.AddDate(0, 0, 60)
	b := quiet(t, 8, day0).believe(t, now)
	if b.Rough {
		t.Fatal("no histories")
	}
	if out, err := Foresee(b, nil, nil); err != nil || len(out) != 0 {
		t.Errorf("no moments: %v, %d beliefs", err, len(out))
	}
	ahead, err := Foresee(b, nil, []time.Time{now, now, now.AddDate(0, 0, 7)})
	if err != nil || len(ahead) != 3 {
		t.Fatalf("%v, %d beliefs", err, len(ahead))
	}
	for _, of := range []quantity.Measurand{quantity.OfPH, quantity.OfKH, quantity.OfTAN} {
		if a, b := band(t, b, of), band(t, ahead[0], of); math.Abs(a.Median-b.Median) > 0.02*(a.Hi-a.Lo) || math.Abs(a.Hi-b.Hi) > 0.02*(a.Hi-a.Lo) {
			t.Errorf("%s: %+v now, and foreseen of now %+v", of.Label(), a, b)
		}
	}
	var refused Unforeseeable
	for name, f := range map[string]func() ([]Belief, error){
		"descending": func() ([]Belief, error) { return Foresee(b, nil, []time.Time{now.AddDate(0, 0, 7), now}) },
		"before":     func() ([]Belief, error) { return Foresee(b, nil, []time.Time{now.AddDate(0, 0, -1)}) },
		"foreseen":   func() ([]Belief, error) { return Foresee(ahead[2], nil, []time.Time{now.AddDate(0, 0, 14)}) },
	} {
		if out, err := f(); !errors.As(err, &refused) || out != nil {
			t.Errorf("%s: %v, %d beliefs", name, err, len(out))
		}
	}
}

// TestOutlookPastTenYears: where histories would be longer than a course may be, the first look is carried on.
func TestOutlookPastTenYears(t *testing.T) {
	now := day0.AddDate(0, 0, 3640)
	n := quiet(t, 5, day0)
	b := n.believe(t, now)
	out, err := Foresee(b, nil, []time.Time{now.AddDate(0, 0, 84)})
	if err != nil || len(out) != 1 {
		t.Fatalf("%v, %d beliefs", err, len(out))
	}
	if x, ok := out[0].Band(quantity.OfKH); !ok || !(x.Lo <= x.Median) {
		t.Errorf("KH %+v, %v", x, ok)
	}
}

// TestKitNames: a kit is blamed under its own name, whatever stands in it.
func TestKitNames(t *testing.T) {
	odd := khDrops
	odd.Name = "KH|drops"
	n := quiet(t, 4, day0)
	n.add(day0, odd)
	for wk := range 4 {
		n.read(t, day0.AddDate(0, 0, 7*wk+1).Add(5*time.Minute), odd, "20")
	}
	c := contradiction(t, n.believe(t, day0.AddDate(0, 0, 28)), quantity.OfKH)
	if !slices.ContainsFunc(c.Culprits, func(x blame.Culprit) bool { return x.Kit == odd.Name }) {
		t.Errorf("%+v", c.Culprits)
	}
}

// TestNothingIsNamedTwice: readings that a lot explains are not brought against it again, and a line that tells of two readings stands once.
func TestNothingIsNamedTwice(t *testing.T) {
	n := quiet(t, 8, day0)
	for i, shown := range []string{"2.00", "2.00", "12.00"} {
		n.read(t, day0.AddDate(0, 0, 50).Add(time.Duration(i)*time.Hour), phPen, shown)
	}
	n.add(day0.AddDate(0, 0, 12), book.AeratedGlass{Kit: phPen.Name, Before: 9.9, After: 10, Hours: 24})
	b := n.believe(t, day0.AddDate(0, 0, 60))
	seen := map[string]bool{}
	for _, c := range b.Contradictions {
		key := fmt.Sprint(c.Of, c.Lines, c.Culprits[0].Code, c.Culprits[0].Name)
		if seen[key] {
			t.Errorf("named twice: %+v", c)
		}
		seen[key] = true
		if sorted := slices.Sorted(slices.Values(c.Lines)); len(slices.Compact(sorted)) != len(c.Lines) {
			t.Errorf("a line stands twice: %v", c.Lines)
		}
	}
	if len(seen) == 0 {
		t.Error("nothing was named")
	}
}

// TestCancelledLate: who goes away while blame is weighed gets the error of the context, and no belief.
func TestCancelledLate(t *testing.T) {
	n := quiet(t, 8, day0)
	ctx, cancel := context.WithCancel(t.Context())
	defer cancel()
	at := day0.AddDate(0, 0, 60)
	told := 0.0
	b, err := BelieveContext(ctx, Window{Lines: n.lines, At: at, Recorded: at, Seed: 1}, func(share float64) {
		if told = share; share >= found-1e-9 {
			cancel()
		}
	})
	if !errors.Is(err, context.Canceled) || !errors.Is(err, fit.ErrStopped) || b.Draws != nil || told == 1 {
		t.Errorf("%v, %d draws, told %g", err, len(b.Draws), told)
	}
}

// TestNeverTestedMayNotHaveRunIn: in the first days of a book ammonia that was never tested may be much; a test that shows none takes that
// away.
func TestNeverTestedMayNotHaveRunIn(t *testing.T) {
	n := quiet(t, 1, day0)
	at := day0.AddDate(0, 0, 4)
	never := band(t, n.asHistories(t, at), quantity.OfTAN)
	n.add(day0, tanCard)
	n.read(t, day0.AddDate(0, 0, 3), tanCard, "0")
	tested := band(t, n.asHistories(t, at), quantity.OfTAN)
	if never.High < 0.2 || never.High < 1.5*tested.High {
		t.Errorf("never tested %+v, tested %+v", never, tested)
	}
}

// asHistories is a belief that must rest on histories.
func (n *notes) asHistories(t *testing.T, at time.Time) Belief {
	t.Helper()
	b := n.believe(t, at)
	if b.Rough {
		t.Fatal("no histories")
	}
	return b
}

// TestTheWayBackIsBelieved: half of the water was changed with RO and nobody wrote it down. Conductivity falls by half and comes back week by week:
// the first look is at the readings by the second of them.
func TestTheWayBackIsBelieved(t *testing.T) {
	n := quiet(t, 8, day0)
	shown := []string{"230", "285", "325", "355"}
	for i, x := range shown {
		n.read(t, day0.AddDate(0, 0, 57+7*i), ecPen, x)
		n.add(day0.AddDate(0, 0, 57+7*i).Add(time.Hour), book.Change{OutLitres: 15, In: []book.Poured{{Source: "tap", Litres: 15}}})
		at := day0.AddDate(0, 0, 57+7*i).Add(30 * time.Minute)
		b, err := Glance(Window{Lines: n.lines, At: at, Recorded: at.AddDate(1, 0, 0), Seed: 1})
		if err != nil {
			t.Fatal(err)
		}
		var read float64
		if _, err := fmt.Sscan(x, &read); err != nil {
			t.Fatal(err)
		}
		if e := band(t, b, quantity.OfEC); i > 0 && math.Abs(e.Median-read) > 0.06*read {
			t.Errorf("read %s, believed %.0f to %.0f", x, e.Lo, e.Hi)
		}
	}
}

// TestEvaporationOverAGap: half a litre a day is topped up, then half a year nobody writes anything down, then half a litre a day again. The
// gap is no time without evaporation.
func TestEvaporationOverAGap(t *testing.T) {
	n := &notes{}
	n.add(day0, plain)
	n.add(day0, hardTap)
	for _, from := range []int{0, 187 + 28} {
		for d := 0; d <= 28; d += 4 {
			n.add(day0.AddDate(0, 0, from+d), book.TopUp{Source: "tap", Litres: 2})
		}
	}
	at := day0.AddDate(0, 0, 187+28+29)
	n.add(at.Add(-time.Hour), khDrops)
	n.read(t, at.Add(-time.Hour), khDrops, "6")
	b, err := Glance(Window{Lines: n.lines, At: at, Recorded: at, Seed: 1})
	if err != nil {
		t.Fatal(err)
	}
	lost, ok := b.BandOf(func(d Draw) float64 { return float64(d.Evaporation) })
	if !ok || math.Abs(lost.Median-0.5) > 0.1 {
		t.Errorf("%.2f L a day", lost.Median)
	}
}

// TestFeedingAheadIsNotUnwritten: meals that are written one by one are none in the weeks to come, and the load is in no more doubt for that.
func TestFeedingAheadIsNotUnwritten(t *testing.T) {
	n := quiet(t, 1, day0)
	n.lines = slices.DeleteFunc(n.lines, func(l book.Line) bool { return l.Body.Kind() == book.Feed{}.Kind() })
	for wk := range 7 {
		n.add(day0.AddDate(0, 0, 7*wk+1), book.Feed{What: "crickets", Grams: 2, InWater: true})
	}
	now := day0.AddDate(0, 0, 46)
	_, v, lines, err := believe(Window{Lines: n.lines, At: now, Recorded: now, Seed: 1})
	if err != nil {
		t.Fatal(err)
	}
	for _, days := range []int{0, 28, 120} {
		q, err := v.ask(lines, book.MainWater, day0, now.AddDate(0, 0, days), now)
		if err != nil {
			t.Fatal(err)
		}
		if sd := q.Priors[dynamics.Load].SD; sd >= value("load.unfed") {
			t.Errorf("seen for %d days the load is in doubt by %.2f", days, sd)
		}
	}
	n.lines = slices.DeleteFunc(n.lines, func(l book.Line) bool { return l.Body.Kind() == book.Feed{}.Kind() })
	if sd := n.asked(t, now).Priors[dynamics.Load].SD; sd < value("load.unfed") {
		t.Errorf("nothing that was fed is written, and the load is in doubt by %.2f", sd)
	}
}

// TestAlarmInAYoungBook: at a first look a card that shows much ammonia alarms, be it the first of the book, and nobody knows how it goes on.
func TestAlarmInAYoungBook(t *testing.T) {
	n := quiet(t, 0, day0)
	n.add(day0, tanCard)
	at := day0.AddDate(0, 0, 3)
	n.read(t, at.Add(-time.Hour), khDrops, "4")
	n.read(t, at.Add(-time.Hour), tanCard, "4")
	glance := func(at time.Time) Belief {
		b, err := Glance(Window{Lines: n.lines, At: at, Recorded: at, Seed: 1})
		if err != nil {
			t.Fatal(err)
		}
		return b
	}
	b := glance(at)
	if x := band(t, b, quantity.OfTAN); !b.Evidence[quantity.OfTAN].Alarming || x.Hi < 2 {
		t.Errorf("alarming %v, %+v", b.Evidence[quantity.OfTAN].Alarming, x)
	}
	out, err := Foresee(b, nil, []time.Time{at.AddDate(0, 0, 28)})
	if err != nil {
		t.Fatal(err)
	}
	if x, ok := out[0].Band(quantity.OfTAN); ok {
		t.Errorf("ammonia is foretold as %+v", x)
	}
	for i := range 3 {
		n.read(t, at.AddDate(0, 0, 1+i), tanCard, "0")
	}
	if b := glance(at.AddDate(0, 0, 4)); b.Evidence[quantity.OfTAN].Alarming {
		t.Errorf("three cards that show none alarm: %+v", band(t, b, quantity.OfTAN))
	}
}

// TestRatesAreOfTheWeek: who feeds once a week has the same weekly rates and the same reserve whichever day it is.
func TestRatesAreOfTheWeek(t *testing.T) {
	n := quiet(t, 8, day0)
	n.lines = slices.DeleteFunc(n.lines, func(l book.Line) bool { return l.Body.Kind() == book.Feed{}.Kind() })
	for wk := range 8 {
		n.add(day0.AddDate(0, 0, 7*wk+1), book.Feed{What: "dry", Grams: 2.1, ProteinShare: 0.45, InWater: true})
	}
	var rises, reserves []float64
	for _, day := range []int{52, 55} { // two and five days after a meal
		b := n.asHistories(t, day0.AddDate(0, 0, day))
		rise, _ := b.BandOf(func(d Draw) float64 { return float64(d.NO3Rise) })
		reserve, ok := b.BandOf(func(d Draw) float64 { return d.Reserve })
		if !ok || math.IsInf(reserve.Median, 0) {
			t.Fatalf("day %d: reserve %+v", day, reserve)
		}
		rises, reserves = append(rises, rise.Median), append(reserves, reserve.Median)
	}
	if math.Abs(rises[0]-rises[1]) > 0.3*math.Abs(rises[0])+0.2 || math.Abs(reserves[0]-reserves[1]) > 0.4*reserves[0] {
		t.Errorf("nitrate rises by %.2f and %.2f mg N/L a week, reserve %.1f and %.1f", rises[0], rises[1], reserves[0], reserves[1])
	}
}
