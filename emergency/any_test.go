package emergency_test

import (
	"math"
	"reflect"
	"testing"
	"time"

	"pgregory.net/rapid"

	"halfwater/cite"
	"halfwater/emergency"
	"halfwater/enclosure"
	"halfwater/husbandry"
	"halfwater/quantity"
	"halfwater/water"
)

// noNaN fails on any number that is none, anywhere in a result.
func noNaN(t interface{ Fatalf(string, ...any) }, path string, v reflect.Value) {
	switch v.Kind() {
	case reflect.Float64:
		if x := v.Float(); math.IsNaN(x) || math.IsInf(x, 0) {
			t.Fatalf("%s is %v", path, x)
		}
	case reflect.Pointer, reflect.Interface:
		if !v.IsNil() {
			noNaN(t, path, v.Elem())
		}
	case reflect.Slice, reflect.Array:
		for i := range v.Len() {
			noNaN(t, path+"[]", v.Index(i))
		}
	case reflect.Struct:
		if v.Type() == reflect.TypeFor[time.Time]() {
			return
		}
		for i := range v.NumField() {
			if f := v.Type().Field(i); f.IsExported() {
				noNaN(t, path+"."+f.Name, v.Field(i))
			}
		}
	}
}

// odd draws numbers as they come when a phone is wet: sound ones, nothing, and nonsense.
func odd(t *rapid.T, name string, lo, hi float64) float64 {
	if rapid.IntRange(0, 3).Draw(t, name+" is odd") == 0 {
		return rapid.SampledFrom([]float64{0, -1, 1e-9, 1e9, -273.15, math.NaN(), math.Inf(1), math.Inf(-1)}).Draw(t, name)
	}
	return rapid.Float64Range(lo, hi).Draw(t, name)
}

func maybe[Q quantity.Number](t *rapid.T, name string, lo, hi float64) husbandry.Maybe[Q] {
	if rapid.Bool().Draw(t, name+" is known") {
		return husbandry.Known(Q(odd(t, name, lo, hi)))
	}
	return husbandry.Maybe[Q]{}
}

func anyNow(t *rapid.T) emergency.Now {
	n := emergency.Now{
		At: night.Add(time.Duration(rapid.IntRange(-10, 3000).Draw(t, "minutes")) * time.Minute), Seed: rapid.Uint64().Draw(t, "seed"),
		Room: maybe[quantity.Celsius](t, "room", 0, 40), Loss: maybe[quantity.WattsPerKelvin](t, "loss", 1, 60),
		Read: emergency.Read{
			Temp: maybe[quantity.Celsius](t, "temp", 0, 40), Oxygen: maybe[quantity.MgPerL](t, "oxygen", 0, 14),
			PH: maybe[quantity.PH](t, "pH", 4, 10), KH: maybe[quantity.Alkalinity](t, "KH", 0, 20), GH: maybe[quantity.Hardness](t, "GH", 0, 30),
			EC: maybe[quantity.Conductivity](t, "EC", 0, 2000), TAN: maybe[quantity.TotalAmmonia](t, "TAN", 0, 10),
			NO2: maybe[quantity.Nitrite](t, "NO2", 0, 10), Chloride: maybe[quantity.MgPerL](t, "chloride", 0, 300),
		},
	}
	if rapid.Bool().Draw(t, "off since") {
		n.OffSince = night
	}
	if rapid.Bool().Draw(t, "held") {
		x := quantity.HeldLitres(odd(t, "litres", 1, 500))
		n.Held = husbandry.Known(quantity.Band[quantity.HeldLitres]{Low: 0.8 * x, Lo: 0.9 * x, Median: x, Hi: 1.1 * x, High: 1.2 * x})
	}
	if rapid.Bool().Draw(t, "basin") {
		n.Facts.Basin = &enclosure.Basin{
			Length: quantity.Millimetres(odd(t, "length", 100, 2000)), Width: quantity.Millimetres(odd(t, "width", 100, 900)),
			Height: 700, FullMark: quantity.Millimetres(odd(t, "full mark", 20, 600)), LandShare: quantity.Share(odd(t, "land", 0, 0.9)),
			FilterLitres: quantity.Litres(odd(t, "filter", 0, 20)),
		}
	}
	n.Facts.About.Room, n.Facts.About.Altitude = quantity.Celsius(odd(t, "usual room", 0, 40)), quantity.Metres(odd(t, "altitude", 0, 4000))
	species := []string{"Oryzias latipes", "Theloderma corticale", "Neocaridina davidi", "Taxiphyllum barbieri", "Triturus dobrogicus", "", "Nemo nemo"}
	for range rapid.IntRange(0, 4).Draw(t, "batches") {
		n.Facts.Stock = append(n.Facts.Stock, enclosure.Batch{
			Name: "b", Species: rapid.SampledFrom(species).Draw(t, "species"), Count: rapid.IntRange(-2, 300).Draw(t, "count"),
			Mass: quantity.Grams(odd(t, "mass", 0, 300)), Larvae: rapid.Bool().Draw(t, "larvae"),
		})
	}
	for range rapid.IntRange(0, 2).Draw(t, "heaters") {
		n.Facts.Fittings = append(n.Facts.Fittings, enclosure.Fitting{Name: "h", What: enclosure.Heater, Power: quantity.Watts(odd(t, "power", 0, 400))})
	}
	for range rapid.IntRange(0, 2).Draw(t, "waters") {
		n.Facts.Sources = append(n.Facts.Sources, enclosure.SourceWater{Name: "w", Analysis: water.Analysis{
			GH: water.Stated(quantity.Hardness(odd(t, "source GH", 0, 25))), KH: water.Stated(quantity.Alkalinity(odd(t, "source KH", 0, 20))),
			Chloramine: water.Stated(quantity.MgPerL(odd(t, "chloramine", 0, 3))),
		}})
	}
	return n
}

// Whatever is missing or cannot be, there is a sheet: no panic, no number that is none, six signs, a
// band in order, an hour to count on that is no longer than the low end.
func TestAnySheet(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := emergency.Write(anyNow(t))
		noNaN(t, "sheet", reflect.ValueOf(s))
		o := s.Power.Oxygen.Lasts
		if !(0 <= o.Low && o.Low <= o.Lo && o.Lo <= o.Median && o.Median <= o.Hi && o.Hi <= o.High && o.High <= emergency.Longest) {
			t.Fatalf("oxygen out of order: %+v", o)
		}
		if s.Power.Oxygen.CountOn > o.Low || s.Power.First > emergency.Longest {
			t.Fatalf("counts on %v of %v", s.Power.Oxygen.CountOn, o.Low)
		}
		if len(s.Signs) != 6 || len(s.Power.Due) == 0 || len(s.Power.BackOn) == 0 || len(s.Matters) != 4 {
			t.Fatal("the sheet is not whole")
		}
		for _, off := range s.Ammonia.Offers {
			if off.Code == emergency.OfferOK && off.Later.Tier == husbandry.ActNow && s.Ammonia.Now != nil &&
				off.Later.Free > 1.06*max(s.Ammonia.Now.Free, s.Ammonia.Left.Free) {
				t.Fatalf("offered although it harms: %+v", off)
			}
		}
	})
}

// The same facts give the same sheet, and more animals, less water or warmer water never last longer.
func TestHoursFollowTheFacts(t *testing.T) {
	lasts := func(n emergency.Now) quantity.Band[emergency.Hours] { return emergency.Write(n).Power.Oxygen.Lasts }
	for seed, litres := range []quantity.HeldLitres{10, 17, 30, 52, 90, 155, 270, 400} {
		n := cut()
		n.Seed, n.Held = uint64(seed), held(litres)
		a := lasts(n)
		if a != lasts(n) {
			t.Fatal("not the same twice")
		}
		more, less, warm := n, n, n
		more.Facts.Stock = append([]enclosure.Batch{{Name: "more", Species: "Oryzias latipes", Count: 20, Mass: 1}}, n.Facts.Stock...)
		less.Held = held(litres / 2)
		warm.Read.Temp = husbandry.Known[quantity.Celsius](29)
		for name, b := range map[string]quantity.Band[emergency.Hours]{"more animals": lasts(more), "less water": lasts(less), "warmer": lasts(warm)} {
			if b.Low > a.Low || b.Median > a.Median || b.Hi > a.Hi {
				t.Errorf("%v L, %s: %+v, was %+v", litres, name, b, a)
			}
		}
	}
}

// Every act names its work or common practice, and every sign has its first act.
func TestActsNameTheirWork(t *testing.T) {
	n := 0
	check := func(acts ...emergency.Act) {
		for _, a := range acts {
			n++
			if _, ok := cite.Lookup(a.Work); !ok || a.Code == "" {
				t.Errorf("%+v names no work", a)
			}
		}
	}
	check(emergency.Warning())
	for i, s := range emergency.Signs() {
		if s.Name != emergency.SignNames()[i] || s.First != s.Acts[0] {
			t.Errorf("%+v", s)
		}
		check(s.Acts...)
	}
	for _, m := range emergency.Matters() {
		check(m.Do...)
		check(m.Keep...)
		check(m.Not...)
		check(m.Call...)
	}
	s := emergency.Write(cut())
	check(s.Power.BackOn...)
	check(s.Afterwards...)
	if n < 60 {
		t.Errorf("only %d acts seen", n)
	}
}

func BenchmarkWrite(b *testing.B) {
	n := cut()
	b.ReportAllocs()
	for b.Loop() {
		emergency.Write(n)
	}
}

func BenchmarkTable(b *testing.B) {
	n := cut()
	for b.Loop() {
		emergency.HoursTable(n)
	}
}
