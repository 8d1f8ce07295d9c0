package infer

import (
	"math"
	"slices"
	"testing"
	"time"

	"halfwater/book"
	"halfwater/kit"
	"halfwater/quantity"
	"halfwater/water"
)

func TestGHFromATDSPenIsRefused(t *testing.T) {
	n := notes{}
	pen := kit.Kit{Name: "TDS pen", Of: quantity.OfTDS, Form: kit.Meter, Unit: "mg/L", AccuracyShare: 0.02, Digit: 1, TDSFactor: 0.5, Calibrated: day0}
	n.add(day0, pen)
	id := n.read(t, day0, pen, "250")
	b := n.believe(t, day0.Add(time.Hour))
	if len(b.Refused) != 1 || b.Refused[0] != (Refusal{quantity.OfGH, "infer.gh-from-tds", id}) {
		t.Fatalf("refused %+v", b.Refused)
	}
	if _, ok := b.Band(quantity.OfGH); ok {
		t.Error("GH all the same")
	}
	if v := band(t, b, quantity.OfEC); math.Abs(v.Median-500) > 15 {
		t.Errorf("EC %.0f by factor 0.5", v.Median)
	}
	pen.TDSFactor = 0
	n.lines = nil
	n.add(day0, pen)
	n.read(t, day0, pen, "250")
	if v := band(t, n.believe(t, day0.Add(time.Hour)), quantity.OfEC); v.Low > 385 || v.High < 480 {
		t.Errorf("EC %.0f to %.0f when the factor is anything from 0.5 to 0.7", v.Low, v.High)
	}
	n.read(t, day0.Add(time.Hour), ghDrops, "9")
	if b := n.believe(t, day0.Add(2*time.Hour)); len(b.Refused) != 0 {
		t.Errorf("GH was tested and still refused: %+v", b.Refused)
	}
}

// TestHalfOnTheCard is a keeper's question: 0.5 on the ammonia card, total as NH4, pH 7.6, 25 C. By
// the numbers 0.388 mg N/L and 2.2 % free (Emerson 1975): 0.0086 mg NH3-N/L; with the interval of the
// card and the doubt of the pH the 95 % quantile is about 0.017.
func TestHalfOnTheCard(t *testing.T) {
	n := notes{}
	for _, k := range []kit.Kit{tanCard, phPen, thermo} {
		n.add(day0, k)
	}
	at := day0.Add(time.Hour)
	n.read(t, at, tanCard, "0.5")
	n.read(t, at, phPen, "7.6")
	n.read(t, at, thermo, "25")
	v, ok := n.believe(t, at.Add(time.Minute)).FreeAmmonia()
	if !ok {
		t.Fatal("free ammonia not known")
	}
	t.Logf("free ammonia %.4f, 80 %% %.4f to %.4f, 95 %% %.4f mg N/L", v.Median, v.Lo, v.Hi, v.High)
	if v.Median < 0.006 || v.Median > 0.011 || v.High < 0.012 || v.High > 0.03 {
		t.Errorf("free ammonia %.4f, 95 %% %.4f", v.Median, v.High)
	}
}

func TestFloorOfTheCard(t *testing.T) {
	n := notes{}
	n.add(day0, tanCard)
	for wk := range 6 {
		n.read(t, day0.AddDate(0, 0, 7*wk), tanCard, "0")
	}
	b := n.believe(t, day0.AddDate(0, 0, 36))
	if got := b.Evidence[quantity.OfTAN].Floor; math.Abs(got-0.125/1.288) > 0.001 {
		t.Errorf("floor %.4f mg N/L, half the first step is 0.125 mg/L as NH4, 0.097 as N", got)
	}
	if v := band(t, b, quantity.OfTAN); v.Hi > 0.25 {
		t.Errorf("six zeros, and TAN up to %.2f", v.Hi)
	}
}

func TestFarReadingIsNamedAndKept(t *testing.T) {
	e := newTruth(11, "plain")
	e.keep(10)
	n := notes{lines: e.lines}
	at := day0.AddDate(0, 0, 71)
	before := band(t, n.believe(t, at), quantity.OfKH)
	if before.Median > 10 {
		t.Fatalf("KH %.1f leaves no room for this test", before.Median)
	}
	id := n.read(t, at, khDrops, "17")
	b := n.believe(t, at.Add(time.Minute))
	i := slices.IndexFunc(b.Doubtful, func(d Doubtful) bool { return d.Line == id })
	if i < 0 {
		t.Fatalf("not named: %+v", b.Doubtful)
	}
	d := b.Doubtful[i]
	if d.Odds >= 0.01 || d.Expected.Lo > before.Median || d.Expected.Hi < before.Median || d.Code != "infer.reading-far" {
		t.Errorf("named as %+v", d)
	}
	if !slices.Contains(b.Evidence[quantity.OfKH].Readings, id) {
		t.Error("silently dropped")
	}
	after := band(t, b, quantity.OfKH)
	if after.Median > before.Median+2 {
		t.Errorf("one far reading moved KH from %.1f to %.1f", before.Median, after.Median)
	}
	for range 3 { // said again and again it is believed
		at = at.Add(time.Hour)
		n.read(t, at, khDrops, "17")
	}
	if v := band(t, n.believe(t, at.Add(time.Minute)), quantity.OfKH); v.Median < after.Median {
		t.Errorf("four readings of 17 and KH %.1f", v.Median)
	}
}

func TestSitterCountsLess(t *testing.T) {
	shift := map[book.By]float64{}
	for _, by := range []book.By{book.Keeper, book.Sitter} {
		n := notes{}
		n.add(day0, khDrops)
		n.read(t, day0, khDrops, "6")
		n.by = by
		n.read(t, day0.AddDate(0, 0, 1), khDrops, "4")
		shift[by] = 5.5 - band(t, n.believe(t, day0.AddDate(0, 0, 1)), quantity.OfKH).Median
	}
	if !(shift[book.Sitter] < shift[book.Keeper]) || shift[book.Sitter] <= 0 {
		t.Errorf("KH moved by %.2f for the keeper, %.2f for the sitter", shift[book.Keeper], shift[book.Sitter])
	}
}

func TestOldLotsWiden(t *testing.T) {
	width := func(useBy time.Time) float64 {
		n := notes{}
		k := no3Card
		k.UseBy = useBy
		n.add(day0, k)
		n.read(t, day0.AddDate(0, 0, 1), k, "25")
		v := band(t, n.believe(t, day0.AddDate(0, 0, 1)), quantity.OfNO3)
		return v.Hi - v.Lo
	}
	if fresh, old := width(day0.AddDate(1, 0, 0)), width(day0.AddDate(-1, 0, 0)); old < 1.1*fresh {
		t.Errorf("an old lot's band is %.2f wide, a fresh one's %.2f", old, fresh)
	}
}

func TestAGlassIsNotTheEnclosure(t *testing.T) {
	n := notes{}
	n.add(day0, hardTap)
	n.read(t, day0, khDrops, "4")
	before := n.believe(t, day0.Add(3*time.Hour))
	for _, place := range []string{"glass", "bucket"} {
		n.add(day0.Add(time.Hour), book.Reading{Of: quantity.OfKH, Kit: "KH drops", Shown: "10", Unit: "dKH", Lo: 9, Hi: 10, Place: place})
	}
	if !slices.Equal(bits(before), bits(n.believe(t, day0.Add(3*time.Hour)))) {
		t.Error("a reading of a glass or of a bucket moved the water")
	}
	// One of the tap tells of the tap and the drops: they read high, so the water holds less, if anything.
	n.add(day0.Add(time.Hour), book.Reading{Of: quantity.OfKH, Kit: "KH drops", Shown: "10", Unit: "dKH", Lo: 9, Hi: 10, Place: "tap"})
	was, is := band(t, before, quantity.OfKH), band(t, n.believe(t, day0.Add(3*time.Hour)), quantity.OfKH)
	if is.Median > was.Median+0.05 || is.Median < was.Median-0.5 {
		t.Errorf("the tap read high: KH of the water %.2f, before %.2f", is.Median, was.Median)
	}
}

// TestChloramineLeavesAmmonia is a keeper's question: 3 mg/L of chloramine as Cl2 in the tap is 0.59 mg
// N/L, and a change of 40 % brings 0.24 mg N/L (71 g of Cl2 for 14 g of N).
func TestChloramineLeavesAmmonia(t *testing.T) {
	n := notes{}
	n.add(day0, plain)
	tap := hardTap
	tap.Chloramine = true
	tap.Analysis.Chloramine = water.Stated[quantity.MgPerL](3)
	n.add(day0, tap)
	n.add(day0, tanCard)
	for d := range 5 {
		n.read(t, day0.AddDate(0, 0, d), tanCard, "0")
	}
	at := day0.AddDate(0, 0, 5)
	held := n.believe(t, at).median(func(d Draw) float64 { return float64(d.Held) })
	before := band(t, n.believe(t, at), quantity.OfTAN)
	n.add(at, book.Change{OutLitres: quantity.Litres(0.4 * held), In: []book.Poured{{Source: "tap", Litres: quantity.Litres(0.4 * held)}}})
	after := band(t, n.believe(t, at.Add(time.Minute)), quantity.OfTAN)
	if gain := after.Median - 0.6*before.Median; math.Abs(gain-0.237) > 0.03 {
		t.Errorf("TAN from %.3f to %.3f: %.3f mg N/L came with the tap", before.Median, after.Median, gain)
	}
}

func TestAProbeIsNoThousandReadings(t *testing.T) {
	width := func(every time.Duration) float64 {
		n := notes{by: book.Probe}
		n.add(day0, thermo)
		for at := day0; at.Before(day0.AddDate(0, 0, 1)); at = at.Add(every) {
			n.read(t, at, thermo, "24")
		}
		v := band(t, n.believe(t, day0.AddDate(0, 0, 1)), quantity.OfWaterTemp)
		return v.Hi - v.Lo
	}
	// What is left is the thermometer's own bias, however often it is read.
	often, seldom := width(time.Minute), width(6*time.Hour)
	if often > seldom || often < 0.8*seldom {
		t.Errorf("a reading a minute makes the band %.3f wide, four a day %.3f", often, seldom)
	}
	if bias := 2 * z90 * value("lot.meter") * thermo.Error(day0).SD; often < 0.9*bias {
		t.Errorf("the band is %.3f wide, the bias alone makes it %.3f", often, bias)
	}
}
