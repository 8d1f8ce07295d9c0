package draw_test

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"halfwater/husbandry"
	"halfwater/internal/draw"
	"halfwater/internal/look"
)

var update = flag.Bool("update", false, "write the golden drawings anew")

var forms = map[string]draw.Form{"wide": draw.Wide, "narrow": draw.Narrow}

// TestGolden holds every drawing, letter for letter; read a change as a keeper would.
func TestGolden(t *testing.T) {
	for _, s := range stories() {
		for form, f := range forms {
			path := filepath.Join("testdata", s.name+"-"+form+".svg")
			got := string(s.drawing.SVG(f, "g"))
			if *update {
				write(t, path, got+"\n")
			}
			want, err := os.ReadFile(path)
			if err != nil {
				t.Fatalf("%v: run go test ./internal/draw -update, then look at it", err)
			}
			if got+"\n" != string(want) {
				t.Errorf("%s is drawn otherwise than %s: run with -update and look at it", s.name, path)
			}
		}
	}
}

// TestOverlapGolden reads the golden files themselves: no text outside, on another, or too small.
func TestOverlapGolden(t *testing.T) {
	files, err := filepath.Glob("testdata/*.svg")
	if err != nil || len(files) < 2*len(stories()) {
		t.Fatalf("%d golden drawings, want %d: %v", len(files), 2*len(stories()), err)
	}
	for _, path := range files {
		text, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range faults(string(text), "g") {
			t.Errorf("%s: %s", path, f)
		}
	}
}

// TestFaultsAreFound holds that the reader of drawings is not blind.
func TestFaultsAreFound(t *testing.T) {
	const open = `<svg viewBox="0 0 100 40" width="100" height="40" role="img">`
	text := func(x, y, size int, say string) string {
		return fmt.Sprintf(`<text x="%d" y="%d" font-size="%d" text-anchor="start">%s</text>`, x, y, size, say)
	}
	for want, svg := range map[string]string{
		"leaves the drawing": open + text(60, 20, 14, "too long a text") + "</svg>",
		"lies on":            open + text(4, 20, 14, "one") + text(10, 24, 14, "two") + "</svg>",
		"text of 12 px":      open + text(4, 20, 12, "small") + "</svg>",
		"is \"NaN\"":         open + `<rect x="NaN"/></svg>`,
		"has style":          open + `<rect style="fill:red"/></svg>`,
		"has a script":       open + `<script/></svg>`,
		"not there":          open + `<rect fill="url(#x)"/></svg>`,
		"not well formed":    open + `<rect></svg>`,
		"neither":            `<svg viewBox="0 0 9 9" width="9" height="9"></svg>`,
		"scaled":             `<svg viewBox="0 0 9 9" width="18" height="9" role="img"></svg>`,
	} {
		if got := strings.Join(faults(svg, ""), "; "); !strings.Contains(got, want) {
			t.Errorf("%s: found %q", want, got)
		}
	}
}

// TestBroken draws what nobody should send: nothing panics, nothing is written as NaN, and every
// rule of a drawing still holds.
func TestBroken(t *testing.T) {
	for name, d := range broken() {
		for form, f := range forms {
			for _, x := range faults(string(d.SVG(f, "b")), "b") {
				t.Errorf("%s, %s: %s", name, form, x)
			}
		}
	}
}

// TestEscaped holds that no fact can write markup.
func TestEscaped(t *testing.T) {
	svg := string(broken()["wild words"].SVG(draw.Wide, "w"))
	for _, bad := range []string{"<script", "<b>", "\x00", "\x1b"} {
		if strings.Contains(svg, bad) {
			t.Errorf("the drawing contains %q", bad)
		}
	}
	if !strings.Contains(svg, "&lt;script&gt;alert(1)&lt;/script&gt; &amp; &#34;Bank&#34; from the side") {
		t.Error("the name is not told as it was written")
	}
}

// TestIdent holds that a careless prefix still makes ids that can be referred to.
func TestIdent(t *testing.T) {
	for _, id := range []string{"", "7", `a"b`, "a b", "é"} {
		if f := faults(string(riverbank().SVG(draw.Wide, id)), ""); len(f) > 0 {
			t.Errorf("prefix %q: %v", id, f)
		}
	}
}

// TestSectionSays holds what a reader that speaks is told.
func TestSectionSays(t *testing.T) {
	svg := string(riverbank().SVG(draw.Wide, "s"))
	for _, want := range []string{
		"Riverbank from the side, to scale",
		"Water now at 23.6 cm, the shore 64 cm from the left.",
		"Siphon today to 20.8 cm, 10 L, could be 9.4 to 10.6.",
		"Pump intake at 14.0 cm.",
		"KH about 2.1, could be 1.6 to 2.6: watch.",
		"All other readings: carry on.",
	} {
		if !strings.Contains(svg, want) {
			t.Errorf("the section does not say %q", want)
		}
	}
	for _, r := range riverbank().Readings {
		if !strings.Contains(svg, ">"+r.Value+"<") {
			t.Errorf("the wide drawing has no place for %q", r.Value)
		}
	}
	if s := string(unmeasured().SVG(draw.Narrow, "s")); !strings.Contains(s, "never measured") || !strings.Contains(s, "stroke-dasharray") || !strings.Contains(s, "not written yet") {
		t.Error("a guessed shape does not say that it is one")
	}
}

// TestUnreadLevel: a level that nobody read is not told as one that was.
func TestUnreadLevel(t *testing.T) {
	svg := string(unread().SVG(draw.Wide, "s"))
	if !strings.Contains(svg, ">assumed<") || !strings.Contains(svg, "Nobody read the level") || strings.Contains(svg, ">now<") {
		t.Error("an assumed level is drawn as if it had been read")
	}
}

// TestTiers: the tiers of husbandry and the marks are the same three in the same order, so that one
// may be turned into the other.
func TestTiers(t *testing.T) {
	for i, tier := range []husbandry.Tier{husbandry.CarryOn, husbandry.Watch, husbandry.ActNow} {
		if m := look.Mark(tier); m != look.Marks()[i] || m.Word() != tier.String() {
			t.Errorf("%v is marked %q", tier, m.Word())
		}
	}
}

// TestLitresAreNotSupplied: with no words for the slice, the drawing has none of its own.
func TestLitresAreNotSupplied(t *testing.T) {
	s := riverbank()
	s.Take, s.TakeCould, s.Held = "", "", ""
	if svg := string(s.SVG(draw.Wide, "s")); strings.Contains(svg, " L<") || strings.Contains(svg, " L.") || strings.Contains(svg, " L,") {
		t.Error("the drawing supplied litres")
	}
}

// TestRandom draws random facts, sane and otherwise, and reads the result.
func TestRandom(t *testing.T) {
	for name, gen := range map[string]*rapid.Generator[draw.Drawing]{
		"section": rapid.Custom(func(t *rapid.T) draw.Drawing { return anySection(t) }),
		"staff": rapid.Custom(func(t *rapid.T) draw.Drawing {
			h := rapid.OneOf(rapid.Float64Range(0, 60), rapid.Float64())
			return draw.Staff{Now: h.Draw(t, "now"), To: h.Draw(t, "to"), Intake: h.Draw(t, "intake")}
		}),
		"fan":     rapid.Custom(func(t *rapid.T) draw.Drawing { return anyFan(t) }),
		"band":    rapid.Custom(func(t *rapid.T) draw.Drawing { return anyBand(t) }),
		"vessels": rapid.Custom(func(t *rapid.T) draw.Drawing { return anyVessels(t) }),
	} {
		t.Run(name, rapid.MakeCheck(func(t *rapid.T) {
			d := gen.Draw(t, "drawing")
			for form, f := range forms {
				svg := string(d.SVG(f, "r"))
				if x := faults(svg, "r"); len(x) > 0 {
					t.Fatalf("%s: %s\n%s", form, strings.Join(x, "\n"), svg)
				}
			}
		}))
	}
}

func anySection(t *rapid.T) draw.Section {
	cm := rapid.OneOf(rapid.Float64Range(5, 250), rapid.Float64Range(-5, 800))
	wide := rapid.OneOf(rapid.Float64Range(20, 200), cm)
	s := draw.Section{
		Name: rapid.String().Draw(t, "name"), Length: wide.Draw(t, "length"), Height: wide.Draw(t, "height"), Depth: cm.Draw(t, "depth"),
		LandShare: rapid.Float64Range(-.2, 1.2).Draw(t, "land"),
		Take:      rapid.SampledFrom([]string{"", "10 L", "about 123.5 L"}).Draw(t, "take"), TakeCould: "9 to 11",
		Held: rapid.SampledFrom([]string{"", "about 53 L"}).Draw(t, "held"), HeldCould: rapid.SampledFrom([]string{"", "42 to 64"}).Draw(t, "held could"),
		Missing: rapid.SliceOfN(rapid.SampledFrom([]string{"lamp", "filter", "land"}), 0, 3).Draw(t, "missing"),
	}
	in := func(top float64) *rapid.Generator[float64] { return rapid.Float64Range(-1, max(top*1.05, 0)) }
	x, z := in(s.Length), in(s.Height)
	point := rapid.Custom(func(t *rapid.T) draw.Point { return draw.Point{x.Draw(t, "x"), z.Draw(t, "z")} })
	s.Water, s.Full, s.Siphon, s.Intake = z.Draw(t, "water"), z.Draw(t, "full"), z.Draw(t, "siphon"), z.Draw(t, "intake")
	s.Profile = rapid.SliceOfN(point, 0, 9).Draw(t, "profile")
	s.Fittings = rapid.SliceOfN(rapid.Custom(func(t *rapid.T) draw.Fitting {
		a, b := point.Draw(t, "a"), point.Draw(t, "b")
		return draw.Fitting{Kind: draw.FittingKind(rapid.IntRange(0, 5).Draw(t, "kind")), X0: min(a.X, b.X), Z0: min(a.Z, b.Z), X1: max(a.X, b.X), Z1: max(a.Z, b.Z), Stages: rapid.IntRange(-1, 12).Draw(t, "stages"), Label: "lamp"}
	}), 0, 3).Draw(t, "fittings")
	s.Branches = rapid.SliceOfN(rapid.Custom(func(t *rapid.T) draw.Branch {
		return draw.Branch{Line: rapid.SliceOfN(point, 0, 4).Draw(t, "line"), Thick: rapid.Float64Range(-1, 8).Draw(t, "thick")}
	}), 0, 2).Draw(t, "branches")
	s.Plants = rapid.SliceOfN(rapid.Custom(func(t *rapid.T) draw.Plant { return draw.Plant{x.Draw(t, "x"), z.Draw(t, "h")} }), 0, 3).Draw(t, "plants")
	stretch := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) draw.Stretch { return draw.Stretch{x.Draw(t, "from"), x.Draw(t, "to")} }), 0, 2)
	s.Stones, s.Moss = stretch.Draw(t, "stones"), stretch.Draw(t, "moss")
	s.Beasts = rapid.SliceOfN(rapid.Custom(func(t *rapid.T) draw.Beast {
		return draw.Beast{Animal: draw.Animal(rapid.IntRange(0, 7).Draw(t, "animal")), Length: rapid.Float64Range(0, 40).Draw(t, "length"), Count: rapid.IntRange(-1, 20).Draw(t, "count"), Haunt: draw.Haunt(rapid.IntRange(0, 3).Draw(t, "haunt"))}
	}), 0, 4).Draw(t, "beasts")
	s.Readings = rapid.SliceOfN(rapid.Custom(func(t *rapid.T) draw.Reading {
		p := point.Draw(t, "at")
		return draw.Reading{
			X: p.X, Z: p.Z, Value: rapid.SampledFrom([]string{"26 °C", "KH about 2.1", "nitrate about 22 mg/L as NO3", "W"}).Draw(t, "value"),
			Could: rapid.SampledFrom([]string{"", "could be 1.6 to 2.6"}).Draw(t, "could"), Mark: look.Mark(rapid.IntRange(0, 2).Draw(t, "mark")), InWater: rapid.Bool().Draw(t, "in water"),
		}
	}), 0, 9).Draw(t, "readings")
	return s
}

func anyBand(t *rapid.T) draw.Band {
	v := rapid.OneOf(rapid.Float64Range(0, 10), rapid.Float64Range(-1e6, 1e6), rapid.Float64())
	b := draw.Band{Title: rapid.String().Draw(t, "title"), Lo: v.Draw(t, "lo"), Hi: v.Draw(t, "hi"), Say: rapid.String().Draw(t, "say")}
	b.Limits = rapid.SliceOfN(rapid.Custom(func(t *rapid.T) draw.Limit {
		return draw.Limit{v.Draw(t, "at"), look.Mark(rapid.IntRange(0, 2).Draw(t, "mark")), rapid.Bool().Draw(t, "above")}
	}), 0, 6).Draw(t, "limits")
	if rapid.Bool().Draw(t, "believed") {
		b.Belief = &draw.Belief{v.Draw(t, "10"), v.Draw(t, "25"), v.Draw(t, "75"), v.Draw(t, "90")}
	}
	if rapid.Bool().Draw(t, "shown") {
		b.Shown = &draw.Span{v.Draw(t, "from"), v.Draw(t, "to")}
	}
	return b
}

func anyFan(t *rapid.T) draw.Fan {
	b := anyBand(t)
	v := rapid.OneOf(rapid.Float64Range(0, 10), rapid.Float64Range(-1e6, 1e6), rapid.Float64())
	day := rapid.Float64Range(-40, 100)
	f := draw.Fan{Title: b.Title, Lo: b.Lo, Hi: b.Hi, Limits: b.Limits, From: day.Draw(t, "from"), To: day.Draw(t, "to"), End: rapid.SampledFrom([]string{"", "about 1.0", "about 1234567"}).Draw(t, "end")}
	f.Ahead = rapid.SliceOfN(rapid.Custom(func(t *rapid.T) draw.Ahead {
		q := rapid.SliceOfN(v, 5, 5).Draw(t, "quantiles")
		slices.Sort(q)
		return draw.Ahead{Day: day.Draw(t, "day"), P10: q[0], P25: q[1], P50: q[2], P75: q[3], P90: q[4]}
	}), 0, 6).Draw(t, "ahead")
	f.Past = rapid.SliceOfN(rapid.Custom(func(t *rapid.T) draw.Past {
		return draw.Past{day.Draw(t, "day"), draw.Span{v.Draw(t, "lo"), v.Draw(t, "hi")}}
	}), 0, 4).Draw(t, "past")
	f.Dates = rapid.SliceOfN(rapid.Custom(func(t *rapid.T) draw.Date { return draw.Date{day.Draw(t, "day"), rapid.String().Draw(t, "say")} }), 0, 5).Draw(t, "dates")
	return f
}

func anyVessels(t *rapid.T) draw.Vessels {
	l := rapid.OneOf(rapid.Float64Range(0, 20), rapid.Float64())
	return rapid.SliceOfN(rapid.Custom(func(t *rapid.T) draw.Vessel {
		return draw.Vessel{Name: rapid.String().Draw(t, "name"), Brim: l.Draw(t, "brim"), Parts: rapid.SliceOfN(rapid.Custom(func(t *rapid.T) draw.Part {
			return draw.Part{Water: rapid.String().Draw(t, "water"), Litres: l.Draw(t, "litres"), Hard: rapid.Bool().Draw(t, "hard")}
		}), 0, 5).Draw(t, "parts")}
	}), 0, 5).Draw(t, "vessels")
}

func BenchmarkSection(b *testing.B) {
	s := riverbank()
	for name, f := range forms {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				s.SVG(f, "b")
			}
		})
	}
}

func BenchmarkBand(b *testing.B) {
	d := nitrate()
	b.ReportAllocs()
	for b.Loop() {
		d.SVG(draw.Wide, "b")
	}
}

func BenchmarkStaff(b *testing.B) {
	d := staff()
	b.ReportAllocs()
	for b.Loop() {
		d.SVG(draw.Wide, "b")
	}
}

func BenchmarkVessels(b *testing.B) {
	d := buckets()
	b.ReportAllocs()
	for b.Loop() {
		d.SVG(draw.Wide, "b")
	}
}

func BenchmarkFan(b *testing.B) {
	d := fan()
	b.ReportAllocs()
	for b.Loop() {
		d.SVG(draw.Wide, "b")
	}
}
