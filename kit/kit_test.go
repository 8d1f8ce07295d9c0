package kit_test

import (
	"errors"
	"math"
	"testing"
	"time"

	"pgregory.net/rapid"

	"halfwater/internal/published"
	"halfwater/kit"
	"halfwater/quantity"
)

var (
	nitrate = kit.Kit{Name: "nitrate card", Of: quantity.OfNO3, Form: kit.Card, Unit: "mg/L", Basis: quantity.AsNO3, Steps: []float64{0, 5, 10, 25, 50, 100}}
	khDrops = kit.Kit{Name: "KH drops", Of: quantity.OfKH, Form: kit.Drops, Unit: "dKH", PerDrop: 1}
	phCard  = kit.Kit{Name: "pH card", Of: quantity.OfPH, Form: kit.Card, Unit: "pH", Steps: []float64{6, 6.4, 6.8, 7.2, 7.6}}
	phPen   = kit.Kit{Name: "pH pen", Of: quantity.OfPH, Form: kit.Meter, Unit: "pH", Accuracy: 0.02, Digit: 0.01}
	ecPen   = kit.Kit{Name: "EC pen", Of: quantity.OfEC, Form: kit.Meter, Unit: "uS/cm", AccuracyShare: 0.02, Digit: 1}
	strip   = kit.Kit{Name: "GH strip", Of: quantity.OfGH, Form: kit.Strip, Unit: "dGH", Steps: []float64{0, 4, 8, 16, 24}}
	at      = time.Date(2031, 5, 4, 10, 0, 0, 0, time.UTC)
)

// The intervals are written out by hand from their definition: (n-1, n] drops, geometric means of
// neighbouring steps, half of the first step.
func TestWhatAShownValueMeans(t *testing.T) {
	half := khDrops
	half.PerDrop = 0.5
	asN := nitrate
	asN.Basis = quantity.AsN
	inf := math.Inf(1)
	const ion = 14.007 / (14.007 + 3*15.999) // mg N per mg NO3, IUPAC 2021
	for _, c := range []struct {
		k      kit.Kit
		shown  string
		lo, hi float64 // canonical; hi = inf when open above
	}{
		{khDrops, "4", 3, 4},
		{khDrops, "1", 0, 1},
		{khDrops, "between 3 and 4", 2, 4},
		{khDrops, "> 20", 20, inf},
		{khDrops, "4 drops", 3, 4},
		{half, "7", 3, 3.5},
		{nitrate, "10", math.Sqrt(50) * ion, math.Sqrt(250) * ion}, // 7.1 to 15.8 as NO3
		{asN, "10", math.Sqrt(50), math.Sqrt(250)},
		{nitrate, "between 10 and 25", 10 * ion, 25 * ion},
		{nitrate, "25-10", 10 * ion, 25 * ion},
		{nitrate, "10 to 25", 10 * ion, 25 * ion},
		{nitrate, "0", 0, 2.5 * ion},
		{nitrate, "5", 2.5 * ion, math.Sqrt(50) * ion},
		{nitrate, "< 5", 0, 5 * ion},
		{nitrate, "100", math.Sqrt(5000) * ion, inf},
		{nitrate, ">100", 100 * ion, inf},
		{nitrate, "10 mg/L", math.Sqrt(50) * ion, math.Sqrt(250) * ion},
		{phCard, "6,8", 6.6, 7.0},
		{phCard, "6.4-6.8", 6.4, 6.8},
		{phCard, "6", 2, 6.2},
		{strip, "8", 2, math.Sqrt(16 * 24)},
		{ecPen, "412", 412 - 8.24 - 0.5, 412 + 8.24 + 0.5},
	} {
		iv, err := c.k.Read(c.shown, time.Time{})
		if err != nil {
			t.Errorf("%s %q: %v", c.k.Name, c.shown, err)
			continue
		}
		hi := iv.Hi
		if iv.OpenAbove {
			hi = inf
		}
		if math.Abs(iv.Lo-c.lo) > 1e-9 || (hi != c.hi && math.Abs(hi-c.hi) > 1e-9) {
			t.Errorf("%s %q: (%g, %g], want (%g, %g]", c.k.Name, c.shown, iv.Lo, hi, c.lo, c.hi)
		}
		if iv.Likely.Lo < iv.Lo || iv.Likely.Hi > iv.Hi || !iv.Likely.Has(iv.Middle) {
			t.Errorf("%s %q: likely %v and middle %g lie outside %v", c.k.Name, c.shown, iv.Likely, iv.Middle, iv.Range)
		}
	}
}

func TestRefusalsSayWhatToDo(t *testing.T) {
	noBasis := nitrate
	noBasis.Basis = ""
	var off kit.NotOnCard
	if _, err := nitrate.Read("12", at); !errors.As(err, &off) || off.Below != 10 || off.Above != 25 {
		t.Errorf("12 on the card: %v", err)
	}
	var want kit.BasisWanted
	if _, err := noBasis.Read("10", at); !errors.As(err, &want) || want.Kit != "nitrate card" || math.Abs(want.Ratio-4.427) > 0.001 {
		t.Errorf("no basis: %v", err)
	}
	if _, err := kit.Bare(quantity.OfNO3, "10", "mg/L", ""); !errors.As(err, &want) || want.Kit != "" {
		t.Errorf("bare without basis: %v", err)
	}
	var count kit.DropCount
	for _, shown := range []string{"0", "3.5", "-1"} {
		if _, err := khDrops.Read(shown, at); !errors.As(err, &count) {
			t.Errorf("%s drops: %v", shown, err)
		}
	}
	var unread kit.Unreadable
	for _, shown := range []string{"", "green", "1.2.3", "10-", "between 5", "NaN", "1_0", "10 <script>"} {
		if _, err := nitrate.Read(shown, at); !errors.As(err, &unread) {
			t.Errorf("%q: %v", shown, err)
		}
	}
	var unit kit.OtherUnit
	for _, shown := range []string{"10 ug/L", "1e3", "0x10"} {
		if _, err := nitrate.Read(shown, at); !errors.As(err, &unit) {
			t.Errorf("%q: %v", shown, err)
		}
	}
	var span quantity.OutOfSpan
	if _, err := phPen.Read("14.5", at); !errors.As(err, &span) {
		t.Errorf("pH 14.5: %v", err)
	}
	if _, err := khDrops.Read("500", at); !errors.As(err, &span) {
		t.Errorf("500 drops: %v", err)
	}
}

func TestAgeWidens(t *testing.T) {
	fresh, stale, never := phPen, phPen, phPen
	fresh.Calibrated = at.AddDate(0, 0, -10)
	stale.Calibrated = at.AddDate(0, 0, -40)
	read := func(k kit.Kit, shown string) kit.Interval {
		t.Helper()
		iv, err := k.Read(shown, at)
		if err != nil {
			t.Fatal(err)
		}
		return iv
	}
	// 0.1 and half a digit; 0.25 and ten days of 0.01 more; the cap of 0.5.
	for _, c := range []struct {
		k    kit.Kit
		half float64
		note kit.Note
	}{{fresh, 0.105, ""}, {stale, 0.355, kit.CalibrationOld}, {never, 0.505, kit.NeverCalibrated}} {
		iv := read(c.k, "7.80")
		if math.Abs(iv.Width()/2-c.half) > 1e-9 || (c.note != "") != iv.Noted(c.note) {
			t.Errorf("pen calibrated %v: half-width %g, notes %v", c.k.Calibrated, iv.Width()/2, iv.Notes)
		}
	}
	old := nitrate
	old.UseBy = at.AddDate(0, -2, 0)
	was, is := read(nitrate, "10"), read(old, "10")
	if !is.Noted(kit.OutOfDate) || was.Noted(kit.OutOfDate) || math.Abs(is.Hi/was.Hi-1.25) > 1e-9 || math.Abs(was.Lo/is.Lo-1.25) > 1e-9 {
		t.Errorf("out of date: %+v, in date %+v", is, was)
	}
	old.UseBy = at.Truncate(24 * time.Hour)
	if read(old, "10").Noted(kit.OutOfDate) {
		t.Error("a lot is good on the day of its use-by date")
	}
	old.UseBy, old.Opened = time.Time{}, at.AddDate(0, 0, -400)
	if !read(old, "10").Noted(kit.OutOfDate) || old.Error(at).SD <= nitrate.Error(at).SD {
		t.Error("open for 400 days and still in date, or no less sure")
	}
}

// TestAgeGoesOnWidening: a lot past its date counts for less each year, up to a most, and in date for all; so
// does a conductivity pen since its calibration. The sizes are judgement: what is held is that they grow.
func TestAgeGoesOnWidening(t *testing.T) {
	for _, k := range []kit.Kit{nitrate, khDrops, phCard, strip} {
		k.UseBy = at.AddDate(0, 0, -1)
		width := func(years float64) (float64, float64) {
			when := at.Add(time.Duration(years * 365.25 * 24 * float64(time.Hour)))
			shown := "10"
			if k.Of == quantity.OfPH {
				shown = "6.8"
			} else if k.Form == kit.Strip {
				shown = "8"
			}
			iv, err := k.Read(shown, when)
			if err != nil {
				t.Fatal(err)
			}
			return k.Error(when).SD, iv.Width()
		}
		early, in := width(-2)
		just, out := width(0.1)
		second, more := width(1.9)
		last, most := width(3)
		ever, same := width(30)
		if in, _ := width(-0.1); in != early || !(early < just && just < second && second < last) || last != ever {
			t.Errorf("%s: sd %g in date, %g past it, %g in the second year, %g in the third, %g ever after", k.Name, early, just, second, last, ever)
		}
		if k.Form == kit.Drops { // a count is a count; its doubt is in the error alone
			continue
		}
		if !(in < out && out < more && more < most) || most != same {
			t.Errorf("%s: interval %g in date, %g past it, %g, %g, %g", k.Name, in, out, more, most, same)
		}
	}
	opened := nitrate
	opened.Opened, opened.UseBy = at.AddDate(0, 0, -365), at.AddDate(2, 0, 0)
	if got := opened.GoodUntil(); !got.Equal(at) {
		t.Errorf("opened a year ago, good until %v", got)
	}
	pen := ecPen
	sd := func(days int) float64 {
		pen.Calibrated = at.AddDate(0, 0, -days)
		return pen.Error(at).SD
	}
	fresh, half, long := sd(20), sd(180), sd(900)
	pen.Calibrated = time.Time{}
	if never := pen.Error(at).SD; fresh != sd(1) || !(fresh < half && half < long) || long != never {
		t.Errorf("conductivity pen: sd ln %g fresh, %g after half a year, %g after years, %g never calibrated", fresh, half, long, never)
	}
	pen.Calibrated = time.Time{}
	was, _ := pen.Read("412", at)
	pen.Calibrated = at
	is, _ := pen.Read("412", at)
	if was.Width() <= is.Width() {
		t.Errorf("never calibrated reads %v, just calibrated %v", was.Range, is.Range)
	}
}

// What an errorless kit shows for a truth reads back to an interval that holds the truth.
func TestReadingHoldsTheTruth(t *testing.T) {
	no2 := kit.Kit{Name: "nitrite", Of: quantity.OfNO2, Form: kit.Card, Unit: "mg/L", Basis: quantity.AsNO2, Steps: []float64{0, 0.25, 0.5, 1, 2, 5}}
	gh := kit.Kit{Name: "gh", Of: quantity.OfGH, Form: kit.Drops, Unit: "ppm CaCO3", PerDrop: 20}
	air := kit.Kit{Name: "air", Of: quantity.OfAirTemp, Form: kit.Meter, Unit: "degF", Digit: 0.1}
	for _, k := range []kit.Kit{nitrate, khDrops, phCard, phPen, ecPen, strip, no2, gh, air} {
		t.Run(k.Name, rapid.MakeCheck(func(t *rapid.T) {
			span := k.Of.Span()
			truth := rapid.Float64Range(max(span.Lo, -10), min(span.Hi/2, 2000)).Draw(t, "truth")
			iv, err := k.Read(k.Shows(truth), at)
			if err != nil {
				t.Fatalf("shows %q: %v", k.Shows(truth), err)
			}
			slack := 1e-9 * max(1, math.Abs(truth))
			if truth < iv.Lo-slack || truth > iv.Hi+slack {
				t.Fatalf("truth %g shows %q, read as %v", truth, k.Shows(truth), iv.Range)
			}
			if !span.Has(iv.Lo) || !span.Has(iv.Hi) {
				t.Fatalf("%v leaves the span", iv.Range)
			}
		}))
	}
}

// The classes of a card meet without a gap and without overlap.
func TestClassesTileTheCard(t *testing.T) {
	for _, k := range []kit.Kit{nitrate, phCard} {
		for i := 1; i < len(k.Steps); i++ {
			a, err := k.Read(kit.Shown{A: k.Steps[i-1], Digit: 0.1}.String(), at)
			if err != nil {
				t.Fatal(err)
			}
			b, err := k.Read(kit.Shown{A: k.Steps[i], Digit: 0.1}.String(), at)
			if err != nil {
				t.Fatal(err)
			}
			if math.Abs(a.Hi-b.Lo) > 1e-12 {
				t.Errorf("%s: %g ends at %g, %g begins at %g", k.Name, k.Steps[i-1], a.Hi, k.Steps[i], b.Lo)
			}
		}
	}
}

// S13-009: reading 20 on a card 10, 20, 40 with sd ln 0.35 and a flat prior of the logarithm.
func TestChanceUnderTheIntervalModel(t *testing.T) {
	k := nitrate
	k.Basis, k.Steps = quantity.AsN, []float64{0, 5, 10, 20, 40, 80, 160}
	iv, err := k.Read("20", at)
	if err != nil {
		t.Fatal(err)
	}
	m := kit.Model{Log: true, SD: 0.35}
	var under, all float64
	for l := math.Log(0.1); l < math.Log(5000); l += 0.001 {
		p := m.Chance(iv, math.Exp(l))
		all += p
		if l <= math.Log(40) {
			under += p
		}
	}
	published.Check(t, "S13-009", under/all)
}

// S13-007: a pen with factor 0.5 shows 300 at EC 600.
func TestTDSPen(t *testing.T) {
	pen := kit.Kit{Name: "TDS pen", Of: quantity.OfTDS, Form: kit.Meter, Unit: "ppm", AccuracyShare: 0.02, Digit: 1, TDSFactor: 0.5}
	iv, err := pen.Read("300", at)
	if err != nil {
		t.Fatal(err)
	}
	ec, err := kit.FromTDS(iv, pen.TDSFactor)
	if err != nil {
		t.Fatal(err)
	}
	published.Check(t, "S13-007", ec.Middle*0.5)
	if ec.Of != quantity.OfEC || math.Abs(ec.Middle-600) > 1e-9 || math.Abs(ec.Lo-2*iv.Lo) > 1e-9 {
		t.Errorf("EC %+v", ec)
	}
	any, err := kit.FromTDS(iv, 0)
	if err != nil {
		t.Fatal(err)
	}
	if !any.Noted(kit.FactorNotPrinted) || math.Abs(any.Lo-iv.Lo/0.7) > 1e-9 || math.Abs(any.Hi-iv.Hi/0.5) > 1e-9 {
		t.Errorf("EC by an unknown factor %+v", any)
	}
	if _, err := kit.FromTDS(ec, 0.5); err == nil {
		t.Error("EC taken for a TDS reading")
	}
}

func TestBareNumberHasTheWidthOfItsLastDigit(t *testing.T) {
	for shown, want := range map[string][2]float64{"7.2": {7.15, 7.25}, "7": {6.5, 7.5}, "between 6.8 and 7": {6.8, 7}} {
		iv, err := kit.Bare(quantity.OfPH, shown, "pH", "")
		if err != nil || math.Abs(iv.Lo-want[0]) > 1e-9 || math.Abs(iv.Hi-want[1]) > 1e-9 || !iv.Noted(kit.WithoutKit) {
			t.Errorf("%q: %+v %v", shown, iv, err)
		}
	}
	if m := kit.ErrorWithout(quantity.OfNO3); !m.Log || m.SD != 0.35 {
		t.Errorf("doubt of a bare nitrate: %+v", m)
	}
}

func TestCheckNamesEveryFault(t *testing.T) {
	for _, k := range []kit.Kit{nitrate, khDrops, phCard, phPen, ecPen, strip} {
		if err := k.Check(); err != nil {
			t.Errorf("%s: %v", k.Name, err)
		}
	}
	with := func(k kit.Kit, change func(*kit.Kit)) kit.Kit {
		k.Steps = append([]float64(nil), k.Steps...)
		change(&k)
		return k
	}
	for code, k := range map[string]kit.Kit{
		"kit.no-name":           with(khDrops, func(k *kit.Kit) { k.Name = " " }),
		"kit.unknown-measurand": with(khDrops, func(k *kit.Kit) { k.Of = "ammonia" }),
		"kit.unknown-unit":      with(khDrops, func(k *kit.Kit) { k.Unit = "grains" }),
		"kit.per-drop":          with(khDrops, func(k *kit.Kit) { k.PerDrop = 0 }),
		"kit.unknown-form":      with(khDrops, func(k *kit.Kit) { k.Form = "guess" }),
		"kit.basis-not-needed":  with(khDrops, func(k *kit.Kit) { k.Basis = quantity.AsN }),
		"kit.steps-few":         with(nitrate, func(k *kit.Kit) { k.Steps = k.Steps[:1] }),
		"kit.steps-not-rising":  with(nitrate, func(k *kit.Kit) { k.Steps[2] = 5 }),
		"kit.step-value":        with(nitrate, func(k *kit.Kit) { k.Steps[5] = 5000 }),
		"kit.negative":          with(ecPen, func(k *kit.Kit) { k.Accuracy = -1 }),
		"kit.share":             with(ecPen, func(k *kit.Kit) { k.AccuracyShare = 2 }),
		"kit.tds-factor":        with(ecPen, func(k *kit.Kit) { k.TDSFactor = 0.5 }),
	} {
		err := k.Check()
		var f kit.Fault
		if !errors.As(err, &f) || f.Code != code || f.Do == "" {
			t.Errorf("want %s, got %v", code, err)
		}
		if _, err := k.Read("5", at); err == nil {
			t.Errorf("%s: read with a faulty kit", code)
		}
	}
	two := kit.Kit{Of: quantity.OfKH, Form: kit.Drops, Unit: "grains", PerDrop: 1}.Check()
	if joined, ok := two.(interface{ Unwrap() []error }); !ok || len(joined.Unwrap()) != 2 {
		t.Errorf("two faults, said as %v", two)
	}
}

// A pen without compensation in water of 20 C reads 10 % under the value at 25 C: 2 % a degree,
// common practice, no source.
func TestPenWithoutCompensation(t *testing.T) {
	if got := kit.At25(450, 20); math.Abs(float64(got)-500) > 1e-9 {
		t.Errorf("450 at 20 C: %v at 25 C", got)
	}
}

func FuzzParseShown(f *testing.F) {
	for _, s := range []string{"4", "between 10 and 25", "10-25", "10 – 25", "6,4 to 6,8", "< 5", ">160 mg/L", "-0.5 C", "7.", ".5", "10 to", "1..2", "between -1 and -2 C", "İ 1"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		s, err := kit.ParseShown(text)
		if err != nil {
			var unread kit.Unreadable
			if !errors.As(err, &unread) || unread.Shown != text {
				t.Fatalf("%q: %v", text, err)
			}
			return
		}
		if s.Said == kit.Between && s.A > s.B {
			t.Fatalf("%q: %v", text, s)
		}
		again, err := kit.ParseShown(s.String())
		if err != nil || again.Said != s.Said || again.A != s.A || again.B != s.B || again.Unit != s.Unit {
			t.Fatalf("%q reads as %+v, its print %q as %+v (%v)", text, s, s.String(), again, err)
		}
		for _, k := range []kit.Kit{nitrate, khDrops, phCard, ecPen, strip} {
			iv, err := k.Read(text, at)
			if err == nil && (!(iv.Lo <= iv.Hi) || !iv.Likely.Has(iv.Middle)) {
				t.Fatalf("%s %q: %+v", k.Name, text, iv)
			}
		}
	})
}
