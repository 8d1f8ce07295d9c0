package report_test

import (
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"os"
	"regexp"
	"strings"
	"sync"
	"testing"
	"time"

	"halfwater/book"
	"halfwater/demo"
	"halfwater/emergency"
	"halfwater/enclosure"
	"halfwater/husbandry"
	"halfwater/internal/files"
	"halfwater/internal/keeper"
	"halfwater/internal/report"
	"halfwater/internal/say"
	"halfwater/quantity"
	"halfwater/water"
)

var night = time.Date(2026, time.November, 22, 2, 50, 0, 0, time.UTC)

// answer is what the keeper's door gives of what is known.
type answer struct {
	now   emergency.Now
	sheet emergency.Sheet
	table emergency.Table
}

// answers are of many sorts: nothing known, the demo, a cut, a trap, nobody in the water. They are made
// once.
var answers = sync.OnceValue(func() map[string]answer {
	out := map[string]answer{}
	for name, n := range nows() {
		out[name] = answer{n, emergency.Write(n), emergency.HoursTable(n)}
	}
	return out
})

func nights() map[string]report.EmergencyView {
	out := map[string]report.EmergencyView{}
	for name, a := range answers() {
		out[name] = report.Emergency(a.sheet, a.table, report.EmergencyOptions{})
	}
	return out
}

func nows() map[string]emergency.Now {
	im, err := files.ReadEnclosure(strings.NewReader(string(demo.Enclosure)), files.Options{Now: demo.Clock()})
	if err != nil || im.Err() != nil {
		panic(fmt.Sprint(err, im.Err()))
	}
	facts := book.FactsAt(im.Lines, book.MainWater, demo.Clock(), demo.Clock())
	read := emergency.Read{
		Temp: husbandry.Known[quantity.Celsius](22), PH: husbandry.Known[quantity.PH](6.5), KH: husbandry.Known[quantity.Alkalinity](0.4),
		TAN: husbandry.Known[quantity.TotalAmmonia](2.8), NO2: husbandry.Known[quantity.Nitrite](0.5), Chloride: husbandry.Known[quantity.MgPerL](20),
	}
	partly := read
	partly.KH = husbandry.Maybe[quantity.Alkalinity]{}
	fish := enclosure.Facts{Stock: []enclosure.Batch{{Name: "fish", Species: "Oryzias latipes", Count: 20}, {Name: "strangers", Count: 2}}}
	dragons := enclosure.Facts{Stock: []enclosure.Batch{{Name: "dragons", Species: "Physignathus cocincinus", Count: 2, Mass: 400}}}
	odd := enclosure.Facts{Sources: []enclosure.SourceWater{{Name: "well", Analysis: water.Analysis{GH: water.Stated[quantity.Hardness](-3)}}}}
	return map[string]emergency.Now{
		"nothing":  {At: night},
		"cut":      {At: night, OffSince: night.Add(-3 * time.Hour), Facts: facts, Read: emergency.Read{Temp: read.Temp}},
		"trap":     {At: night, Facts: facts, Read: read},
		"partly":   {At: night, Facts: facts, Read: partly},
		"fish":     {At: night, OffSince: night.Add(-time.Minute), Facts: fish, Read: read},
		"dragons":  {At: night, Facts: dragons},
		"odd":      {At: night, Facts: odd, Read: emergency.Read{Temp: husbandry.Known[quantity.Celsius](900)}},
		"hot room": {At: night, Facts: facts, Room: husbandry.Known[quantity.Celsius](38), Read: emergency.Read{Temp: read.Temp}},
	}
}

func text(t testing.TB, v report.EmergencyView) string {
	t.Helper()
	var b strings.Builder
	if err := report.EmergencyText(&b, v); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func file(t testing.TB, v report.EmergencyView) string {
	t.Helper()
	var b strings.Builder
	if err := report.EmergencyFile(&b, v, ""); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// never are words that stand on no sheet: we give no medicine, name no amount of one, and promise
// nothing.
var never = regexp.MustCompile(`(?i)dose|dosing|drug|safe|antibiotic|perfect|oops|%!|NaN|\[emergency|ZgotmplZ|<nil>|\bInf\b`)

func TestWordsThatMustNotBeThere(t *testing.T) {
	for name, v := range nights() {
		for kind, sheet := range map[string]string{"text": text(t, v), "file": withoutStyle(file(t, v))} {
			if at := never.FindStringIndex(sheet); at != nil {
				t.Errorf("%s, %s: %q", name, kind, sheet[max(0, at[0]-60):min(len(sheet), at[1]+40)])
			}
		}
	}
	n := 0
	for _, code := range say.Codes() {
		if strings.HasPrefix(code, "emergency.") {
			n++
		}
	}
	if n < 100 {
		t.Errorf("only %d sentences", n)
	}
	// and in the catalogue itself, whatever facts come
	raw, err := os.ReadFile("../say/catalogue/emergency.txt")
	if err != nil {
		t.Fatal(err)
	}
	if bad := regexp.MustCompile(`(?i)dose|drug|safe`).Find(raw); bad != nil {
		t.Errorf("the catalogue has %q", bad)
	}
}

func withoutStyle(page string) string {
	return regexp.MustCompile(`(?s)<style>.*?</style>`).ReplaceAllString(page, "")
}

// Every act has a sentence, and every first act says what it rests on.
func TestEveryActHasItsSentence(t *testing.T) {
	for name, v := range nights() {
		if len(v.Signs) != 6 {
			t.Errorf("%s: %d signs", name, len(v.Signs))
		}
		for _, s := range v.Signs {
			if s.First.Text == "" || s.First.Rests == "" || len(s.Acts) < 4 || s.Name == "" {
				t.Errorf("%s: %+v", name, s)
			}
			if n := len([]rune(s.First.Text)); n > 24 { // one line of 24 px at 360 px
				t.Errorf("%s: the first act of %s has %d letters", name, s.Key, n)
			}
		}
	}
}

// Safety comes before arithmetic: the warning and the cautions stand before the first number of hours.
func TestWarningBeforeNumbers(t *testing.T) {
	for name, v := range nights() {
		sheet := text(t, v)
		warning, sign, cautions, numbers := strings.Index(sheet, v.Warning.Text), strings.Index(sheet, v.Signs[0].Name), strings.Index(sheet, "carbon monoxide"), strings.Index(sheet, "Hour by hour")
		if !(0 < warning && warning < sign && sign < cautions && cautions < numbers) {
			t.Errorf("%s: order %d %d %d %d", name, warning, sign, cautions, numbers)
		}
	}
}

// The file stands alone: no script, nothing from elsewhere, no handler, and it closes what it opens.
func TestFileStandsAlone(t *testing.T) {
	for name, v := range nights() {
		page := file(t, v)
		if bad := regexp.MustCompile(`(?i)<script|\son[a-z]+=|javascript:|https?://|url\(|@import|<link|<img|<iframe|src=`).FindString(page); bad != "" {
			t.Errorf("%s has %q", name, bad)
		}
		for _, want := range []string{`<html lang="en-GB">`, `name="viewport"`, "<style>", v.Hours.Made, `id="main"`} {
			if !strings.Contains(page, want) {
				t.Errorf("%s: no %s", name, want)
			}
		}
		if len(page) > 200_000 {
			t.Errorf("%s: %d bytes", name, len(page))
		}
		closes(t, page)
	}
}

func closes(t *testing.T, page string) {
	t.Helper()
	page = regexp.MustCompile(`<(meta|link|input)([^>]*)>`).ReplaceAllString(withoutStyle(page), "<$1$2/>")
	page = regexp.MustCompile(`\s(open|selected)>`).ReplaceAllString(page, ">")
	dec := xml.NewDecoder(strings.NewReader(strings.Replace(page, "<!doctype html>", "", 1)))
	for {
		_, err := dec.Token()
		if errors.Is(err, io.EOF) {
			return
		}
		if err != nil {
			t.Fatalf("%v in\n%s", err, page)
		}
	}
}

// The live screen holds to the policy of the pages: no style of its own; a form that reads, a link
// that keeps the file, the fault beside its field.
func TestLiveScreen(t *testing.T) {
	v := nights()["cut"]
	screen, err := report.EmergencyScreen(report.EmergencyPage{
		EmergencyView: v, File: "/emergency.html",
		Form: &report.AskForm{Action: "/emergency", Fields: []report.AskField{
			{Name: "off", Label: "Power off since", Value: `02:10"><b>`, Mode: "text"},
			{Name: "temp", Label: "Water", Unit: "°C", Value: "hot", Fault: "Write a number.", Mode: "decimal"},
		}},
	})
	if err != nil {
		t.Fatal(err)
	}
	page := string(screen)
	if bad := regexp.MustCompile(`(?i)<script|<style|\sstyle=|\son[a-z]+=|<b>"|02:10"><b>`).FindString(page); bad != "" {
		t.Errorf("it has %q", bad)
	}
	for _, want := range []string{
		`href="/emergency.html" download="emergency-2026-11-22.html"`, `method="get"`, `id="fault-temp"`, `aria-describedby="fault-temp"`,
		`<label for="ask-temp">`, "Count on ",
	} {
		if !strings.Contains(page, want) {
			t.Errorf("no %s", want)
		}
	}
	closes(t, "<html>"+page+"</html>")
}

// A newer file is offered when the one on the phone is over a week old.
func TestNewerFileIsOffered(t *testing.T) {
	a := answers()["cut"]
	for days, offered := range map[int]bool{1: false, 6: false, 8: true, 100: true} {
		v := report.Emergency(a.sheet, a.table, report.EmergencyOptions{Kept: night.AddDate(0, 0, -days)})
		if (v.Keep.Newer != "") != offered {
			t.Errorf("%d days old: %q", days, v.Keep.Newer)
		}
	}
}

// Hours are never told longer than they are.
func TestHoursAreRoundedDown(t *testing.T) {
	for name, v := range nights() {
		for _, r := range v.Hours.Rows {
			for _, c := range r.Cells {
				if c.CountOn == "" || c.Could == "" || c.Start == "" {
					t.Errorf("%s: %+v", name, c)
				}
			}
		}
	}
	v := nights()["cut"]
	s := answers()["cut"].sheet
	if s.Power.First > s.Power.Oxygen.Lasts.Low {
		t.Errorf("%v of %v", s.Power.First, s.Power.Oxygen.Lasts.Low)
	}
	if got := v.Signs[4].Number; !strings.HasPrefix(got, "Count on ") {
		t.Errorf("the first screen says %q", got)
	}
}

func TestVetNumber(t *testing.T) {
	a := answers()["nothing"]
	for number, href := range map[string]string{"0123 456-789": "tel:0123456789", "+49 (30) 12": "tel:+493012", "": "", "ask Anna": ""} {
		v := report.Emergency(a.sheet, a.table, report.EmergencyOptions{Vet: number})
		if v.Vet.Href != href {
			t.Errorf("%q leads to %q", number, v.Vet.Href)
		}
		if href != "" && !strings.Contains(file(t, v), fmt.Sprintf("href=%q", strings.ReplaceAll(href, "+", "&#43;"))) && !strings.Contains(file(t, v), fmt.Sprintf("href=%q", href)) {
			t.Errorf("the file does not ring %s", href)
		}
	}
}

// JSON: units stand in the names, and no code lacks its sentence where it says one.
func TestEmergencyJSON(t *testing.T) {
	for name, a := range answers() {
		var b strings.Builder
		if err := report.JSON(&b, keeper.Emergency{Sheet: a.sheet, Table: a.table}); err != nil {
			t.Fatal(err)
		}
		if at := strings.Index(b.String(), `"says": "[`); at >= 0 {
			t.Errorf("%s: %s", name, b.String()[max(0, at-120):at+80])
		}
		for _, want := range []string{`"count_on_h"`, `"lasts_h"`, `"demand_mg_h"`, `"temp_c"`} {
			if !strings.Contains(b.String(), want) {
				t.Errorf("%s: no %s", name, want)
			}
		}
	}
}

func ExampleTimelineText() {
	at := time.Date(2026, time.November, 22, 2, 10, 0, 0, time.UTC)
	line := func(minutes int, b book.Body) book.Line {
		return book.Line{At: at.Add(time.Duration(minutes) * time.Minute), By: book.Keeper, Body: b}
	}
	_ = report.TimelineText(os.Stdout, []keeper.Moment{
		{Line: line(0, book.Incident{Sign: "power", What: "power off", Note: "whole street"}), Late: 2 * time.Hour},
		{Line: line(15, book.Incident{Sign: "power", What: "battery air in"})},
		{Line: line(110, book.Reading{Of: quantity.OfWaterTemp, Shown: "20.5", Unit: "Cel"})},
		{Line: line(125, book.SwitchedOn{OffSince: at})},
	}, at, at.Add(3*time.Hour))
	// Output:
	// Sunday 22 November 2026
	// 02:10 power: power off (whole street), written down 2 hours later
	// 02:25 power: battery air in
	// 04:00 water temperature: 20.5 Cel
	// 04:15 switched on: off since Sunday 22 November, 02:10
}
