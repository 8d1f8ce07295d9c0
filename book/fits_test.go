package book_test

import (
	"errors"
	"strings"
	"testing"

	"halfwater/book"
	"halfwater/enclosure"
	"halfwater/quantity"
	"halfwater/water"
)

// tapWater is an invented report: its charges agree within a hundredth.
func tapWater() water.Analysis {
	return water.Analysis{
		Ca: water.Stated(quantity.MgPerL(80.2)), Mg: water.Stated(quantity.MgPerL(12.2)), Na: water.Stated(quantity.MgPerL(23)),
		K: water.Stated(quantity.MgPerL(2)), Cl: water.Stated(quantity.MgPerL(42.5)), SO4: water.Stated(quantity.MgPerL(57.6)),
		NO3: water.Stated(quantity.Nitrate(4.9)), KH: water.Stated(quantity.Alkalinity(9.3)),
	}
}

// What the box, the animals and the water itself rule out is refused, with what was probably meant.
func TestFits(t *testing.T) {
	f := enclosure.Facts{
		Basin: &enclosure.Basin{Length: 1000, Width: 500, Height: 600, FullMark: 240, FilterLitres: 4}, // 304 L at the very most
		Stock: []enclosure.Batch{{Name: "ricefish", Species: "Oryzias latipes", Count: 10, Mass: 0.5}},
	}
	slip := tapWater()
	slip.KH = water.Stated(quantity.Alkalinity(93))
	softer := water.Analysis{GH: water.Stated(quantity.Hardness(10)), KH: water.Stated(quantity.Alkalinity(8)), EC: water.Stated(quantity.Conductivity(30))}
	for _, c := range []struct {
		body                book.Body
		field, likely, says string // "" when it fits
	}{
		{book.Reading{Of: quantity.OfLevel, Lo: 945, Hi: 955}, "shown", "9.5", "95 cm"},
		{book.Reading{Of: quantity.OfLevel, Lo: 590, Hi: 610}, "", "", ""},
		{book.Reading{Of: quantity.OfEC, Lo: 900, Hi: 950}, "", "", ""},
		{book.Change{OutLitres: 15, LevelBefore: 950, LevelAfter: 200}, "level before", "9.5", "60 cm high"},
		{book.Change{OutLitres: 1500}, "out", "150", "304 L"},
		{book.Change{OutLitres: 15, In: []book.Poured{{Source: "RO", Litres: 900}, {Source: "tap", Litres: 6}}}, "in", "", "906 L"},
		{book.Change{LevelBefore: 240, LevelAfter: 200, In: []book.Poured{{Source: "RO", Litres: 20}}}, "", "", ""},
		{book.Change{OutLitres: 200, In: []book.Poured{{Source: "RO", Litres: 310}}}, "", "", ""}, // it ran through
		{book.TopUp{Source: "RO", Litres: 3050}, "litres", "30.5", "empty box"},
		{book.LevelTest{Litres: 10, From: 2400, To: 220}, "from", "24", "240 cm"},
		{book.Feed{What: "dry", Grams: 300}, "grams", "3", "20 times"},
		{book.Feed{What: "dry", Grams: 3}, "", "", ""},
		{enclosure.SourceWater{Name: "tap", Analysis: tapWater()}, "", "", ""},
		{enclosure.SourceWater{Name: "tap", Analysis: slip}, "analysis of tap", "", "alkalinity"},
		{enclosure.SourceWater{Name: "well", Analysis: softer}, "analysis of well", "", "EC 30"},
		{enclosure.SourceWater{Name: "river"}, "", "", ""}, // not known is no fault
	} {
		err := line("x", 1, 1, c.body).Fits(f)
		var one book.Fault
		if errors.As(err, &one); one.Field != c.field || one.Likely != c.likely || !strings.Contains(one.Error(), c.says) {
			t.Errorf("%+v: %q, likely %q: %v", c.body, one.Field, one.Likely, err)
		}
		if err := line("x", 1, 1, c.body).Fits(enclosure.Facts{}); c.likely != "" && err != nil {
			t.Errorf("%+v is refused with no facts: %v", c.body, err)
		}
		if err != nil {
			t.Log(err)
		}
	}
	// a batch of which the weight is not known bounds nothing but the box does
	f.Stock = append(f.Stock, enclosure.Batch{Name: "frogs", Species: "Bombina orientalis", Count: 2})
	if err := line("x", 1, 1, book.Feed{What: "dry", Grams: 300}).Fits(f); err != nil {
		t.Error(err)
	}
	if err := line("x", 1, 1, book.Feed{What: "dry", Grams: 7000}).Fits(f); err == nil {
		t.Error("7 kg of food were taken")
	}
}
