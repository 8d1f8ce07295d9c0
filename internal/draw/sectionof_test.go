package draw_test

import (
	"strings"
	"testing"

	"halfwater/enclosure"
	"halfwater/husbandry"
	"halfwater/internal/draw"
	"halfwater/internal/look"
	"halfwater/plan"
	"halfwater/quantity"
)

// visit is a day of an invented enclosure, as facts and a sheet.
func visit() (enclosure.Facts, plan.Sheet) {
	cm := quantity.Centimetres
	var profile []enclosure.Point
	for _, p := range riverbank().Profile {
		profile = append(profile, enclosure.Point{X: cm(p.X), Z: cm(p.Z)})
	}
	facts := enclosure.Facts{
		About: enclosure.About{Name: "Riverbank"},
		Basin: &enclosure.Basin{Length: cm(100), Width: cm(60), Height: cm(66), FullMark: cm(24), PumpIntake: cm(14), Profile: profile},
		Stock: []enclosure.Batch{
			{Name: "frogs", Species: "Theloderma corticale", Count: 4},
			{Name: "ricefish", Species: "Oryzias latipes", Count: 9},
			{Name: "shrimp", Species: "Neocaridina davidi", Count: 25},
			{Name: "moss", Species: "Taxiphyllum barbieri", Count: 1},
			{Name: "gone", Species: "Oryzias latipes", Count: 0},
			{Name: "nobody", Species: "no such kind", Count: 3},
		},
	}
	band := func(lo, mid, hi float64) quantity.Band[float64] {
		return quantity.Band[float64]{Low: lo, Lo: lo, Median: mid, Hi: hi, High: hi}
	}
	sheet := plan.Sheet{
		Siphon: &plan.Siphon{
			Now: cm(23.6), Mark: cm(20.8), FullMark: cm(24), NowRead: true, Intake: cm(14),
			Out: quantity.Band[quantity.Litres]{Low: 9.2, Lo: 9.4, Median: 10, Hi: 10.6, High: 10.8},
		},
		Effects: []plan.Effect{
			{Of: quantity.OfGH, Before: band(5.1, 5.6, 6.1)},
			{Of: quantity.OfKH, Before: band(1.6, 2.1, 2.6)},
			{Of: quantity.OfTAN, Free: true, Before: band(0, 0, .004)},
			{Of: quantity.OfEC, Before: band(246, 255, 264)},
			{Of: quantity.OfWaterTemp, Before: band(20.5, 20.8, 21.1)},
		},
		Concerns: []plan.Concern{{Of: quantity.OfKH, Tier: husbandry.Watch}},
	}
	return facts, sheet
}

func TestSectionOf(t *testing.T) {
	s := draw.SectionOf(visit())
	if s.Water != 23.6 || s.Siphon != 20.8 || s.Full != 24 || s.Intake != 14 || s.Length != 100 || s.Depth != 60 || s.Assumed {
		t.Errorf("heights and measures: %+v", s)
	}
	if s.Take != "about 10 L" || s.TakeCould != "9.4 to 10.6" || s.Held != "" {
		t.Errorf("takes %q, %q of %q", s.Take, s.TakeCould, s.Held)
	}
	if len(s.Readings) != 3 || s.Readings[0].Value != "KH about 2.1" || s.Readings[0].Mark != look.Watch || s.Readings[0].Short != "KH 2.1" || s.Readings[0].Could != "could be 1.6 to 2.6" {
		t.Errorf("readings, the concern first: %+v", s.Readings)
	}
	for _, r := range s.Readings {
		if r.Z <= 4 || r.Z >= 20.8 || !r.InWater {
			t.Errorf("%q stands at %.1f cm, out of the water that stays", r.Value, r.Z)
		}
	}
	haunts := map[draw.Animal]draw.Haunt{draw.Frog: draw.OnLand, draw.Fish: draw.InWater, draw.Shrimp: draw.OnBed}
	if len(s.Beasts) != len(haunts) {
		t.Fatalf("%d kinds are drawn, want %d: %+v", len(s.Beasts), len(haunts), s.Beasts)
	}
	for _, b := range s.Beasts {
		if b.Haunt != haunts[b.Animal] || b.Length < 1 || b.Length > 12 {
			t.Errorf("%+v", b)
		}
	}
	svg := string(s.SVG(draw.Wide, "v"))
	for _, want := range []string{"KH about 2.1", "could be 1.6 to 2.6", "GH about 5.6", "could be 5.1 to 6.1", "take out about 10 L, could be 9.4 to 10.6"} {
		if !strings.Contains(svg, ">"+want+"<") {
			t.Errorf("the wide drawing has no place for %q", want)
		}
	}
}

func TestSectionOfNothing(t *testing.T) {
	svg := string(draw.SectionOf(enclosure.Facts{}, plan.Sheet{}).SVG(draw.Wide, "v"))
	for _, want := range []string{"as far as it is known", "Length and height are not written yet", "The water level is not known", "No reading yet", "not written yet"} {
		if !strings.Contains(svg, want) {
			t.Errorf("a section of no facts does not say %q", want)
		}
	}
}

// TestSectionOfAnUnreadLevel: without a reading, or without a siphon, the level is assumed.
func TestSectionOfAnUnreadLevel(t *testing.T) {
	facts, sheet := visit()
	sheet.Siphon.NowRead = false
	if !draw.SectionOf(facts, sheet).Assumed {
		t.Error("a level that nobody read is told as read")
	}
	sheet.Siphon = nil
	if s := draw.SectionOf(facts, sheet); !s.Assumed || s.Water != 24 || s.Siphon != 0 || s.Take != "" {
		t.Errorf("a day without a siphon: %+v", s)
	}
}
