package infer

import (
	"math"
	"slices"
	"testing"
	"time"

	"halfwater/book"
	"halfwater/enclosure"
	"halfwater/infer/blame"
	"halfwater/kit"
	"halfwater/quantity"
	"halfwater/water"
)

// contradiction is that of a measurand; the test ends when there is none.
func contradiction(t *testing.T, b Belief, of quantity.Measurand) blame.Contradiction {
	t.Helper()
	i := slices.IndexFunc(b.Contradictions, func(c blame.Contradiction) bool { return c.Of == of })
	if i < 0 {
		t.Fatalf("nothing of %s does not fit: %+v", of.Label(), b.Contradictions)
	}
	return b.Contradictions[i]
}

// twoKits is a book in which two cards are held to the same water, once a week.
func twoKits(t *testing.T, first, second string, weeks int) (*notes, []book.ID, []book.ID, time.Time) {
	steps := []float64{0, 2.5, 5, 10, 16, 25, 40, 80}
	a := kit.Kit{Name: "first card", Of: quantity.OfNO3, Form: kit.Card, Unit: "mg/L", Basis: quantity.AsNO3, Steps: steps, Lot: "a"}
	b := a
	b.Name, b.Lot = "second card", "b"
	n := &notes{}
	n.add(day0, plain)
	n.add(day0, hardTap)
	n.add(day0, a)
	n.add(day0, b)
	var of [2][]book.ID
	at := day0
	for wk := range weeks {
		at = day0.AddDate(0, 0, 7*wk+1)
		of[0] = append(of[0], n.read(t, at, a, first))
		of[1] = append(of[1], n.read(t, at.Add(5*time.Minute), b, second))
	}
	return n, of[0], of[1], at.Add(time.Hour)
}

// TestTwoKits is a keeper's question: two kits read 40 and 10 in the same water. A ratio of 4.4 is that of
// nitrogen against the ion; one of 2.5 is rather a bad lot, and mostly what two cards are apart by chance.
func TestTwoKits(t *testing.T) {
	n, first, second, at := twoKits(t, "40", "10", 1)
	c := contradiction(t, n.believe(t, at), quantity.OfNO3)
	if unit, lot := c.Odds(blame.ByUnit), c.Odds(blame.ByLot); unit < 1.5*lot || unit > 0.5 {
		t.Errorf("40 and 10 once: unit %.2f, lot %.2f of %+v", unit, lot, c.Culprits)
	}
	if !slices.Contains(c.Lines, first[0]) || !slices.Contains(c.Lines, second[0]) {
		t.Errorf("lines %v", c.Lines)
	}
	for _, want := range []string{"infer.check-basis", "infer.check-shake", "infer.check-blank", "infer.check-standard-no3", "infer.check-dilution"} {
		if !slices.Contains(c.Checks, want) {
			t.Errorf("%s is not among what to do, %v", want, c.Checks)
		}
	}

	n, _, second, at = twoKits(t, "40", "10", 4)
	c = contradiction(t, n.believe(t, at), quantity.OfNO3)
	if top := c.Culprits[0]; top.Code != blame.ByUnit || top.Kit != "second card" || top.Name != "N" || top.Odds < 0.5 {
		t.Errorf("40 and 10 four times: %+v", c.Culprits)
	}
	if !slices.Equal(c.Suspect, second) {
		t.Errorf("suspect %v, want those of the second card, %v", c.Suspect, second)
	}

	for _, weeks := range []int{1, 8} {
		n, _, _, at = twoKits(t, "25", "10", weeks)
		c = contradiction(t, n.believe(t, at), quantity.OfNO3)
		if unit, lot := c.Odds(blame.ByUnit), c.Odds(blame.ByLot); lot <= unit {
			t.Errorf("25 and 10, %d times: unit %.2f, lot %.2f of %+v", weeks, unit, lot, c.Culprits)
		}
	}
	n, _, _, at = twoKits(t, "16", "10", 4)
	if b := n.believe(t, at); len(b.Contradictions) > 0 {
		t.Errorf("16 and 10 do not fit: %+v", b.Contradictions)
	}
}

// TestStandardForNitrate: 50 mg/L of nitrate are 81.5 mg of potassium nitrate in a litre (molar masses of
// KNO3, 101.10, and of NO3, 62.00 g/mol).
func TestStandardForNitrate(t *testing.T) {
	if mg := 50 * (39.098 + water.MolarN + 3*15.999) / (water.MolarN + 3*15.999); math.Abs(mg-81.5) > 0.05 {
		t.Errorf("%.2f mg", mg)
	}
}

// TestAiredGlass: what a glass aired for a day should read is near pH 7.5 at 1 dKH and 0.3 higher for each
// doubling, at the CO2 of a room (some 800 uatm), by the carbonate equilibria of package water.
func TestAiredGlass(t *testing.T) {
	for kh, want := range map[quantity.Alkalinity]float64{1: 7.45, 2: 7.75, 4: 8.05} {
		c, _ := Draw{KH: kh, GH: 6, Temp: 24, PH: 7.5, NO3: 5}.Composition()
		s, err := water.Open(c, 800e-6)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(float64(s.PH)-want) > 0.07 {
			t.Errorf("KH %g: pH %.2f, want %.2f", float64(kh), float64(s.PH), want)
		}
	}
}

// spoil makes a kit read times as much from a moment on.
func (t *truth) spoil(k kit.Kit, from time.Time, times float64) {
	for _, p := range t.pairs {
		i := slices.IndexFunc(t.lines, func(l book.Line) bool { return l.ID == p.id })
		l := &t.lines[i]
		if p.m != k.Of || l.At.Before(from) {
			continue
		}
		x := times * p.x
		if k.Form == kit.Drops {
			x += 0.3 * t.r.NormFloat64()
		} else {
			x *= math.Exp(0.25 * t.r.NormFloat64())
		}
		r := l.Body.(book.Reading)
		r.Shown = k.Shows(math.Max(x, 1e-3))
		iv, err := k.Read(r.Shown, l.At)
		if err != nil {
			panic(err)
		}
		r.Lo, r.Hi = iv.Lo, iv.Hi
		l.Body = r
	}
}

// thirds is a simulated book in which a new lot of a kit, past its date or not, reads times the truth from week 13
// on, for some weeks. Not ok when there is too little of what it reads to tell a third of it.
func thirds(seed uint64, k kit.Kit, times, least float64, old bool, weeks int) (e *truth, lot []book.ID, ok bool) {
	e = newTruth(seed, "plain")
	e.keep(12)
	from := day0.AddDate(0, 0, 7*12).Add(time.Hour)
	next := k
	next.Lot = "b"
	if old {
		next.UseBy = from.AddDate(0, -2, 0)
	}
	e.write(from, next)
	e.keep(weeks)
	e.spoil(next, from, times)
	sum, n := 0.0, 0.0
	for _, p := range e.pairs {
		i := slices.IndexFunc(e.lines, func(l book.Line) bool { return l.ID == p.id })
		if p.m == k.Of {
			sum, n = sum+p.x, n+1
			if e.lines[i].At.After(from) {
				lot = append(lot, p.id)
			}
		}
	}
	return e, lot, sum/n >= least
}

// TestThirdOfTheTruth is a keeper's question: a kit that reads a third of the truth for twelve weeks is named
// before week 8, and its readings become suspect. In enclosures that are not the model, with a drop test.
func TestThirdOfTheTruth(t *testing.T) {
	books := 0
	for seed := uint64(9000); books < 2; seed++ {
		e, lot, ok := thirds(seed, khDrops, 1./3, 3.5, true, 7)
		if !ok {
			continue
		}
		books++
		at := day0.AddDate(0, 0, 7*19)
		b, err := Believe(Window{Lines: e.lines, At: at, Recorded: at, Seed: 1})
		if err != nil {
			t.Fatal(err)
		}
		c := contradiction(t, b, quantity.OfKH)
		if c.Odds(blame.ByLot) < 0.5 || c.Culprits[0].Kit != khDrops.Name {
			t.Errorf("seed %d: %+v", seed, c.Culprits)
		}
		for _, id := range lot {
			if !slices.Contains(c.Suspect, id) {
				t.Errorf("seed %d: %s of the bad lot is not suspect", seed, id)
			}
		}
		if len(c.Suspect) > len(lot) {
			t.Errorf("seed %d: %d readings suspect, the bad lot made %d", seed, len(c.Suspect), len(lot))
		}
	}
}

// TestKnownSampleNamesTheLot: against a standard that reads a third a lot is named at once.
func TestKnownSampleNamesTheLot(t *testing.T) {
	n := notes{}
	n.add(day0, plain)
	n.add(day0, hardTap)
	n.add(day0, no3Card)
	var ids []book.ID
	at := day0
	for wk := range 3 {
		at = day0.AddDate(0, 0, 7*wk+1)
		ids = append(ids, n.read(t, at, no3Card, "5"))
	}
	for range 2 {
		at = at.Add(time.Hour)
		n.add(at, book.KnownSample{What: "nitrate standard", Kit: no3Card.Name, Of: quantity.OfNO3, Value: float64(quantity.NitrateAsNO3(50)), Shown: "10"})
	}
	c := contradiction(t, n.believe(t, at.Add(time.Hour)), quantity.OfNO3)
	if c.Odds(blame.ByLot)+c.Odds(blame.ByUnit) < 0.6 {
		t.Errorf("50 read as 10 twice: %+v", c.Culprits)
	}
	for _, id := range ids {
		if !slices.Contains(c.Suspect, id) {
			t.Errorf("%s is not suspect", id)
		}
	}
}

// TestStripAgainstPen is a keeper's question: strip 7.0, pen 7.8. It asks when the pen was calibrated, says
// that strips are poor in soft water, and to hold both against KH and CO2.
func TestStripAgainstPen(t *testing.T) {
	strip := kit.Kit{Name: "pH strip", Of: quantity.OfPH, Form: kit.Strip, Unit: "pH", Steps: []float64{6, 6.5, 7, 7.5, 8, 8.5}}
	ask := func(kh string, calibrated time.Time) blame.Contradiction {
		pen := phPen
		pen.Calibrated = calibrated
		n := notes{}
		for _, f := range []enclosure.Fact{plain, hardTap, khDrops, strip, pen} {
			n.add(day0, f.(book.Body))
		}
		at := day0.AddDate(0, 0, 2)
		n.read(t, at, khDrops, kh)
		a := n.read(t, at, strip, "7.0")
		b := n.read(t, at.Add(time.Minute), pen, "7.8")
		c := contradiction(t, n.believe(t, at.Add(time.Hour)), quantity.OfPH)
		if !slices.Equal(c.Lines, []book.ID{a, b}) {
			t.Errorf("lines %v", c.Lines)
		}
		return c
	}
	soft, hard := ask("2", time.Time{}), ask("8", time.Time{})
	for _, want := range []string{"infer.check-calibrated-when", "infer.check-buffers", "infer.check-strip-soft", "infer.check-kh-co2"} {
		if !slices.Contains(soft.Checks, want) {
			t.Errorf("%s is not among what to do, %v", want, soft.Checks)
		}
	}
	if slices.Contains(hard.Checks, "infer.check-strip-soft") {
		t.Error("a strip is called poor in hard water")
	}
	if soft.Odds(blame.ByLot) <= hard.Odds(blame.ByLot) || soft.Odds(blame.ByLot) <= soft.Odds(blame.ByPen) {
		t.Errorf("the strip is blamed with %.2f in soft water, %.2f in hard; the pen with %.2f", soft.Odds(blame.ByLot), hard.Odds(blame.ByLot), soft.Odds(blame.ByPen))
	}
	known := ask("8", day0.AddDate(0, 0, -2))
	if slices.Contains(known.Checks, "infer.check-calibrated-when") {
		t.Error("asks for a date that it has")
	}
	if known.Odds(blame.ByPen) >= hard.Odds(blame.ByPen) {
		t.Errorf("a pen calibrated four days ago is blamed with %.2f, one that never was with %.2f", known.Odds(blame.ByPen), hard.Odds(blame.ByPen))
	}
}
