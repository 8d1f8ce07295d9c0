package infer

import (
	"fmt"
	"math"
	"slices"
	"testing"
	"time"

	"halfwater/book"
	"halfwater/dynamics"
	"halfwater/enclosure"
	"halfwater/kit"
	"halfwater/quantity"
	"halfwater/water"
)

func TestNeverReadRestsOnSources(t *testing.T) {
	n := notes{}
	n.add(day0, plain)
	n.add(day0, hardTap)
	n.add(day0, pure)
	at := day0.AddDate(0, 0, 30)
	start := band(t, n.believe(t, at), quantity.OfGH)
	if start.Hi-start.Lo < 8 {
		t.Errorf("GH never read: %.1f to %.1f is not wide", start.Lo, start.Hi)
	}
	e := n.believe(t, at).Evidence[quantity.OfGH]
	if !e.Last.IsZero() || len(e.Readings) != 0 {
		t.Errorf("evidence %+v for what was never read", e)
	}
	for wk := range 16 { // poured often enough, the enclosure becomes its sources
		n.add(at.AddDate(0, 0, 7*wk), book.Change{OutLitres: 30, In: []book.Poured{{Source: "tap", Litres: 15}, {Source: "RO", Litres: 15}}})
	}
	end := n.believe(t, at.AddDate(0, 0, 16*7))
	v := band(t, end, quantity.OfGH)
	if v.Lo > 7.1 || v.Hi < 7.1 || v.Hi-v.Lo > (start.Hi-start.Lo)/2 {
		t.Errorf("after 16 changes of half tap: %.1f to %.1f, sources mean 7.1", v.Lo, v.Hi)
	}
	if got := end.Evidence[quantity.OfGH].Carried; !slices.Contains(got, "change") {
		t.Errorf("carried %v", got)
	}
}

func TestDilutionIsConserved(t *testing.T) {
	// A quarter of a known box changed with pure water, everything read finely: the share goes with it.
	n := notes{}
	n.add(day0, plain)
	n.add(day0, enclosure.SourceWater{Name: "zero", Analysis: water.Analysis{
		Kind: water.RO, GH: water.Stated[quantity.Hardness](0), KH: water.Stated[quantity.Alkalinity](0),
		EC: water.Stated[quantity.Conductivity](1), NO3: water.Stated[quantity.Nitrate](0), Cl: water.Stated[quantity.MgPerL](0),
	}})
	ghPen, khPen := exactly(quantity.OfGH, "dGH"), exactly(quantity.OfKH, "dKH")
	n.add(day0, ghPen)
	n.add(day0, khPen)
	n.read(t, day0.Add(time.Hour), ghPen, "8")
	n.read(t, day0.Add(time.Hour), khPen, "4")
	held := float64(n.believe(t, day0.Add(2*time.Hour)).median(func(d Draw) float64 { return float64(d.Held) }))
	n.add(day0.Add(3*time.Hour), book.Change{OutLitres: quantity.Litres(held / 4), In: []book.Poured{{Source: "zero", Litres: quantity.Litres(held / 4)}}})
	b := n.believe(t, day0.Add(3*time.Hour+time.Minute))
	for m, want := range map[quantity.Measurand]float64{quantity.OfGH: 6, quantity.OfKH: 3} {
		if v := band(t, b, m); math.Abs(v.Median-want) > 0.05*want { // half a year unread: the middle of what may be is not what the middles give
			t.Errorf("%s %.3f after a quarter of pure water, want %.2f", m.Label(), v.Median, want)
		}
	}
	// Salt adds what it weighs: 0.2622 g of CaCl2.2H2O per 10 L is 1 dGH (stoichiometry).
	n.add(day0.Add(4*time.Hour), book.Dose{What: "CaCl2.2H2O", Grams: quantity.Grams(0.02622 * held)})
	if v := band(t, n.believe(t, day0.Add(5*time.Hour)), quantity.OfGH); math.Abs(v.Median-7) > 0.1 {
		t.Errorf("GH %.3f after 1 dGH of salt, want 7", v.Median)
	}
}

// TestConductivityCreeps is a closed form of the trade: 90 L, 18 L changed a week, 11 L evaporated a
// week. Topped up with the same tap of 400 the plateau is 400 (18+11)/18 = 644, with pure water 400; of the 11 L the
// book's share of seepage takes its salts along, which leaves 631 and 392.
func TestConductivityCreeps(t *testing.T) {
	for name, want := range map[string]float64{"tap": 18 + 11, "RO": 18} {
		want *= 400 / (18 + 11*dynamics.Seepage.Prior().Median)
		n := notes{}
		// The box is measured by level so that it holds 90 L: found by its full mark.
		basin := enclosure.Basin{Length: 1000, Width: 400, Height: 500, FullMark: 270}
		n.add(day0, basin)
		tap := weakTap(t)
		n.add(day0, tap)
		n.add(day0, enclosure.SourceWater{Name: "RO", Analysis: water.Analysis{
			Kind: water.RO, GH: water.Stated[quantity.Hardness](0), KH: water.Stated[quantity.Alkalinity](0), EC: water.Stated[quantity.Conductivity](0),
		}})
		pen := kit.Kit{Name: "pen", Of: quantity.OfEC, Form: kit.Meter, Unit: "uS/cm", AccuracyShare: 0.02, Digit: 1, Calibrated: day0}
		n.add(day0, pen)
		n.read(t, day0, pen, "400")
		// Hardly anything is fed: what animals add is not part of the closed form.
		n.add(day0, book.Feed{What: "dry", Grams: 0.001, InWater: true, PerDay: true})
		held := n.believe(t, day0.Add(time.Hour)).median(func(d Draw) float64 { return float64(d.Held) })
		for wk := range 30 {
			at := day0.AddDate(0, 0, 7*(wk+1))
			n.add(at, book.TopUp{Source: name, Litres: quantity.Litres(11 * held / 90)})
			n.add(at.Add(time.Hour), book.Change{OutLitres: quantity.Litres(18 * held / 90), In: []book.Poured{{Source: "tap", Litres: quantity.Litres(18 * held / 90)}}})
		}
		at := day0.AddDate(0, 0, 7*31)
		n.add(at, book.TopUp{Source: name, Litres: quantity.Litres(11 * held / 90)})
		v := band(t, n.believe(t, at.Add(time.Minute)), quantity.OfEC)
		// Conductivity is not quite in proportion to what is dissolved: the same water thickened so much
		// reads this much by the full chemistry.
		want = thickened(t, 400, want/400)
		t.Logf("topped up with %s: EC %.0f (%.0f to %.0f); the closed form, by the full chemistry, %.0f", name, v.Median, v.Lo, v.Hi, want)
		if v.Lo > want || v.Hi < want || math.Abs(v.Median-want) > 0.05*want { // half a year unread: the middle of what may be is not what the middles give
			t.Errorf("topped up with %s: EC %.0f (%.0f to %.0f), the closed form says %.0f", name, v.Median, v.Lo, v.Hi, want)
		}
	}
}

// weakTap is a calcium bicarbonate tap of 400 uS/cm by the full chemistry.
func weakTap(t *testing.T) enclosure.SourceWater {
	t.Helper()
	at := func(f float64) water.Analysis {
		return water.Analysis{
			Kind: water.Mains, GH: water.Stated(quantity.HardnessMmol(2.5 * f)), KH: water.Stated(quantity.AlkalinityMeq(3.3 * f)),
			Cl: water.Stated(quantity.MgPerL(1.2 * f * water.MolarCl)),
		}
	}
	lo, hi := 0.01, 5.0
	for range 40 {
		mid := (lo + hi) / 2
		whole, err := at(mid).Middle()
		if err != nil {
			t.Fatal(err)
		}
		s, err := water.GivenPH(whole.Composition, 7.6)
		if err != nil {
			t.Fatal(err)
		}
		if s.EC25() < 400 {
			lo = mid
		} else {
			hi = mid
		}
	}
	a := at(lo)
	a.EC = water.Stated[quantity.Conductivity](400)
	return enclosure.SourceWater{Name: "tap", Analysis: a}
}

// thickened is the conductivity of a calcium bicarbonate tap of this conductivity when all that it holds
// is multiplied.
func thickened(t *testing.T, ec, by float64) float64 {
	t.Helper()
	read := func(f float64) float64 {
		tap := water.Composition{Temperature: 25, Ca: 2.0, Mg: 0.5, Na: 1.0, K: 0.05, Cl: 1.2, SO4: 0.6, NO3: 0.35, Alk: 3.3}
		s, err := water.GivenPH(tap.Scaled(f), 7.6)
		if err != nil {
			t.Fatal(err)
		}
		return float64(s.EC25())
	}
	lo, hi := 0.01, 5.0
	for range 60 {
		if mid := (lo + hi) / 2; read(mid) < ec {
			lo = mid
		} else {
			hi = mid
		}
	}
	return read(lo * by)
}

func TestDoubtGrowsWithTime(t *testing.T) {
	e := newTruth(9, "plain")
	e.keep(10)
	n := notes{lines: e.lines}
	last := map[quantity.Measurand]float64{}
	for _, days := range []int{71, 80, 100, 150, 250} {
		b := n.believe(t, day0.AddDate(0, 0, days))
		for _, m := range []quantity.Measurand{quantity.OfNO3, quantity.OfGH, quantity.OfEC, quantity.OfPH, quantity.OfWaterTemp} {
			v := band(t, b, m)
			if v.Hi-v.Lo < 0.85*last[m] { // the ends of 300 draws are good to 7 % of the width
				t.Errorf("%s: the band is %.3g wide on day %d, %.3g before", m.Label(), v.Hi-v.Lo, days, last[m])
			}
			last[m] = v.Hi - v.Lo
		}
	}
}

// TestDilutionsTellTheHeldWater: the box alone says little with land in it; changes of known litres
// with the pen before, after and in the mix say more, and the belief's held water is that. A weighed dose
// of salt brings back what the changes thin: 2 g of NaCl in 70 L are 0.489 mmol/L, 58 uS/cm at 119 S cm2/mol.
func TestDilutionsTellTheHeldWater(t *testing.T) {
	const truth = 70.0
	n := notes{}
	n.add(day0, enclosure.Basin{Length: 1000, Width: 500, Height: 600, FullMark: 240, LandShare: 0.35, BedFront: 30, BedBack: 60})
	n.add(day0, ecPen)
	n.add(day0, pure)
	heldBand := func(at time.Time) quantity.Band[float64] {
		v, ok := n.believe(t, at).BandOf(func(d Draw) float64 { return float64(d.Held) })
		if !ok {
			t.Fatal("held water not known")
		}
		return v
	}
	before := heldBand(day0.Add(time.Hour))
	ec := 500.0
	for wk := range 6 {
		at := day0.AddDate(0, 0, 7*(wk+1))
		n.read(t, at, ecPen, fmt.Sprintf("%.0f", ec))
		n.add(at.Add(time.Hour), book.Change{OutLitres: 15, In: []book.Poured{{Source: "RO", Litres: 15}}, MixEC: 100})
		ec = (ec*(truth-15) + 100*15) / truth
		n.read(t, at.Add(2*time.Hour), ecPen, fmt.Sprintf("%.0f", ec))
		n.add(at.Add(3*time.Hour), book.Dose{What: "NaCl", Grams: 2})
		ec += 58
	}
	after := heldBand(day0.AddDate(0, 0, 44))
	if after.Lo > truth || after.Hi < truth || after.Hi-after.Lo > 0.8*(before.Hi-before.Lo) {
		t.Errorf("held %.0f to %.0f before, %.0f to %.0f after six dilutions that mean %.0f", before.Lo, before.Hi, after.Lo, after.Hi, truth)
	}
}

func TestLevelTellsWhatIsMissing(t *testing.T) {
	n := notes{}
	n.add(day0, plain)
	full := n.believe(t, day0.Add(time.Minute)).median(func(d Draw) float64 { return float64(d.Held) })
	n.read(t, day0, khDrops, "5")
	n.add(day0.Add(time.Hour), book.Reading{Of: quantity.OfLevel, Shown: "180", Unit: "mm", Lo: 179.5, Hi: 180.5})
	b := n.believe(t, day0.Add(2*time.Hour))
	low := b.median(func(d Draw) float64 { return float64(d.Held) })
	if low > 0.95*full || low < 0.8*full {
		t.Errorf("20 of 200 mm down: %.1f of %.1f L", low, full)
	}
}

// TestStrengthMixes holds the square root law to the full chemistry of package water.
func TestStrengthMixes(t *testing.T) {
	for _, ec := range []float64{100, 300, 600, 1000} {
		for _, by := range []float64{0.1, 0.25, 0.5, 0.75, 1.5, 2} {
			got, want := conducted(by*strength(ec)), thickened(t, ec, by)
			if math.Abs(got/want-1) > 0.012 {
				t.Errorf("%g times a water of %g uS/cm: %.1f, full chemistry %.1f", by, ec, got, want)
			}
		}
		if back := conducted(strength(ec)); math.Abs(back-ec) > 1e-9*ec {
			t.Errorf("there and back: %g becomes %g", ec, back)
		}
	}
}

// TestNextToNothingToppedUp: litres that round to nothing once made the evaporation infinitely sure.
func TestNextToNothingToppedUp(t *testing.T) {
	n := notes{}
	n.add(day0, plain)
	n.read(t, day0, khDrops, "5")
	for d := range 3 {
		n.add(day0.AddDate(0, 0, d), book.TopUp{Source: "tap", Litres: 1e-160})
	}
	if v := band(t, n.believe(t, day0.AddDate(0, 0, 4)), quantity.OfKH); !(v.Median > 3 && v.Median < 6) {
		t.Errorf("KH %.1f", v.Median)
	}
}
