package emergency_test

import (
	"slices"
	"testing"

	"halfwater/emergency"
	"halfwater/enclosure"
	"halfwater/husbandry"
	"halfwater/quantity"
)

func newts() emergency.Now {
	n := cut()
	n.Facts.Stock = []enclosure.Batch{{Name: "newts", Species: "Ichthyosaura alpestris", Count: 4, Mass: 5}}
	return n
}

// A temperature that nobody has read raises no alarm, and one read long ago none near its line.
func TestNoAlarmFromAGuess(t *testing.T) {
	n := newts()
	n.Read.Temp = husbandry.Maybe[quantity.Celsius]{}
	p := emergency.Write(n).Power
	for _, l := range p.Warmth.Lines {
		if l.Already || l.CountOn == 0 {
			t.Errorf("by a guess: %+v", l)
		}
	}
	if len(p.Warmth.Unsure) == 0 || p.Warmth.Unsure[0].Code != emergency.TooWarm || p.FirstCode == emergency.BitesWarm {
		t.Errorf("unsure of %+v, first %s", p.Warmth.Unsure, p.FirstCode)
	}
	act := p.Warmth.Unsure[0].Line
	for _, c := range []struct {
		from, doubt float64 // from the line
		unsure      bool
	}{{-1, 0, false}, {-1, 2, true}, {-6, 2, false}, {1, 0, false}, {1, 2, true}, {6, 2, false}} {
		n.Read.Temp, n.TempDoubt = husbandry.Known(act+quantity.Celsius(c.from)), quantity.CelsiusDiff(c.doubt)
		w := emergency.Write(n).Power.Warmth
		got := slices.ContainsFunc(w.Unsure, func(l emergency.Reaches) bool { return l.Code == emergency.TooWarm && l.Line == act })
		already := slices.ContainsFunc(w.Lines, func(l emergency.Reaches) bool { return l.Line == act && l.Already })
		if got != c.unsure || already != (c.from > 0 && !c.unsure) {
			t.Errorf("%+v: unsure %v, already %v", c, got, already)
		}
	}
}

// No heater written down beside other things: nothing is computed for one. With nothing written down at
// all there may be one.
func TestNoHeaterListed(t *testing.T) {
	if h := emergency.Write(newts()).Heater; h.Code != emergency.HeaterNone || h.Stuck.Code != "" || h.Rewarm == 0 {
		t.Errorf("%+v", h)
	}
	if h := emergency.Write(emergency.Now{At: night}).Heater; h.Code != emergency.HeaterUnlisted || h.Stuck.End.Median < 20 {
		t.Errorf("%+v", h)
	}
	n := newts()
	n.Facts.Fittings = []enclosure.Fitting{{Name: "heater", What: enclosure.Heater}}
	if h := emergency.Write(n).Heater; h.Code != emergency.HeaterListed || h.Watts != 0 || h.Stuck.End.Median < 20 {
		t.Errorf("%+v", h)
	}
}

// The tank's EC is that which was read, whether or not the GH was, and with a GH alone at least that of
// its hardness.
func TestTankByWhatWasRead(t *testing.T) {
	n := cut()
	n.Read.TAN, n.Read.PH, n.Read.KH = husbandry.Known[quantity.TotalAmmonia](1), husbandry.Known[quantity.PH](6.8), husbandry.Known[quantity.Alkalinity](1)
	ec := func() float64 { return float64(emergency.Write(n).Ammonia.Now.EC) }
	n.Read.EC = husbandry.Known[quantity.Conductivity](420)
	if x := ec(); x < 410 || x > 430 {
		t.Errorf("EC %.0f without GH", x)
	}
	n.Read.GH = husbandry.Known[quantity.Hardness](8.2)
	if x := ec(); x < 410 || x > 430 {
		t.Errorf("EC %.0f with GH", x)
	}
	n.Read.EC = husbandry.Maybe[quantity.Conductivity]{}
	if x := ec(); x < 250 {
		t.Errorf("EC %.0f with GH alone", x)
	}
}
