package climate

import (
	"math"
	"testing"
	"time"

	"pgregory.net/rapid"

	"halfwater/quantity"
)

// A heater of 150 W stuck on in 78 L that lose 10 W/K, in a room of 19 C: it ends at 19 + 15 = 34 C
// and starts at about 1 K an hour. Arithmetic.
func TestHeaterStuckOn(t *testing.T) {
	b := Bath{Held: 78, Loss: 10, Room: 19}
	if end := b.EndPoint(150); end != 34 {
		t.Errorf("ends at %g C", end)
	}
	if r := b.Rate(25, 150); math.Abs(float64(r)-1) > 0.05 {
		t.Errorf("starts at %.2f K/h", r)
	}
}

// Worked values by hand: 100 L, 1.5 m2, 6 W/m2K close 63 % of a gap in 12.9 h; 100 L by 3 K with
// 150 W take 2.33 h.
func TestHeatWorkedValues(t *testing.T) {
	b := Bath{Held: 100, Loss: 9, Room: 20}
	if h := b.TimeConstant().Hours(); math.Abs(h-12.9) > 0.05 {
		t.Errorf("time constant %.2f h", h)
	}
	if h := Reheat(100, 3, 150).Hours(); math.Abs(h-2.33) > 0.005 {
		t.Errorf("reheat %.3f h", h)
	}
	if l := LossOf(1.5); !l.Has(9) {
		t.Errorf("1.5 m2 lose %v", l)
	}
	if l := LossFrom(100, 0.5, 5); l != 10 {
		t.Errorf("half of 100 W over 5 K is %g W/K", l)
	}
	if !math.IsNaN(float64(LossFrom(100, 0.5, 0))) {
		t.Error("water as cold as the room has a loss")
	}
}

// The curve obeys its own rate (a second road: Euler in small steps), and Until turns After round.
func TestBathCurve(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := Bath{
			quantity.HeldLitres(rapid.Float64Range(20, 300).Draw(t, "held")),
			quantity.WattsPerKelvin(rapid.Float64Range(2, 20).Draw(t, "loss")),
			quantity.Celsius(rapid.Float64Range(10, 30).Draw(t, "room")),
		}
		start := quantity.Celsius(rapid.Float64Range(15, 32).Draw(t, "start"))
		power := quantity.Watts(rapid.Float64Range(0, 200).Draw(t, "power"))
		after := time.Duration(rapid.Float64Range(0.1, 8).Draw(t, "hours") * float64(time.Hour))
		got := b.After(start, power, after)
		euler := start
		const steps = 4000
		for range steps {
			euler = euler.Add(b.Rate(euler, power) * quantity.CelsiusDiff(after.Hours()/steps))
		}
		if math.Abs(float64(got-euler)) > 0.01*math.Abs(float64(got-start))+1e-6 {
			t.Fatalf("%+v: %g C, by steps %g", b, got, euler)
		}
		if math.Abs(float64(got-start)) > 0.01 && math.Abs(float64(got-b.EndPoint(power))) > 0.01 {
			back, ok := b.Until(start, got, power)
			if !ok || math.Abs(back.Hours()-after.Hours()) > 1e-3 {
				t.Fatalf("%v back, not %v", back, after)
			}
		}
	})
}

func TestUntilNever(t *testing.T) {
	b := Bath{Held: 100, Loss: 9, Room: 20}
	for _, c := range []struct{ start, target quantity.Celsius }{{25, 19}, {25, 26}, {25, 20}, {18, 17}} {
		if after, ok := b.Until(c.start, c.target, 0); ok {
			t.Errorf("from %g to %g C in %v", c.start, c.target, after)
		}
	}
	if after, ok := b.Until(25, 25, 0); !ok || after != 0 {
		t.Errorf("it is there already: %v %v", after, ok)
	}
}
