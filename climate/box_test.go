package climate

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"

	"halfwater/internal/published"
	"halfwater/quantity"
)

func TestEvaporationAgainstCheckValues(t *testing.T) {
	published.Check(t, "S09-012", float64(Surface{Area: 1, Water: 26, Air: Air{25, 80}}.Evaporation(1)))
	published.Check(t, "S09-013", float64(Surface{Area: 1, Water: 26, Air: Air{25, 60}}.Evaporation(1)))
	published.Check(t, "S09-014", 1000*float64(VapourOut(2, 0.25, Air{26, 90}, Air{21, 45})))
}

func TestEvaporationTurns(t *testing.T) {
	if e := (Surface{Area: 1, Water: 15, Air: Air{25, 90}}).Evaporation(Still); e >= 0 {
		t.Errorf("cold water under warm moist air gives off %g", e)
	}
	still := Surface{Area: 1, Water: 26, Air: Air{25, 60}}
	windy := still
	windy.Draught = 1
	if r := windy.Evaporation(1) / still.Evaporation(1); math.Abs(float64(r)-(0.089+0.0782)/0.089) > 1e-9 {
		t.Errorf("a draught of 1 m/s makes it %g times", r)
	}
	for _, disturbed := range []bool{false, true} {
		f := Still
		if disturbed {
			f = Disturbed
		}
		if !ActivitySpan(disturbed).Has(f) {
			t.Errorf("activity %g is outside %v", f, ActivitySpan(disturbed))
		}
	}
}

func covered() Box {
	return Box{Surface: 0.4, Water: 25, Activity: 0.5, Volume: 0.35, AirTemp: 26, Room: Air{21, 45}}
}

// A covered box at four lids, worked out once by another hand with the Magnus form; it pins the
// equation and proves nothing about it.
func TestCoveredBox(t *testing.T) {
	for _, c := range []struct {
		changes  quantity.AirChanges
		rh, loss float64 // %, g/d
	}{{0.5, 92, 59}, {2, 85, 206}, {5, 75, 415}, {15, 59, 755}} {
		got := covered().At(c.changes)
		if math.Abs(float64(got.RH)-c.rh) > 1 || math.Abs(1000*float64(got.Loss)-c.loss) > 0.01*c.loss {
			t.Errorf("%g changes: %.1f %%, %.0f g/d, not %g and %g", c.changes, got.RH, 1000*got.Loss, c.rh, c.loss)
		}
	}
}

// What evaporates leaves or runs back; more air is drier and loses more; the fit finds the lid.
func TestBoxKeepsItsWater(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := covered()
		b.Water = quantity.Celsius(rapid.Float64Range(18, 30).Draw(t, "water"))
		b.AirTemp = quantity.Celsius(rapid.Float64Range(20, 32).Draw(t, "air"))
		b.Room = Air{quantity.Celsius(rapid.Float64Range(15, 26).Draw(t, "room")), quantity.Humidity(rapid.Float64Range(20, 60).Draw(t, "rh"))}
		b.Other = quantity.LitresPerDay(rapid.Float64Range(0, 1).Draw(t, "other"))
		b.Panes = quantity.SquareMetres(rapid.Float64Range(0, 3).Draw(t, "panes"))
		n := quantity.AirChanges(math.Exp(rapid.Float64Range(-2, 3.5).Draw(t, "ln changes")))
		at, more := b.At(n), b.At(1.2*n)
		air := Air{b.AirTemp, at.RH}
		if in := b.source(air); math.Abs(float64(in-at.Loss-at.Runs)) > 1e-6 {
			t.Fatalf("%g in, %g out, %g back", in, at.Loss, at.Runs)
		}
		if more.RH > at.RH+1e-9 || more.Loss < at.Loss-1e-9 {
			t.Fatalf("more air: %+v after %+v", more, at)
		}
		if at.Loss > 1e-3 {
			fitted, err := b.FitChanges(at.Loss)
			if err != nil || math.Abs(float64(fitted/n-1)) > 1e-3 {
				t.Fatalf("fitted %g changes, not %g (%v)", fitted, n, err)
			}
		}
	})
}

func TestFitRefusesALeak(t *testing.T) {
	var leak MoreThanItCanLose
	if _, err := covered().FitChanges(6); !errors.As(err, &leak) || leak.Most > 3 {
		t.Errorf("six litres a day: %v", err)
	}
	if n, err := covered().FitChanges(0); n != 0 || err != nil {
		t.Errorf("nothing topped up: %g, %v", n, err)
	}
}

// 26 C inside and 21 C in the room: the pane is at 22.6 C and fogs over 81 %, by the same two
// conductances; it pins the equation.
func TestGlass(t *testing.T) {
	if g := GlassTemperature(26, 21); math.Abs(float64(g)-22.6) > 0.05 {
		t.Errorf("glass at %.2f C", g)
	}
	if f := FogsAt(26, 21); math.Abs(float64(f)-81) > 0.5 {
		t.Errorf("fogs at %.1f %%", f)
	}
	// On that humidity the dew point is the temperature of the glass: a second road.
	if d := (Air{26, FogsAt(26, 21)}).DewPoint(); math.Abs(float64(d-GlassTemperature(26, 21))) > 1e-6 {
		t.Errorf("dew point %.3f", d)
	}
}

func TestMist(t *testing.T) {
	if w := Misted(2, 1.5, 60); math.Abs(float64(w)-0.05) > 1e-12 {
		t.Errorf("two nozzles for a minute: %g L", w)
	}
	if r := MistDrains(); r.Lo != 0.6 || r.Hi != 0.9 {
		t.Errorf("%v drains", r)
	}
	if r := NozzleRate(); r.Lo != 0.8 || r.Hi != 4 {
		t.Errorf("nozzle %v", r)
	}
}

func BenchmarkBox(b *testing.B) {
	box := covered()
	for b.Loop() {
		box.At(2)
	}
}

// A pane 3.4 K colder than the air draws heat by air alone at about 1.3 dT^(1/3) = 2.0 W/m2K
// (turbulent free convection on an upright plate, textbook, from memory) to 4 with the stir of a
// warm box; what settles follows from that by Lewis. Half to twice the textbook is all it claims.
func TestPanes(t *testing.T) {
	b := covered()
	b.Panes = 1
	inside := Air{26, 95}
	over := float64(inside.Density() - Air{GlassTemperature(26, 21), 100}.Density())
	textbook := over * 1.3 * math.Cbrt(26-float64(GlassTemperature(26, 21))) / 1206 * 86400 / 1000
	if got := float64(b.settles(inside)); got < textbook/2 || got > 2*textbook {
		t.Errorf("%.2f L a day settle, the textbook plate has %.2f", got, textbook)
	}
	if b.settles(Air{26, 70}) != 0 {
		t.Error("a clear pane draws water")
	}
}
