package infer

import (
	"fmt"
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"
	"time"

	"halfwater/book"
	"halfwater/enclosure"
	"halfwater/kit"
	"halfwater/quantity"
	"halfwater/water"
)

// notes is a small book being written.
type notes struct {
	lines []book.Line
	by    book.By
}

func (n *notes) add(at time.Time, b book.Body) book.ID {
	id := book.ID(fmt.Sprintf("n%04d", len(n.lines)))
	by := n.by
	if by == "" {
		by = book.Keeper
	}
	n.lines = append(n.lines, book.Line{ID: id, At: at, Recorded: at, Water: book.MainWater, By: by, Body: b})
	return id
}

// read writes down what a kit shows.
func (n *notes) read(t testing.TB, at time.Time, k kit.Kit, shown string) book.ID {
	t.Helper()
	iv, err := k.Read(shown, at)
	if err != nil {
		t.Fatal(err)
	}
	return n.add(at, book.Reading{Of: k.Of, Kit: k.Name, Shown: shown, Unit: k.Unit, Basis: k.Basis, Lo: iv.Lo, Hi: iv.Hi})
}

func (n *notes) believe(t testing.TB, at time.Time) Belief {
	t.Helper()
	b, err := Believe(Window{Lines: n.lines, At: at, Recorded: at, Seed: 7})
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func band(t testing.TB, b Belief, m quantity.Measurand) quantity.Band[float64] {
	t.Helper()
	v, ok := b.Band(m)
	if !ok {
		t.Fatalf("%s is not known", m.Label())
	}
	return v
}

// exactly is a meter without error to speak of.
func exactly(of quantity.Measurand, unit string) kit.Kit {
	return kit.Kit{Name: "fine " + string(of), Of: of, Form: kit.Meter, Unit: unit, Accuracy: 0.01, Digit: 0.001, Calibrated: day0}
}

var (
	hardTap = enclosure.SourceWater{Name: "tap", Analysis: water.Analysis{
		Kind: water.Mains, GH: water.Stated[quantity.Hardness](14), KH: water.Stated[quantity.Alkalinity](9.25),
		EC: water.Stated[quantity.Conductivity](577), NO3: water.Stated[quantity.Nitrate](4.9),
	}}
	pure  = enclosure.SourceWater{Name: "RO", MadeBy: "RO unit", Analysis: water.Analysis{Kind: water.RO}}
	plain = enclosure.Basin{Length: 1000, Width: 500, Height: 400, FullMark: 200}
)

// bits makes draws comparable: NaN equals NaN.
func bits(b Belief) []string {
	out := make([]string, 0, len(b.Draws))
	for _, d := range b.Draws {
		out = append(out, fmt.Sprintf("%x", d))
	}
	return out
}

func TestSameWindowSameBelief(t *testing.T) {
	e := newTruth(5, "plain")
	e.keep(8)
	at := day0.AddDate(0, 0, 57)
	w := Window{Lines: e.lines, At: at, Recorded: at, Seed: 3}
	first, _ := Believe(w)
	again, _ := Believe(w)
	if !slices.Equal(bits(first), bits(again)) {
		t.Error("the same window gave two beliefs")
	}
	w.Lines = slices.Clone(e.lines)
	rand.New(rand.NewPCG(1, 1)).Shuffle(len(w.Lines), func(i, j int) { w.Lines[i], w.Lines[j] = w.Lines[j], w.Lines[i] })
	shuffled, _ := Believe(w)
	if !slices.Equal(bits(first), bits(shuffled)) {
		t.Error("the order in which lines are handed over matters")
	}
	w.Seed = 4
	other, _ := Believe(w)
	if slices.Equal(bits(first), bits(other)) {
		t.Error("the seed does nothing")
	}
	a, b := band(t, first, quantity.OfKH), band(t, other, quantity.OfKH)
	if math.Abs(a.Median-b.Median) > 0.1*(a.Hi-a.Lo) {
		t.Errorf("another seed moves KH from %.3f to %.3f", a.Median, b.Median)
	}
}

func TestNoMoment(t *testing.T) {
	if _, err := Believe(Window{}); !reflect.DeepEqual(err, NoMoment{}) {
		t.Errorf("got %v", err)
	}
}

func TestWithdrawnAndSetAsideSayNothing(t *testing.T) {
	e := newTruth(6, "plain")
	e.keep(5)
	at := day0.AddDate(0, 0, 36)
	sane := notes{lines: e.lines}
	before := sane.believe(t, at)
	for _, undo := range []func(book.ID) book.Body{
		func(id book.ID) book.Body { return book.Withdraw{Line: id, Reason: "wrong tube"} },
		func(id book.ID) book.Body { return book.SetAside{Line: id, Reason: "old lot"} },
	} {
		n := notes{lines: slices.Clone(e.lines)}
		id := n.add(at.Add(-time.Hour), book.Reading{Of: quantity.OfKH, Kit: "KH drops", Shown: "14", Unit: "dKH", Lo: 13, Hi: 14})
		if slices.Equal(bits(before), bits(n.believe(t, at))) {
			t.Fatal("the reading changed nothing while it stood")
		}
		n.add(at.Add(-time.Minute), undo(id))
		if !slices.Equal(bits(before), bits(n.believe(t, at))) {
			t.Errorf("%s: the reading still counts", undo(id).Kind())
		}
	}
}

func TestLateLine(t *testing.T) {
	e := newTruth(8, "plain")
	e.keep(6)
	at := day0.AddDate(0, 0, 43)
	late := slices.Clone(e.lines)
	late = append(late, book.Line{
		ID: "late", At: day0.AddDate(0, 0, 20), Recorded: at.Add(time.Hour), Water: book.MainWater, By: book.Keeper,
		Body: book.Reading{Of: quantity.OfWaterTemp, Kit: "thermometer", Shown: "27", Unit: "Cel", Lo: 26.5, Hi: 27.5},
	})
	w := Window{Lines: late, At: at, Recorded: at, Seed: 2}
	unknown, _ := Believe(w)
	w.Lines = e.lines
	without, _ := Believe(w)
	if !slices.Equal(bits(unknown), bits(without)) {
		t.Error("a line that the book did not yet hold was used")
	}
	w.Lines, w.Recorded = late, at.Add(2*time.Hour)
	with, _ := Believe(w)
	warmer := 0
	for i := range with.Draws {
		a, b := without.Draws[i], with.Draws[i]
		if b.Temp > a.Temp {
			warmer++
		}
	}
	if warmer < len(with.Draws)*9/10 {
		t.Errorf("only %d of %d draws are warmer", warmer, len(with.Draws))
	}
	// What lives in the water hangs on its temperature, but 27 C once in six weeks is no other enclosure.
	for _, m := range []quantity.Measurand{quantity.OfKH, quantity.OfNO3, quantity.OfGH, quantity.OfEC, quantity.OfPH} {
		a, b := band(t, without, m), band(t, with, m)
		if moved := math.Abs(a.Median - b.Median); moved > (a.Hi-a.Lo)/4 {
			t.Errorf("a late temperature moved %s from %.3g to %.3g", m, a.Median, b.Median)
		}
	}
}

func TestFactsHoldFromTheirDate(t *testing.T) {
	n := notes{}
	n.add(day0, plain)
	n.add(day0, hardTap)
	n.read(t, day0.Add(time.Hour), exactly(quantity.OfGH, "dGH"), "6")
	pour := book.Change{OutLitres: 20, In: []book.Poured{{Source: "tap", Litres: 20}}}
	n.add(day0.AddDate(0, 0, 7), pour)
	softer := hardTap
	softer.Analysis.GH = water.Stated[quantity.Hardness](2)
	mid := day0.AddDate(0, 0, 10)
	before := n.believe(t, mid)
	n.add(day0.AddDate(0, 0, 14), softer)
	if !slices.Equal(bits(before), bits(n.believe(t, mid))) {
		t.Error("a fact of the fourteenth day changed the belief of the tenth")
	}
	was := band(t, n.believe(t, day0.AddDate(0, 0, 15)), quantity.OfGH)
	n.add(day0.AddDate(0, 0, 16), pour)
	is := band(t, n.believe(t, day0.AddDate(0, 0, 17)), quantity.OfGH)
	if was.Median < 6.5 || is.Median > was.Median-0.5 {
		t.Errorf("GH %.2f after hard tap, %.2f after soft", was.Median, is.Median)
	}
}

func TestNothingKnown(t *testing.T) {
	n := notes{}
	b := n.believe(t, day0)
	for _, m := range measured {
		if v, ok := b.Band(m); ok {
			t.Errorf("%s from nothing: %v", m.Label(), v)
		}
		if _, ok := b.Evidence[m]; ok {
			t.Errorf("evidence of %s from nothing", m.Label())
		}
	}
	if len(b.Draws) != draws {
		t.Errorf("%d draws", len(b.Draws))
	}
	if _, ok := b.FreeAmmonia(); ok {
		t.Error("free ammonia without pH")
	}
}

// median is that of anything in the draws.
func (b Belief) median(of func(Draw) float64) float64 {
	v, _ := b.BandOf(of)
	return v.Median
}

func TestOtherWatersDoNotMix(t *testing.T) {
	e := newTruth(14, "plain")
	e.keep(4)
	at := day0.AddDate(0, 0, 30)
	n := notes{lines: slices.Clone(e.lines)}
	before := n.believe(t, at)
	for _, body := range []book.Body{
		book.Reading{Of: quantity.OfKH, Kit: "KH drops", Shown: "20", Unit: "dKH", Lo: 19, Hi: 20},
		book.Change{OutLitres: 30, In: []book.Poured{{Source: "tap", Litres: 30}}},
		book.Feed{What: "dry", Grams: 1, InWater: true, PerDay: true},
		plain,
	} {
		n.add(at.AddDate(0, 0, -3), body)
		n.lines[len(n.lines)-1].Water = "rearing tub"
	}
	if !slices.Equal(bits(before), bits(n.believe(t, at))) {
		t.Error("what happened in the rearing tub moved the main water")
	}
	tub, err := Believe(Window{Lines: n.lines, Water: "rearing tub", At: at, Recorded: at, Seed: 7})
	if err != nil {
		t.Fatal(err)
	}
	if v := band(t, tub, quantity.OfKH); v.Median < 10 {
		t.Errorf("KH of the tub %.1f, read as 20 drops and changed once", v.Median)
	}
}

// TestOneMoreLine: the search that begins where that of the shorter book ended finds what the whole search finds.
func TestOneMoreLine(t *testing.T) {
	e := newTruth(5, "plain")
	e.keep(12)
	at := day0.AddDate(0, 0, 7*12+1)
	w := Window{Lines: e.lines, At: at, Recorded: at, Seed: 1}
	whole, err := Believe(w)
	if err != nil {
		t.Fatal(err)
	}
	less := w
	less.Lines = w.Lines[:len(w.Lines)-2]
	before, err := Believe(less)
	if err != nil {
		t.Fatal(err)
	}
	w.Before = &before
	sooner, err := Believe(w)
	if err != nil {
		t.Fatal(err)
	}
	if whole.Rough || sooner.Rough {
		t.Fatal("no histories")
	}
	for _, m := range foretold {
		a, b := band(t, whole, m), band(t, sooner, m)
		if far := math.Abs(a.Median-b.Median) / (a.Hi - a.Lo); far > 0.15 {
			t.Errorf("%s: %.3g cold, %.3g from before: %.2f of the band apart", m.Label(), a.Median, b.Median, far)
		}
	}
}
