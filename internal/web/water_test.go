package web_test

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

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

// leafless is a nitrate card whose leaflet is lost, with a reading from before the box stood.
const leafless = `from = 2026-10-01
[about]
name = "Leafless"
[basin]
length_cm = 60
width_cm = 40
height_cm = 40
full_mark_cm = 30
[[source_water]]
name = "tap"
gh_dgh = 8
kh_dkh = 6
no3_mg_l = 10
basis = "as NO3"
[[kit]]
name = "nitrate card"
of = "no3"
form = "card"
unit = "mg/L"
basis = "not stated"
steps = [0, 5, 10, 25, 50, 100]
`

const leaflessBook = `at,kind,kit,shown,of,unit
2026-09-02 09:00,reading,,6,kh,dKH
2026-10-20 09:00,reading,nitrate card,25,,
2026-10-20 09:00,reading,,6,kh,dKH
2026-11-02 09:00,reading,nitrate card,25,,
2026-11-02 09:00,reading,,6,kh,dKH
2026-11-16 09:00,reading,nitrate card,25,,
2026-11-16 09:00,reading,,6,kh,dKH
`

// What the numbers of a kit count is told with odds beside the quantity, and dates that cannot be are named.
func TestWaterSaysWhatIsOpenAndWhatIsOdd(t *testing.T) {
	page := enclosure(t, leafless, leaflessBook).get("/water").Body.String()
	has(t, page, "Nobody said what the mg/L of nitrate card count. By the rest of the book: as N", "State the basis in the kit&#39;s line",
		"What is odd about dates", "A reading of 2 September is from before the box stood")
	sound(t, page)
	lacks(t, looked(t).get("/water").Body.String(), "Nobody said what", "What is odd about dates")
}

// One high reading of ammonia among weeks of none is believed until it is read again, though feed and filter make it
// unlikely: the page tells it as what to act on.
func TestAHighAmmoniaIsBelieved(t *testing.T) {
	low := strings.Builder{}
	low.WriteString("at,kind,kit,shown,of,unit\n")
	for day := range 8 {
		at := time.Date(2026, 9, 27+7*day, 9, 0, 0, 0, time.UTC).Format("2006-01-02 15:04")
		low.WriteString(at + ",reading,ammonia card,0,,\n" + at + ",reading,pH pen,7.8,,\n" + at + ",reading,KH drops,12,,\n" + at + ",reading,,25.0,water temp,C\n")
	}
	facts := strings.Replace(sour, "from = 2026-05-24", "from = 2026-05-24\n# the same box, with water that has not run out of alkalinity", 1)
	calm := enclosure(t, facts, low.String()).get("/water").Body.String()
	has(t, calm, "carry on")
	lacks(t, calm, "Act now:", "This is a first look")
	high := enclosure(t, facts, low.String()+"2026-11-22 09:00,reading,ammonia card,4,,\n").get("/water").Body.String()
	has(t, high, "Act now:", "Free ammonia")
}
