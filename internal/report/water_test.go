package report

import (
	"bytes"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"halfwater/book"
	"halfwater/enclosure"
	"halfwater/infer"
	"halfwater/infer/blame"
	"halfwater/internal/draw"
	"halfwater/internal/say"
	"halfwater/plan"
	"halfwater/quantity"
)

// reckoned is a belief made by hand, in which everything that may be left open is said.
func reckoned() infer.Belief {
	b := infer.Belief{Water: book.MainWater, At: sundayMorning, Evidence: map[quantity.Measurand]infer.Evidence{
		quantity.OfKH: {Readings: []book.ID{"kh"}, Last: sundayMorning.AddDate(0, 0, -3), ByReadings: .64},
	}}
	for i := range 101 {
		x := float64(i) / 100
		d := infer.Draw{
			Held: quantity.HeldLitres(50 + 4*x), KH: quantity.Alkalinity(1.6 + x), KHFall: quantity.Alkalinity(.2 + .3*x), Evaporation: quantity.LitresPerDay(.3 + .1*x),
			Leak: quantity.LitresPerDay(.02 * x), Reserve: 2 + 4*x, KHInHand: 4 + 8*x,
			GH: quantity.Hardness(math.NaN()), EC: quantity.Conductivity(math.NaN()), Chloride: quantity.MgPerL(math.NaN()), NO3: quantity.Nitrate(math.NaN()),
			TAN: quantity.TotalAmmonia(math.NaN()), NO2: quantity.Nitrite(math.NaN()), PH: quantity.PH(math.NaN()), Temp: quantity.Celsius(math.NaN()),
		}
		if i > 70 {
			d.KHInHand = math.Inf(1)
		}
		b.Draws = append(b.Draws, d)
	}
	b.Contradictions = []blame.Contradiction{{
		Of: quantity.OfKH, Lines: []book.ID{"kh2", "kh"},
		Culprits: []blame.Culprit{{Code: "infer.culprit-reading", Name: "kh2", Odds: .7}, {Code: "infer.culprit-log", Name: "change", Odds: .2}, {Code: "infer.culprit-water", Name: "poured", Odds: .1}},
		Suspect:  []book.ID{"kh2"}, Checks: []string{"infer.check-again"},
	}}
	return b
}

func reckonedLines() []book.Line {
	at := sundayMorning.AddDate(0, 0, -3)
	kh := func(id book.ID, at time.Time, shown string) book.Line {
		return book.Line{ID: id, At: at, Recorded: at, Water: book.MainWater, By: book.Keeper, Body: book.Reading{Of: quantity.OfKH, Kit: "KH drops", Shown: shown}}
	}
	return []book.Line{
		{ID: "poured", At: at.AddDate(0, 0, -20), Water: book.MainWater, Body: book.Change{}},
		kh("kh2", at.AddDate(0, 0, -7), "9"), kh("kh", at, "3"),
	}
}

func TestWaterNowInWords(t *testing.T) {
	b := reckoned()
	n := Water("Riverbank", b, reckonedLines())
	if len(n.Quantities) != 1 {
		t.Fatalf("%d quantities", len(n.Quantities))
	}
	want := "Read Thursday 19 November. About two thirds of what is known comes from its own readings, the rest from the balance and the other readings. " +
		"Between changes it falls by about 0.35 °dKH a week, could be 0.23 to 0.47."
	if got := n.Quantities[0].Why; got != want {
		t.Errorf("why %q, want %q", got, want)
	}
	var out bytes.Buffer
	if err := WaterText(&out, n, nil); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{
		`evaporation +about 0\.35 L a day +could be 0\.31 to 0\.39`,
		`filter reserve +about 4\.0 times the load +could be 2\.5 to 5\.5`,
		`KH in hand +about 8 weeks +could be 5 or more`,
		`KH\. These readings do not fit together, or not with the rest of the book: KH drops, 12 November: 9; KH drops, Thursday 19 November: 3\.`,
		`2 in 3: one reading: KH drops, 12 November: 9\.`,
		`1 in 5: the book: a change that was not written down`,
		`1 in 10: the water: it really moved, after change, 30 October`,
		`One of them is suspect, more likely wrong than right: KH drops, 12 November: 9\.`,
		`- Draw a fresh sample and test again`,
	} {
		if !regexp.MustCompile(want).MatchString(out.String()) {
			t.Errorf("the text has no %s:\n%s", want, out.String())
		}
	}
}

// What is not reckoned is left out, on the page, in the text and for another program.
func TestWhatIsNotReckonedIsNotSaid(t *testing.T) {
	b := reckoned()
	b.Contradictions = nil
	for i := range b.Draws {
		b.Draws[i].Reserve, b.Draws[i].KHInHand, b.Draws[i].Held = math.NaN(), math.NaN(), quantity.HeldLitres(math.NaN())
	}
	e := b.Evidence[quantity.OfKH]
	e.ByReadings = math.NaN()
	b.Evidence[quantity.OfKH] = e
	n := Water("Riverbank", b, nil)
	if rows := PaceRows(n, b); len(rows) != 0 {
		t.Errorf("rows %+v", rows)
	}
	if n.FilterReserve != nil || n.KHInHandWeeks != nil || n.EvaporationLPerDay != nil || strings.Contains(n.Quantities[0].Why, "comes from its own") {
		t.Errorf("%+v", n)
	}
	var out bytes.Buffer
	if err := JSON(&out, n); err != nil {
		t.Fatal(err)
	}
	for _, word := range []string{"by_readings", "filter_reserve", "kh_in_hand", "evaporation"} {
		if strings.Contains(out.String(), word) {
			t.Errorf("the JSON says %s", word)
		}
	}
}

// For another program: names with their units, an open end left out, each code with its sentence.
func TestWaterNowAsJSON(t *testing.T) {
	var out bytes.Buffer
	if err := JSON(&out, Water("Riverbank", reckoned(), reckonedLines())); err != nil {
		t.Fatal(err)
	}
	var got struct {
		Quantities []struct {
			ByReadings float64 `json:"by_readings"`
		}
		Evaporation    map[string]float64 `json:"evaporation_l_per_day"`
		FilterReserve  map[string]float64 `json:"filter_reserve"`
		KHInHandWeeks  map[string]float64 `json:"kh_in_hand_weeks"`
		Contradictions []struct {
			Of, Says string
			Culprits []struct {
				Code, Says string
				Odds       float64
			}
		}
	}
	if err := json.Unmarshal(out.Bytes(), &got); err != nil {
		t.Fatal(err)
	}
	if got.Quantities[0].ByReadings != .64 || got.Evaporation["median"] != .35 || got.FilterReserve["hi"] != 5.6 {
		t.Errorf("%+v", got)
	}
	if _, open := got.KHInHandWeeks["hi"]; open || got.KHInHandWeeks["lo"] != 4.8 {
		t.Errorf("KH in hand %v", got.KHInHandWeeks)
	}
	c := got.Contradictions[0]
	if c.Of != "kh" || c.Culprits[0].Odds != .7 || !strings.HasPrefix(c.Culprits[0].Says, "one reading: KH drops") {
		t.Errorf("contradiction %+v", c)
	}
}

func TestPaceRows(t *testing.T) {
	b := reckoned()
	rows := PaceRows(Water("", b, nil), b)
	if len(rows) != 4 {
		t.Fatalf("%d rows", len(rows))
	}
	if r := rows[3]; r.Name != "KH in hand" || r.Number != "8" || r.Could != "could be 5 or more" || r.Instead != "worked out" || r.Band.Belief.P90 != 24 {
		t.Errorf("%+v", r)
	}
	for i := range b.Draws { // KH does not fall at all in most ways in which the water may be
		if i > 30 {
			b.Draws[i].KHInHand = math.Inf(1)
		}
	}
	rows = PaceRows(Water("", b, nil), b)
	if r := rows[3]; r.Number != "no end in sight" || r.Unit != "" || r.Could != "could be 5 weeks or more" {
		t.Errorf("%+v", r)
	}
	for _, r := range rows {
		for _, form := range []draw.Form{draw.Wide, draw.Narrow} {
			if svg := string(r.Band.SVG(form, r.Key)); strings.Contains(svg, "NaN") || !strings.Contains(svg, "worked out") || !strings.Contains(svg, `class="b50"`) {
				t.Errorf("%s: %s", r.Name, svg)
			}
		}
	}
}

// Every share of the readings has words, and more never sounds like less.
func TestWeightsInWords(t *testing.T) {
	order := []string{"say little", "a quarter", "a third", "half", "two thirds", "three quarters", "Nearly all"}
	at := 0
	for i := range 101 {
		s := say.Sentence("now.weights", weights(float64(i)/100))
		k := slices.IndexFunc(order, func(w string) bool { return strings.Contains(s, w) })
		if k < at {
			t.Errorf("%d of 100: %q after %q", i, s, order[at])
		}
		at = k
	}
	if at != len(order)-1 {
		t.Errorf("the whole says %q", order[at])
	}
}

// Every code that a belief may carry has its sentence, whatever the facts are.
func TestEveryCodeOfABeliefHasASentence(t *testing.T) {
	quoted := regexp.MustCompile(`"(infer\.[a-z0-9-]+)"`)
	files, err := filepath.Glob("../../infer/*.go")
	if err != nil || len(files) == 0 {
		t.Fatalf("no source files: %v", err)
	}
	n := 0
	for _, f := range files {
		text, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range quoted.FindAllStringSubmatch(string(text), -1) {
			if n++; !say.Has(m[1]) {
				t.Errorf("%s: no sentence for %s", filepath.Base(f), m[1])
			}
		}
	}
	if n < 3 {
		t.Errorf("only %d codes found", n)
	}
	for _, code := range []string{"chance", "reading", "decimal", "unit", "lot", "pen", "log", "water"} {
		for _, x := range []CulpritNow{{}, {Name: "10"}, {Name: "as NO3", What: "as NO3"}, {Name: "line", What: "KH drops, today: 3", Written: true}} {
			x.Code, x.Of = "infer.culprit-"+code, quantity.OfNO3
			if s := say.Sentence(x.Code, x); strings.HasPrefix(s, "[") {
				t.Errorf("%s with %+v says %s", code, x, s)
			}
		}
	}
}

// The rows of the page have one key each, so that no two drawings share a name.
func TestRowsHaveTheirOwnKeys(t *testing.T) {
	b := reckoned()
	for i := range b.Draws {
		b.Draws[i].TAN, b.Draws[i].PH, b.Draws[i].Temp = .01, 7, 22
	}
	rows := slices.Concat(WaterRows(b, enclosure.Facts{}, nil, plan.Sheet{}), PaceRows(Water("", b, nil), b))
	seen := map[string]bool{}
	for _, r := range rows {
		if r.Key == "" || seen[r.Key] {
			t.Errorf("%s has the key %q", r.Name, r.Key)
		}
		seen[r.Key] = true
	}
	if len(rows) != 9 {
		t.Errorf("%d rows", len(rows))
	}
}

// What alarms is told to a program as to a person.
func TestWaterNowTellsAnAlarm(t *testing.T) {
	b := reckoned()
	of := Water("Riverbank", b, nil).Quantities[0].Of
	for _, alarming := range []bool{false, true} {
		e := b.Evidence[of]
		e.Alarming = alarming
		b.Evidence[of] = e
		var out bytes.Buffer
		if err := JSON(&out, Water("Riverbank", b, nil)); err != nil {
			t.Fatal(err)
		}
		var got struct {
			Quantities []struct {
				Alarming bool
				Why      string
			}
		}
		if err := json.Unmarshal(out.Bytes(), &got); err != nil {
			t.Fatal(err)
		}
		q := got.Quantities[0]
		if q.Alarming != alarming || strings.Contains(q.Why, say.Sentence("now.alarming", nil)) != alarming {
			t.Errorf("alarming %v is told as %+v", alarming, q)
		}
	}
}

// A number on a basis has it beside its unit; KH in hand is not told where there is next to none.
func TestWaterNowForAnotherProgram(t *testing.T) {
	b := reckoned()
	for i := range b.Draws {
		b.Draws[i].NO3 = 5
	}
	b.Evidence[quantity.OfNO3] = infer.Evidence{Last: b.At, ByReadings: math.NaN()}
	var out bytes.Buffer
	if err := JSON(&out, Water("Riverbank", b, nil)); err != nil {
		t.Fatal(err)
	}
	if !regexp.MustCompile(`"of": "no3",\s+"unit": "mg/L",\s+"basis": "as N"`).Match(out.Bytes()) {
		t.Errorf("nitrate has no basis: %s", out.String())
	}
	for i := range b.Draws {
		b.Draws[i].KH *= 0.1
	}
	if kh, _ := b.Band(quantity.OfKH); kh.Median >= leastInHand {
		t.Fatalf("KH %g is not low", kh.Median)
	}
	if n := Water("Riverbank", b, nil); n.KHInHandWeeks != nil {
		t.Errorf("%+v weeks in hand", *n.KHInHandWeeks)
	}
}

func TestNothingRead(t *testing.T) {
	if nothingRead(reckoned()) {
		t.Error("what was read was not")
	}
	if !nothingRead(infer.Belief{Evidence: map[quantity.Measurand]infer.Evidence{quantity.OfKH: {}}}) {
		t.Error("sources alone are no reading")
	}
}
