package files_test

import (
	"math"
	"testing"
	"time"

	"halfwater/book"
	"halfwater/enclosure"
	"halfwater/kit"
	"halfwater/quantity"
	"halfwater/water"
)

func day(n int) time.Time { return time.Date(2026, 3, 1, 0, 0, 0, 0, time.UTC).AddDate(0, 0, n) }

// facts are an enclosure that makes sense.
func facts() []enclosure.Fact {
	inf := math.Inf(1)
	return []enclosure.Fact{
		enclosure.About{Name: "Riverbank", Altitude: 120, Room: 20.5, Question: "Is a fifth \"enough\"?\nAnd why?"},
		enclosure.Basin{
			Length: 1000, Width: 503.5, Height: 600, FullMark: 241, PumpIntake: 90, HeaterLine: 120, LandShare: 0.35,
			BedFront: 30, BedBack: 80, StoneKg: 8, WoodKg: 2.5, FilterLitres: 4,
		},
		enclosure.Basin{
			Length: 1000, Width: 500, Height: 600, FullMark: 240, FalseBottom: true,
			Profile: []enclosure.Point{{X: 0, Z: 120}, {X: 300, Z: 145.5}, {X: 550, Z: 30}},
		},
		enclosure.Fitting{Name: "RO unit", What: "ro unit", Rated: 190, RatedTemp: 25, PressureShare: 0.73, RejectRatio: 3},
		enclosure.Fitting{Name: "heater", What: "heater", Power: 100},
		enclosure.SourceWater{Name: "RO", Analysis: water.Analysis{
			Kind: water.RO, GH: water.Stated(quantity.Hardness(0)), KH: water.Stated(quantity.Alkalinity(0)), EC: water.Stated(quantity.Conductivity(12)),
		}, InStore: water.Stated(quantity.Litres(30)), MadeBy: "RO unit"},
		enclosure.SourceWater{Name: "tap", Chloramine: true, Analysis: water.Analysis{
			Kind: water.Mains, KH: water.Stated(quantity.Alkalinity(9.3)), PH: water.Stated(quantity.PH(7.6)),
			Ca: water.Stated(quantity.MgPerL(80.2)), Mg: water.Stated(quantity.MgPerL(12.2)), NO3: water.Stated(quantity.NitrateAsNO3(21.7)),
			TAN: water.Stated(quantity.TotalAmmonia(0)), PO4: water.Stated(quantity.Phosphate(0.3)), Chloramine: water.Stated(quantity.MgPerL(2)),
		}},
		enclosure.Stage{Name: "coarse sponge", Order: 1, Medium: "sponge", Biological: true, CleanJug: 14300 * time.Millisecond, Jug: 2},
		enclosure.Stage{Name: "carbon", Order: 2, Medium: "carbon", Carbon: true},
		enclosure.Batch{Name: "ricefish", Species: "Oryzias latipes", Count: 12, Mass: 0.4, Note: "from two ponds"},
		kit.Kit{Name: "KH drops", Of: quantity.OfKH, Form: kit.Drops, Unit: "dKH", PerDrop: 1},
		kit.Kit{
			Name: "nitrate card", Of: quantity.OfNO3, Form: kit.Card, Unit: "mg/L", Basis: quantity.AsNO3, Steps: []float64{0, 1, 5, 10, 25, 50, 100},
			Lot: "A12", Opened: day(-30), UseBy: day(500),
		},
		kit.Kit{Name: "pH pen", Of: quantity.OfPH, Form: kit.Meter, Unit: "pH", Accuracy: 0.1, Digit: 0.01, Calibrated: day(-1).Add(10 * time.Hour)},
		enclosure.RangeWanted{Of: quantity.OfNO3, Range: quantity.Range[float64]{Lo: math.Inf(-1), Hi: float64(quantity.NitrateAsNO3(25))}, Reason: "as in spring"},
		enclosure.RangeWanted{Of: quantity.OfKH, Range: quantity.Range[float64]{Lo: 0, Hi: inf}},
		enclosure.RangeWanted{Of: quantity.OfPH, Range: quantity.Range[float64]{Lo: -inf, Hi: inf}},
		enclosure.RangeWanted{Of: quantity.OfWaterTemp, Range: quantity.Range[float64]{Lo: 0, Hi: 24.5}},
		enclosure.Vessel{Name: "bucket", Litres: 10, Count: 2},
		enclosure.Neutraliser{Name: "water conditioner", MlPer: 5, ForLitres: 20, ByHose: true},
		enclosure.Routine{ChangeShare: 0.2, EveryDays: 7, Salts: []string{"CaCl2.2H2O", "NaHCO3"}, TopUpWith: "RO"},
	}
}

// events are one line of each kind that is no fact, and more where a kind has several faces.
func events() []book.Body {
	band := []book.ShownBand{{Of: quantity.OfKH, On: day(30), Lo: 1, Median: 2.5, Hi: 3}}
	return []book.Body{
		book.Reading{Of: quantity.OfKH, Kit: "KH drops", Shown: "4", Unit: "dKH", Lo: 3, Hi: 4},
		book.Reading{Of: quantity.OfTDS, Shown: "0", Unit: "mg/L"},
		book.Reading{Of: quantity.OfNO3, Shown: "< 5", Unit: "mg/L", Basis: quantity.AsNO3, Hi: 1.13, Place: "cool end", Light: "lamp", Heldup: 5},
		book.Change{
			OutLitres: 15, LevelBefore: 241.5, LevelAfter: 203, In: []book.Poured{{Source: "RO", Litres: 9}, {Source: "tap", Litres: 6.25}},
			Salts: []book.SaltPoured{{Formula: "NaHCO3", Grams: 1.5}}, Temp: 23.4, MixEC: 240, BedShare: 0.25,
		},
		book.TopUp{Source: "RO", Litres: 1.5},
		book.LevelTest{Litres: 10, From: 240, To: 214.5},
		book.Feed{What: "dry", Grams: 0.3, ProteinShare: 0.45, EatenShare: 0.9, InWater: true, PerDay: true},
		book.Droppings{Where: "land", Grams: 0.5},
		book.Service{Stage: "coarse sponge", RinsedIn: "tank water", NoFlowMinutes: 20},
		book.ServiceStarted{Note: "all well"},
		book.ServiceEnded{},
		book.SwitchedOn{OffSince: day(1)},
		book.Dose{What: "neutraliser", Millilitres: 5, Note: "by label"},
		book.TimedJug{Stage: "coarse sponge", Litres: 2, Seconds: 21},
		book.TimedLitre{Fitting: "RO unit", Litres: 1, Seconds: 900, Temp: 10, Reject: 3},
		book.Animal{Seen: 3, Ate: "ate", Sign: "hiding", RedFlag: true, Note: "at dusk"},
		book.Incident{Sign: "power", What: "power off", Note: "whole street"},
		book.Weight{Animal: "Moss", Grams: 8.25},
		book.Shed{Animal: "Moss", Whole: true},
		book.Trim{What: "floating fern", WetGrams: 40},
		book.Added{What: "leaf", Grams: 3},
		book.TakenOut{What: "carcass", Grams: 0.4},
		book.Photo{File: "a.jpg", Note: "left side"},
		book.Note{Text: "=all at the surface; \"gasping\"\nlater well"},
		book.Price{What: "carbon", Amount: 12.5, Currency: "EUR"},
		book.AeratedGlass{Kit: "pH pen", Before: 6.4, After: 7.4, Hours: 24},
		book.StoneJar{What: "grey stone", Litres: 1, Days: 7, Of: quantity.OfKH, After: 2},
		book.KnownSample{What: "nitrate standard", Kit: "nitrate card", Of: quantity.OfNO3, Value: 5.6, Within: 0.1, Shown: "25"},
		book.KnownSample{What: "blank of RO", Kit: "nitrate card", Of: quantity.OfNO3, Shown: "0"},
		book.ShownOutlook{Version: "1", Bands: band},
		book.Prediction{Adviser: "a friend", Claim: "the stone gives lime", If: band},
		book.SetAside{Line: "e000", Reason: "by lamp light"},
		book.Withdraw{Line: "e001", Reason: "typed twice"},
		book.Unread{Named: "comet seen", Text: `{"tail":[1.50,null]}`},
	}
}

// wholeBook is a book with a line of every kind.
func wholeBook() []book.Line {
	var out []book.Line
	for i, f := range facts() {
		b := f.(book.Body)
		out = append(out, book.Line{ID: id("f", i), At: day(i / 3), Recorded: day(20), Water: book.WaterOf(b), By: book.Keeper, Body: b})
	}
	for _, b := range []book.Body{enclosure.Retired{OfKind: "stage", OfKey: "carbon"}, enclosure.Retired{OfKind: "vessel", OfKey: "bucket"}} {
		out = append(out, book.Line{ID: id("r", len(out)), At: day(60).Add(time.Hour), Recorded: day(61), Water: book.WaterOf(b), By: book.Keeper, Body: b})
	}
	for i, b := range events() {
		l := book.Line{
			ID: id("e", i), At: day(30 + i).Add(time.Duration(i) * 1234567 * time.Microsecond), Recorded: day(70),
			Water: book.MainWater, By: []book.By{book.Keeper, book.Sitter, book.Probe}[i%3], Body: b,
		}
		if _, ok := b.(book.Animal); ok {
			l.Batch = "ricefish"
		}
		out = append(out, l)
	}
	book.Sort(out)
	return out
}

func id(letter string, n int) book.ID {
	return book.ID(letter + string(rune('0'+n/100)) + string(rune('0'+n/10%10)) + string(rune('0'+n%10)))
}

func TestSamplesCoverEveryKind(t *testing.T) {
	have := map[string]bool{}
	for _, l := range wholeBook() {
		have[l.Body.Kind()] = true
		if err := l.Check(now); err != nil {
			t.Error(err)
		}
	}
	for _, k := range book.Kinds() {
		if !have[k] {
			t.Errorf("no sample of %s", k)
		}
	}
}
