package infer

import (
	"math"
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"

	"halfwater/book"
	"halfwater/kit"
	"halfwater/quantity"
)

func TestExpectedBeforeLooking(t *testing.T) {
	e := newTruth(12, "plain")
	e.keep(10)
	n := notes{lines: e.lines}
	b := n.believe(t, day0.AddDate(0, 0, 71))
	water := band(t, b, quantity.OfNO3)
	shown, ok := Expected(b, no3Card)
	if !ok || shown.Hi-shown.Lo <= water.Hi-water.Lo || math.Abs(shown.Median-water.Median) > 0.1*water.Median {
		t.Errorf("the water %.1f to %.1f, the card %.1f to %.1f", water.Lo, water.Hi, shown.Lo, shown.Hi)
	}
	if _, ok := Expected(b, kit.Kit{Name: "copper", Of: quantity.OfCopper, Form: kit.Meter, Unit: "mg/L"}); ok {
		t.Error("expects copper out of nothing")
	}
}

// TestExpectedHoldsReadings asks, over simulated books, how often the next reading falls where it was
// expected: the middle of the class shown within the 80 % band of what the kit would show.
func TestExpectedHoldsReadings(t *testing.T) {
	hit, all := 0, 0
	for seed := range uint64(12) {
		e := newTruth(300+seed, "plain")
		e.keep(14)
		for _, p := range e.pairs {
			if p.m != quantity.OfKH && p.m != quantity.OfNO3 && p.m != quantity.OfEC {
				continue
			}
			i := slices.IndexFunc(e.lines, func(l book.Line) bool { return l.ID == p.id })
			at := e.lines[i].At
			if at.Before(day0.AddDate(0, 0, 70)) {
				continue
			}
			b, err := Glance(Window{Lines: e.lines[:i], At: at, Recorded: at, Seed: 1})
			if err != nil {
				t.Fatal(err)
			}
			k := map[quantity.Measurand]kit.Kit{quantity.OfKH: khDrops, quantity.OfNO3: no3Card, quantity.OfEC: ecPen}[p.m]
			want, ok := Expected(b, k)
			if !ok {
				t.Fatal(p.m, "not expected")
			}
			all++
			if p.r.Hi >= want.Lo && p.r.Lo <= want.Hi {
				hit++
			}
		}
	}
	t.Logf("%d of %d readings touch the expected 80 %% band", hit, all)
	if share := float64(hit) / float64(all); share < 0.78 {
		t.Errorf("only %.0f %% do", 100*share)
	}
}

// TestAnyBook throws books at random: known is never NaN, nothing is negative, bands are in order.
func TestAnyBook(t *testing.T) {
	kits := []kit.Kit{no3Card, tanCard, khDrops, ghDrops, phPen, ecPen, thermo}
	rapid.Check(t, func(r *rapid.T) {
		n := notes{}
		at := day0
		if rapid.Bool().Draw(r, "box") {
			n.add(at, plain)
		}
		if rapid.Bool().Draw(r, "tap") {
			n.add(at, hardTap)
		}
		if rapid.Bool().Draw(r, "ro") {
			n.add(at, pure)
		}
		for _, k := range kits {
			n.add(at, k)
		}
		for range rapid.IntRange(0, 25).Draw(r, "lines") {
			at = at.Add(time.Duration(rapid.IntRange(0, 40*24*3600).Draw(r, "gap")) * time.Second / 10)
			litres := quantity.Litres(rapid.Float64Range(0, 400).Draw(r, "litres"))
			source := rapid.SampledFrom([]string{"tap", "RO", "", "well"}).Draw(r, "source")
			switch rapid.IntRange(0, 5).Draw(r, "what") {
			case 0:
				n.add(at, book.Change{OutLitres: litres, In: []book.Poured{{Source: source, Litres: litres}}})
			case 1:
				n.add(at, book.TopUp{Source: source, Litres: litres / 20})
			case 2:
				n.add(at, book.Feed{What: "dry", Grams: quantity.Grams(float64(litres) / 100), InWater: true, PerDay: rapid.Bool().Draw(r, "habit")})
			case 3:
				n.add(at, book.Dose{What: "NaHCO3", Grams: quantity.Grams(float64(litres) / 100)})
			default:
				k := rapid.SampledFrom(kits).Draw(r, "kit")
				span := k.Of.Span()
				u := rapid.Float64Range(0, 1).Draw(r, "truth")
				truth := math.Max(span.Lo, 0) + u*u*(math.Min(span.Hi, 60)-math.Max(span.Lo, 0))
				switch k.Of {
				case quantity.OfPH:
					truth = 4 + 6*u
				case quantity.OfWaterTemp:
					truth = 5 + 30*u
				case quantity.OfEC:
					truth = 3000 * u
				}
				iv, err := k.Read(k.Shows(truth), at)
				if err != nil {
					r.Fatal(err)
				}
				n.add(at, book.Reading{Of: k.Of, Kit: k.Name, Shown: k.Shows(truth), Unit: k.Unit, Basis: k.Basis, Lo: iv.Lo, Hi: iv.Hi})
			}
		}
		at = at.Add(time.Duration(rapid.IntRange(0, 60).Draw(r, "days")) * 24 * time.Hour)
		b, err := Believe(Window{Lines: n.lines, At: at, Recorded: at, Seed: 1})
		if err != nil {
			r.Fatal(err)
		}
		for m := range b.Evidence {
			v, ok := b.Band(m)
			if !ok {
				r.Fatalf("%s has evidence and no band", m.Label())
			}
			if v.Low < 0 || v.Low > v.Lo || v.Lo > v.Median || v.Median > v.Hi || v.Hi > v.High || math.IsInf(v.High, 0) {
				r.Fatalf("%s: %+v", m.Label(), v)
			}
		}
		for i, d := range b.Draws {
			for _, x := range []float64{float64(d.TAN), float64(d.NO2), float64(d.Evaporation)} {
				if !(x >= 0) {
					r.Fatalf("draw %d: %+v", i, d)
				}
			}
			_, acid := b.Evidence[quantity.OfPH]
			if _, buffered := b.Evidence[quantity.OfKH]; acid && buffered && !(d.PCO2 > 0) {
				r.Fatalf("draw %d: KH %.2f, pH %.2f and no CO2: %g", i, d.KH, d.PH, d.PCO2)
			}
			if d.PCO2 < 0 || !math.IsNaN(float64(d.Held)) && d.Held <= 0 {
				r.Fatalf("draw %d: %+v", i, d)
			}
		}
	})
}
