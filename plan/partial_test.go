package plan_test

import (
	"math"
	"strings"
	"testing"

	"halfwater/book"
	"halfwater/enclosure"
	"halfwater/husbandry"
	"halfwater/internal/say"
	"halfwater/plan"
	"halfwater/quantity"
	"halfwater/water"
)

// lopsided is the reference tap with its sodium left at four times what it is: the charges do not
// agree by more than 5 %.
func lopsided() enclosure.SourceWater {
	s := reference()
	s.Analysis.Na = water.Stated(quantity.MgPerL(4 * 22.990))
	return s
}

// A report that does not balance is used in part and named; it is not left out in silence, with
// pure water poured in its place.
func TestUnbalancedReportIsUsedInPart(t *testing.T) {
	f := riverbank()
	f.Basin = nil
	f.Sources = []enclosure.SourceWater{reference(), pureRO()}
	whole := write(exactly(about()), f)
	f.Sources[0] = lopsided()
	if _, err := f.Sources[0].Analysis.Complete(); err == nil {
		t.Fatal("the report balances: it is no test")
	}
	s := write(exactly(about()), f)
	c, ok := concern(s, "plan.source-in-part")
	if !ok || c.Source != "tap" || c.Tier != husbandry.Watch || c.Fault == nil || c.Fault.Ion == "" {
		t.Fatalf("the tap is not named: %+v", s.Concerns)
	}
	if said := say.Sentence(c.Code, c); !strings.Contains(said, "tap") || !strings.Contains(said, "%") || strings.Contains(said, "[plan") {
		t.Errorf("said %q", said)
	}
	if s.Pour == nil || math.Abs(part(s, "tap")-part(whole, "tap")) > 0.51 || part(s, "tap") == 0 {
		t.Fatalf("poured %+v, with the whole report %+v", s.Pour, whole.Pour)
	}
	wide, narrow := effect(t, s.Pour.Mix, quantity.OfGH, false).After, effect(t, whole.Pour.Mix, quantity.OfGH, false).After
	if wide.Hi-wide.Lo <= narrow.Hi-narrow.Lo {
		t.Errorf("GH of the mix %+v is no wider than %+v", wide, narrow)
	}
}

// Without KH the tap cannot be used even in part. It alone brings KH, or the last change poured it:
// nothing is poured, least of all RO alone.
func TestNoPourWithoutTheWaterOfTheRoutine(t *testing.T) {
	f := riverbank()
	blank := enclosure.SourceWater{Name: "tap", Analysis: water.Analysis{Kind: water.Mains}}
	f.Sources = []enclosure.SourceWater{blank, pureRO()}
	s := write(exactly(about()), f)
	r, ok := refused(s, "plan.source-unusable")
	if !ok || r.Source != "tap" || s.Pour != nil || s.Siphon != nil {
		t.Fatalf("poured %+v, refused %+v", s.Pour, s.Refused)
	}
	if said := say.Sentence(r.Code, r); !strings.Contains(said, "tap") || strings.Contains(said, "[plan") {
		t.Errorf("said %q", said)
	}
	if _, ok := concern(s, "plan.source-left-out"); !ok {
		t.Errorf("the water is not named: %+v", s.Concerns)
	}
	spring := hardTap()
	spring.Name = "spring"
	f.Sources = append(f.Sources, spring)
	in := plan.Input{Belief: exactly(about()), Facts: f, Now: sunday}
	if s = plan.Write(in); s.Pour == nil {
		t.Errorf("another water brings KH and the tap was never poured, but nothing is poured: %+v", s.Refused)
	}
	in.Lines = []book.Line{line(7, book.Change{In: []book.Poured{{Source: "tap", Litres: 8}, {Source: "RO", Litres: 8}}})}
	if s = plan.Write(in); s.Pour != nil {
		t.Errorf("the routine pours the tap, and the sheet %+v", s.Pour.Parts)
	}
}
