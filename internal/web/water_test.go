package web_test

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"

	"halfwater/internal/draw"
	"halfwater/internal/look"
	"halfwater/internal/report"
	"halfwater/internal/web"
)

func TestWaterSaysWhy(t *testing.T) {
	page := looked(t).get("/water").Body.String()
	has(t, page, "Between changes it ", "Evaporation", "worked out", "How it goes on", "L a day")
	lacks(t, page, "What does not fit</h2>\n<ol class=\"unfit\">\n</ol>")
}

// What does not fit is told with who may be to blame, the likeliest first, each with its odds in words.
func TestWaterNamesCulprits(t *testing.T) {
	rows := []report.WaterRow{{Key: "kh", Name: "KH", Word: "about", Number: "2.1", Unit: "°dKH", Could: "could be 1.6 to 2.6", Why: "Read today.", Band: draw.Band{Title: "KH", Hi: 8}}}
	paces := []report.WaterRow{{Key: "inhand", Name: "KH in hand", Number: "no end in sight", Could: "could be 5 weeks or more", Instead: "worked out", Band: draw.Band{Title: "KH in hand", Hi: 26}}}
	unfit := []report.ContradictionRow{{
		Name: "KH", Says: "These readings do not fit together: <KH> drops, 12 November: 9; KH drops, today: 3.",
		Culprits: []report.OddsRow{{Odds: look.OddsOf(.7), Says: "one reading: KH drops, 12 November: 9"}, {Odds: look.OddsOf(.2), Says: "the book: a change that was not written down"}, {Odds: look.OddsOf(.001), Says: "the water: it really moved"}},
		Doubts:   "One of them is suspect.", Checks: []string{"Test pure water (RO) with the same kit."},
	}}
	var b bytes.Buffer
	if err := web.WaterNow(&b, "To watch: KH.", rows, paces, unfit); err != nil {
		t.Fatal(err)
	}
	page := b.String()
	has(t, page, "What does not fit", "Who may be to blame", `<span class="odds">2 in 3<svg`, "fewer than 1 in 100", "One of them is suspect.", "What would tell", "<li>Test pure water (RO)", "&lt;KH&gt; drops", "no end in sight")
	sound(t, page)
	if dir := os.Getenv("STORYBOOK"); dir != "" {
		if err := os.WriteFile(filepath.Join(dir, "made-water.html"), b.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// A first look says that it is one; a book with enough readings for histories does not.
func TestWaterSaysWhenItIsAFirstLook(t *testing.T) {
	has(t, enclosure(t, sour, "").get("/water").Body.String(), "This is a first look")
	lacks(t, looked(t).get("/water").Body.String(), "This is a first look")
}
