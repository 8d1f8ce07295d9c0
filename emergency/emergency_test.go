package emergency_test

import (
	"fmt"
	"math"
	"slices"
	"testing"
	"time"

	"halfwater/change"
	"halfwater/emergency"
	"halfwater/enclosure"
	"halfwater/husbandry"
	"halfwater/internal/published"
	"halfwater/quantity"
	"halfwater/water"
)

func held(l quantity.HeldLitres) husbandry.Maybe[quantity.Band[quantity.HeldLitres]] {
	return husbandry.Known(quantity.Band[quantity.HeldLitres]{Low: l, Lo: l, Median: l, Hi: l, High: l})
}

var night = time.Date(2026, time.November, 22, 2, 10, 0, 0, time.UTC)

// cut is a keeper's question: 78 L at 25 C with 8.2 mg/L of oxygen, 120 g of fish of 2 to 10 g, mulm
// and 30 g (dry) of plants, a film on the surface, an outside filter of 6 L. How long?
func cut() emergency.Now {
	return emergency.Now{
		At: night.Add(40 * time.Minute), OffSince: night, Held: held(78),
		Read: emergency.Read{Temp: husbandry.Known[quantity.Celsius](25), Oxygen: husbandry.Known[quantity.MgPerL](8.2)},
		Room: husbandry.Known[quantity.Celsius](20),
		Facts: enclosure.Facts{
			Basin: &enclosure.Basin{Length: 800, Width: 400, Height: 400, FullMark: 300, FilterLitres: 6},
			Stock: []enclosure.Batch{
				{Name: "small", Species: "Tanichthys albonubes", Count: 30, Mass: 2},
				{Name: "large", Species: "Tanichthys albonubes", Count: 6, Mass: 10},
				{Name: "plants", Species: "Taxiphyllum barbieri", Count: 1, Mass: 375},
			},
		},
	}
}

// By hand, from the same relation (Clarke and Johnston 1999, from memory): the fish take 49 to 68 mg/h
// at routine activity, microbes 4, plants in the dark up to 15; the 405 mg over 3 mg/L last about 5 to
// 8 h without exchange. The band shown has to lie within 3 to 9 h, and the sheet acts on its low end.
func TestHoursOfOxygen(t *testing.T) {
	p := emergency.Write(cut()).Power
	o := p.Oxygen
	if !(o.Lasts.Lo >= 3 && o.Lasts.Hi <= 9) {
		t.Errorf("shown as %.1f to %.1f h", o.Lasts.Lo, o.Lasts.Hi)
	}
	if m := float64(o.Animals.Median); m < 49 || m > 68 {
		t.Errorf("fish take %.0f mg/h", m)
	}
	if !(o.CountOn <= o.Lasts.Low && o.Lasts.Low <= o.Lasts.Lo && o.CountOn > o.Lasts.Low-0.5) {
		t.Errorf("counts on %v of %+v", o.CountOn, o.Lasts)
	}
	if p.FirstCode != emergency.BitesOxygen || p.First != o.CountOn {
		t.Errorf("first bites %v %s", p.First, p.FirstCode)
	}
	if want := night.Add(time.Duration(float64(o.CountOn) * float64(time.Hour))); !o.By.Equal(want) {
		t.Errorf("by %v, not %v", o.By, want)
	}
	// 6 L hold about 48 mg, by hand 6 x 8.2.
	if math.Abs(o.FilterMgOxygen-48) > 2 {
		t.Errorf("the filter holds %.0f mg", o.FilterMgOxygen)
	}
	if p.Filter.Code != emergency.FilterKeep {
		t.Errorf("after 40 minutes the rule is %s", p.Filter.Code)
	}
	n := cut()
	n.At = night.Add(2*time.Hour + time.Minute)
	if c := emergency.Write(n).Power.Filter.Code; c != emergency.FilterEmpty {
		t.Errorf("after two hours the rule is %s", c)
	}
	n.OffSince = time.Time{}
	if c := emergency.Write(n).Power.Filter.Code; c != emergency.FilterWatch {
		t.Errorf("when nobody says since when, the rule is %s", c)
	}
}

// What is read after the cut counts from its hour: the sheet neither adds the hours gone by nor takes
// them off twice.
func TestHoursCountFromTheReading(t *testing.T) {
	n := cut()
	n.OxygenAt, n.TempAt = n.At, n.At
	p := emergency.Write(n).Power
	if want := n.At.Add(time.Duration(float64(p.Oxygen.CountOn) * float64(time.Hour))); !p.Oxygen.By.Equal(want) || !p.FirstAt.Equal(want) {
		t.Errorf("by %v and %v, not %v", p.Oxygen.By, p.FirstAt, want)
	}
	n.OxygenAt = night.Add(-time.Hour) // before the cut: as if at the cut
	if p := emergency.Write(n).Power; p.Oxygen.By.Sub(night).Hours() != float64(p.Oxygen.CountOn) {
		t.Errorf("by %v", p.Oxygen.By)
	}
}

// Warm land over a cooling room: the air is cold long before the water is.
func TestAirOverTheLand(t *testing.T) {
	n := cut()
	n.Facts.Stock = []enclosure.Batch{{Name: "dragons", Species: "Physignathus cocincinus", Count: 2, Mass: 400}}
	if air := emergency.Write(n).Power.Air; len(air) != 1 || air[0].Line != 21 || air[0].Room.Low >= 20 {
		t.Errorf("%+v", air)
	}
	n.Facts.Stock = n.Facts.Stock[:0]
	if air := emergency.Write(n).Power.Air; len(air) != 0 {
		t.Errorf("nobody is cold: %+v", air)
	}
}

// The low end is never longer than the closed form with the summed demand at its 95 % quantile and the
// exchange of a film, written out here a second time.
func TestLowEndIsShort(t *testing.T) {
	for _, litres := range []quantity.HeldLitres{10, 40, 78, 300} {
		for _, celsius := range []quantity.Celsius{12, 20, 25, 30} {
			n := cut()
			n.Held, n.Read.Temp = held(litres), husbandry.Known(celsius)
			n.Read.Oxygen = husbandry.Known(0.9 * water.OxygenSaturation(celsius, 1))
			o := emergency.Write(n).Power.Oxygen
			const square = 0.32 // m2
			kLA := 0.5 * math.Pow(1.024, float64(max(celsius, 20)-20)) * 10 * square
			if celsius < 20 { // the room of 20 C will warm it: its demand and exchange are those of 20 C
				celsius = 20
			}
			r, start := float64(o.Demand.High), float64(o.Start.Median)
			rest := float64(water.OxygenSaturation(celsius, 1)) - r/kLA
			closed := math.Inf(1)
			if rest < 3 {
				closed = float64(litres) / kLA * math.Log((start-rest)/(3-rest))
			}
			if float64(o.Lasts.Low) > closed*(1+1e-9) {
				t.Errorf("%v L, %v C: low end %.2f h, the closed form %.2f", litres, celsius, o.Lasts.Low, closed)
			}
			if o.Lasts.Low > o.Lasts.Lo || o.Lasts.Lo > o.Lasts.Median {
				t.Errorf("out of order: %+v", o.Lasts)
			}
		}
	}
}

// A keeper's question: a heater of 150 W stuck on, 78 L, loss 10 W/K, water 25 C, room 19 C. By hand
// it ends at 19 + 150/10 = 34 C and starts at (150 - 60) W x 3600 / (4186 x 78) = 0.99 K an hour.
func TestHeaterStuckOn(t *testing.T) {
	n := cut()
	n.Room, n.Loss = husbandry.Known[quantity.Celsius](19), husbandry.Known[quantity.WattsPerKelvin](10)
	n.Facts.Fittings = []enclosure.Fitting{{Name: "heater", What: enclosure.Heater, Power: 150}}
	h := emergency.Write(n).Heater
	if math.Abs(float64(h.Stuck.End.Median)-34) > 0.01 || math.Abs(float64(h.Stuck.Rate.Median)-0.992) > 0.005 {
		t.Errorf("ends at %.2f C, %.3f K/h", h.Stuck.End.Median, h.Stuck.Rate.Median)
	}
	if len(h.Stuck.Lines) == 0 || h.Stuck.Lines[0].Code != emergency.TooWarm {
		t.Errorf("it matters to nobody: %+v", h.Stuck.Lines)
	}
	// Failed: the time constant is 4186 x 78 / 10 s = 9.07 h, so 8 h on it stands at 19 + 6 exp(-8/9.07) = 21.5.
	if math.Abs(float64(h.Failed.Temps[3].Water.Median)-21.48) > 0.02 {
		t.Errorf("eight hours on it stands at %.2f C", h.Failed.Temps[3].Water.Median)
	}
}

// The closed forms of the list are computed by ourselves: they pin the equation.
func TestColdInARoom(t *testing.T) {
	n := cut()
	n.Loss, n.Room = husbandry.Known[quantity.WattsPerKelvin](10), husbandry.Known[quantity.Celsius](19)
	n.Facts.Fittings = []enclosure.Fitting{{Name: "heater", What: enclosure.Heater, Power: 100}}
	p := emergency.Write(n).Power
	// with the power off the room cools too, so the water ends colder than with a heater failed
	if f := emergency.Write(n).Heater.Failed; p.Warmth.End.Median >= f.End.Median {
		t.Errorf("no power ends at %.1f, a failed heater at %.1f", p.Warmth.End.Median, f.End.Median)
	}
}

// trap is the exhausted box of the list: pH 6.48, KH 0.42, total ammonia 2.8 mg N/L; and the reference
// hard tap at pH 7.6.
func trap() emergency.Now {
	tap := water.Analysis{
		GH: water.Stated[quantity.Hardness](14.02), KH: water.Stated[quantity.Alkalinity](9.253), PH: water.Stated[quantity.PH](7.6),
		Temperature: water.Stated[quantity.Celsius](25), NO3: water.Stated(quantity.Nitrate(0.35 * 14.007)),
		Na: water.Stated[quantity.MgPerL](22.99), K: water.Stated[quantity.MgPerL](1.95),
		Cl: water.Stated[quantity.MgPerL](42.5), SO4: water.Stated[quantity.MgPerL](57.6),
	}
	rain := water.Analysis{
		GH: water.Stated[quantity.Hardness](0.2), KH: water.Stated[quantity.Alkalinity](0.2), EC: water.Stated[quantity.Conductivity](12),
		Temperature: water.Stated[quantity.Celsius](25),
	}
	n := cut()
	n.Facts.Sources = []enclosure.SourceWater{{Name: "tap", Analysis: tap}, {Name: "rain", Analysis: rain}}
	n.Read = emergency.Read{
		Temp: husbandry.Known[quantity.Celsius](25), PH: husbandry.Known[quantity.PH](6.48), KH: husbandry.Known[quantity.Alkalinity](0.4206),
		TAN: husbandry.Known[quantity.TotalAmmonia](2.8014), GH: husbandry.Known[quantity.Hardness](7.29),
	}
	return n
}

// Rows S10-001 to S10-006, computed apart from this program by the same model: what a change of 40 %
// of hard tap does to a box with low pH and much ammonia. The sheet refuses it.
func TestTheLargeHardChangeIsRefused(t *testing.T) {
	a := emergency.Write(trap()).Ammonia
	if a.Now == nil || a.Code != emergency.AmmoniaTrap {
		t.Fatalf("%s, %+v", a.Code, a.Now)
	}
	published.Check(t, "S10-002", float64(a.Now.Free))
	var large *emergency.Offer
	for i, o := range a.Offers {
		if o.Source == "tap" && o.Share == 0.4 {
			large = &a.Offers[i]
		}
	}
	if large == nil {
		t.Fatal("40 % of tap is not on offer")
	}
	published.Check(t, "S10-003", float64(large.AtMixing.PH))
	published.Check(t, "S10-004", float64(large.AtMixing.Free))
	published.Check(t, "S10-005", float64(large.Later.PH))
	published.Check(t, "S10-006", float64(large.Later.Free))
	if large.Code != emergency.OfferRefused || large.Times < 15 {
		t.Errorf("40 %% of tap is %s, %.0f times", large.Code, large.Times)
	}
	if a.Left == nil || a.Left.Free <= 0 {
		t.Error("nothing is said of the water left alone")
	}
}

// The stepped path: no step of it harms or is refused by the stock's limits, and it ends where harder
// water may come.
func TestSteppedPath(t *testing.T) {
	a := emergency.Write(trap()).Ammonia
	if len(a.Path) == 0 || a.PathCode != emergency.PathStepped {
		t.Fatalf("no path: %s", a.PathCode)
	}
	for _, s := range a.Path {
		if s.After.Free >= 0.03 || float64(s.After.Free) > change.Tolerated*float64(a.Left.Free) {
			t.Errorf("day %d: free ammonia %.4f; left alone it comes to %.4f", s.Day, s.After.Free, a.Left.Free)
		}
		if s.Share > 0.1 || s.Litres <= 0 {
			t.Errorf("day %d: %+v", s.Day, s)
		}
	}
	if last := a.Path[len(a.Path)-1]; float64(last.After.TAN) > 0.5 {
		t.Errorf("it ends at %.2f mg N/L", last.After.TAN)
	}
}

// In hard water with much ammonia the change is the remedy, and it is not refused.
func TestAChangeThatHelps(t *testing.T) {
	n := trap()
	n.Read.PH, n.Read.KH, n.Read.GH = husbandry.Known[quantity.PH](8.0), husbandry.Known[quantity.Alkalinity](9), husbandry.Known[quantity.Hardness](14)
	n.Read.TAN = husbandry.Known[quantity.TotalAmmonia](1.5)
	a := emergency.Write(n).Ammonia
	if a.Code != emergency.AmmoniaHigh {
		t.Fatalf("%s", a.Code)
	}
	for _, o := range a.Offers {
		if o.Source == "tap" && (o.Code == emergency.OfferRefused || o.AtMixing.Free >= a.Now.Free) {
			t.Errorf("%v of tap: %s, %.3f from %.3f", o.Share, o.Code, o.AtMixing.Free, a.Now.Free)
		}
	}
}

// What is not known gets bounds, and is named.
func TestPartlyKnownAmmonia(t *testing.T) {
	n := trap()
	n.Read.KH = husbandry.Maybe[quantity.Alkalinity]{}
	a := emergency.Write(n).Ammonia
	full := emergency.Write(trap()).Ammonia
	if a.Bound == nil || a.Bound.Free == nil || a.Code != emergency.AmmoniaTrap {
		t.Fatalf("%s %+v", a.Code, a.Bound)
	}
	for _, o := range full.Offers {
		if o.Share == 0.4 && *a.Bound.Free < max(o.Later.Free, o.AtMixing.Free) {
			t.Errorf("the bound %.3f lies under what %v of %s does: %.3f", *a.Bound.Free, o.Share, o.Source, o.Later.Free)
		}
	}
	n.Read = emergency.Read{}
	a = emergency.Write(n).Ammonia
	if a.Code != emergency.AmmoniaUnknown || len(a.Missing) < 3 {
		t.Errorf("with nothing read: %s, %v", a.Code, a.Missing)
	}
}

// Without any water on the list the trap is named all the same: the keeper may reach for the tap.
func TestTrapWithoutSources(t *testing.T) {
	n := trap()
	n.Facts.Sources = nil
	a := emergency.Write(n).Ammonia
	if a.Code != emergency.AmmoniaTrap || a.PathCode != emergency.PathNone {
		t.Errorf("%s, %s", a.Code, a.PathCode)
	}
	n.Read.PH, n.Read.KH = husbandry.Known[quantity.PH](4.1), husbandry.Known[quantity.Alkalinity](20)
	n.Read.TAN = husbandry.Known[quantity.TotalAmmonia](3)
	if a := emergency.Write(n).Ammonia; a.Now == nil && !slices.Contains(a.Missing, emergency.Missing{Code: emergency.OddWater}) {
		t.Errorf("a pH of 4.1 with a KH of 20: %v", a.Missing)
	}
}

// 16 mol of chloride for one of nitrite (Tomasso, Simco and Davis 1979): 40.5 mg/L for 1 mg N/L. No
// salt with the moss in.
func TestChlorideAgainstNitrite(t *testing.T) {
	n := cut()
	n.Read.NO2, n.Read.Chloride = husbandry.Known[quantity.Nitrite](1), husbandry.Known[quantity.MgPerL](20)
	s := emergency.Write(n).Nitrite
	if s.Code != emergency.NitriteNoSalt || len(s.Who) != 1 || s.Who[0] != "plants" {
		t.Errorf("%s %v", s.Code, s.Who)
	}
	published.Check(t, "S04-047", float64(s.Keeps))
	if math.Abs(s.Ratio-7.9) > 0.05 || math.Abs(s.Wanted-16) > 1e-9 {
		t.Errorf("ratio %.2f of %.2f", s.Ratio, s.Wanted)
	}
	n.Facts.Stock = n.Facts.Stock[:2]
	if s := emergency.Write(n).Nitrite; s.Code != emergency.NitriteRatio {
		t.Errorf("fish alone: %s", s.Code)
	}
	n.Facts.Stock = nil
	if s := emergency.Write(n).Nitrite; s.Code != emergency.NitriteNoSalt {
		t.Errorf("nobody known: %s", s.Code)
	}
}

// With nothing known at all there is still an hour to count on, a curve, and a list of what is missing.
func TestNothingKnown(t *testing.T) {
	s := emergency.Write(emergency.Now{At: night})
	o := s.Power.Oxygen
	if !(o.CountOn > 0 && o.CountOn <= o.Lasts.Low && o.Lasts.High > 3*o.Lasts.Low) {
		t.Errorf("%v of %+v", o.CountOn, o.Lasts)
	}
	if len(s.Missing) < 4 || len(s.Power.Warmth.Temps) == 0 || len(s.Power.Due) < 5 || len(s.Signs) != 6 {
		t.Errorf("missing %v", s.Missing)
	}
	wide := o.Lasts.Hi - o.Lasts.Lo
	known := emergency.Write(cut()).Power.Oxygen.Lasts
	if wide <= known.Hi-known.Lo {
		t.Errorf("knowing nothing is no wider: %v to %v", wide, known.Hi-known.Lo)
	}
}

// Lizards and land frogs take nothing from the water: then warmth decides.
func TestNobodyBreathesWater(t *testing.T) {
	n := cut()
	n.Facts.Stock = []enclosure.Batch{{Name: "dragons", Species: "Physignathus cocincinus", Count: 2, Mass: 400}}
	p := emergency.Write(n).Power
	if p.Oxygen.Code != emergency.OxygenNobody || p.FirstCode == emergency.BitesOxygen {
		t.Errorf("%s, %s", p.Oxygen.Code, p.FirstCode)
	}
	if len(p.Warmth.Lines) == 0 {
		t.Error("the cold matters to nobody")
	}
}

func TestTableOfHours(t *testing.T) {
	tab := emergency.HoursTable(cut())
	if len(tab.Rows) != 8 || len(tab.Rows[0].Starts) != 6 {
		t.Fatalf("%d rows", len(tab.Rows))
	}
	// warmer water lasts no longer; a cut in the small hours lasts no longer than one by day
	for i, r := range tab.Rows {
		for j, s := range r.Starts {
			if i > 0 && s.Lasts.Median > tab.Rows[i-1].Starts[j].Lasts.Median {
				t.Errorf("%v C at %d h: %.1f, cooler %.1f", r.Temp, s.Hour, s.Lasts.Median, tab.Rows[i-1].Starts[j].Lasts.Median)
			}
		}
		if r.Starts[0].CountOn > r.Starts[2].CountOn {
			t.Errorf("%v C: %v at 2 h, %v at 10 h", r.Temp, r.Starts[0].CountOn, r.Starts[2].CountOn)
		}
	}
	if emergency.IsStale(night, night.Add(6*24*time.Hour)) || !emergency.IsStale(night, night.Add(8*24*time.Hour)) {
		t.Error("a week is not a week")
	}
}

// A heater has failed on 78 L at 25 C in a room of 19 C, 10 W/K.
func ExampleWrite() {
	litres := quantity.HeldLitres(78)
	s := emergency.Write(emergency.Now{
		At:   night,
		Held: husbandry.Known(quantity.Band[quantity.HeldLitres]{Low: litres, Lo: litres, Median: litres, Hi: litres, High: litres}),
		Read: emergency.Read{Temp: husbandry.Known[quantity.Celsius](25)},
		Room: husbandry.Known[quantity.Celsius](19), Loss: husbandry.Known[quantity.WattsPerKelvin](10),
		Facts: enclosure.Facts{Fittings: []enclosure.Fitting{{Name: "heater", What: enclosure.Heater, Power: 150}}},
	})
	fmt.Printf("stuck on, it ends at %.0f C\n", s.Heater.Stuck.End.Median)
	fmt.Printf("%s first\n", s.Signs[0].Name)
	// Output:
	// stuck on, it ends at 34 C
	// gasping first
}
