package plan_test

import (
	"math"
	"strings"
	"testing"

	"halfwater/enclosure"
	"halfwater/internal/say"
	"halfwater/plan"
	"halfwater/quantity"
	"halfwater/water"
)

// Nitrate that rises 8 a week over a source of 5 asks for 40 %, not 20 % (source + rise/share = 25):
// the sheet says so. A source that is itself over the line is named: no share is enough.
func TestLargeChangeSaysWhy(t *testing.T) {
	f := riverbank()
	f.Basin = nil
	f.Sources = []enclosure.SourceWater{likeTank()}
	f.Wanted = []enclosure.RangeWanted{wants(quantity.OfNO3, math.Inf(-1), float64(quantity.NitrateAsNO3(25)))}
	d := about()
	for _, c := range []struct {
		source float64
		code   string
	}{{5, "plan.larger-plateau"}, {30, "plan.no-share"}} {
		f.Sources[0].Analysis.NO3 = water.Stated(quantity.NitrateAsNO3(c.source))
		d.NO3, d.NO3Rise = quantity.NitrateAsNO3(20), quantity.NitrateAsNO3(8)
		s := write(exactly(d), f)
		if s.Pour == nil || s.Pour.Larger == nil {
			t.Fatalf("source %v: no reason; %+v", c.source, s.Pour)
		}
		l := s.Pour.Larger
		if l.Code != c.code || l.Of != quantity.OfNO3 || math.Abs(quantity.Nitrate(l.Source).AsNO3()-c.source) > 0.1 {
			t.Errorf("source %v: %+v", c.source, l)
		}
		if want := c.source + 8/0.2; math.Abs(quantity.Nitrate(l.Plateau).AsNO3()-want) > 0.5 {
			t.Errorf("the plateau under the routine is %v, by hand %v", quantity.Nitrate(l.Plateau).AsNO3(), want)
		}
		if said := say.Sentence(l.Code, l); strings.Contains(said, "[plan") || !strings.Contains(said, "itrate") {
			t.Errorf("said %q", said)
		}
	}
	d.NO3, d.NO3Rise = quantity.NitrateAsNO3(5), quantity.NitrateAsNO3(1)
	f.Sources[0].Analysis.NO3 = water.Stated(quantity.NitrateAsNO3(5))
	if s := write(exactly(d), f); s.Pour == nil || s.Pour.Larger != nil {
		t.Errorf("nothing asks for more, but %+v", s.Pour)
	}
}

// A path that nitrate drives shows what becomes of nitrate.
func TestPathShowsWhatDrivesIt(t *testing.T) {
	f := riverbank()
	f.Basin, f.Wanted = nil, nil
	f.Sources = []enclosure.SourceWater{pureRO()}
	d := about()
	d.NO3 = quantity.NitrateAsNO3(300)
	s := plan.Write(plan.Input{Belief: exactly(d), Facts: f, Now: sunday})
	if s.Pour == nil || len(s.Pour.Path) == 0 {
		t.Skipf("no path: %+v", s.Refused)
	}
	if e := effect(t, s.Pour.Path[0].Effects, quantity.OfNO3, false); !(e.After.Median < e.Before.Median) {
		t.Errorf("%+v", e)
	}
}
