package report

import (
	"math"
	"strings"
	"testing"
	"time"

	"halfwater/book"
	"halfwater/enclosure"
	"halfwater/husbandry"
	"halfwater/infer"
	"halfwater/internal/draw"
	"halfwater/internal/look"
	"halfwater/plan"
	"halfwater/quantity"
)

var sundayMorning = time.Date(2026, 11, 22, 10, 0, 0, 0, time.UTC)

// running is an outlook made by hand: KH falls from 3.4 to 1.4, EC stands.
func running() plan.Outlook {
	o := plan.Outlook{From: sundayMorning, Share: .2, Every: 7, AsLast: true}
	kh, ok := husbandry.LinesOf(nil, husbandry.Maybe[quantity.MgPerL]{}).Of(husbandry.KHLine)
	if !ok {
		panic("no line of KH")
	}
	line := plan.LineAhead{Of: husbandry.KHLine, Line: kh, EverWatch: .9, EverAct: .12}
	free := plan.LineAhead{Of: husbandry.FreeAmmonia, EverWatch: math.NaN(), EverAct: math.NaN()}
	for i := range 6 {
		at := o.From.AddDate(0, 0, 7*i)
		m := 3.4 - .4*float64(i)
		o.Eves = append(o.Eves, plan.Eve{
			At: at,
			Bands: map[quantity.Measurand]quantity.Band[float64]{
				quantity.OfKH: {Low: m - .6, Lo: m - .5, Median: m, Hi: m + .5, High: m + .6}, quantity.OfEC: {Low: 250, Lo: 255, Median: 260, Hi: 265, High: 270},
			},
			Half: map[quantity.Measurand]quantity.Range[float64]{quantity.OfKH: {Lo: m - .25, Hi: m + .25}, quantity.OfEC: {Lo: 258, Hi: 262}},
		})
		line.Watch, line.Act = append(line.Watch, math.Min(.01+.2*float64(i), .9)), append(line.Act, .02*float64(i))
		free.Watch, free.Act = append(free.Watch, math.NaN()), append(free.Act, math.NaN())
	}
	o.Lines = []plan.LineAhead{free, line}
	o.Plateaus = []plan.PlateauAhead{{Of: quantity.OfKH, Level: 1.1, By: o.From.AddDate(0, 0, 63)}, {Of: quantity.OfEC, Level: 260, By: o.From}}
	return o
}

func TestOutlookPageInWords(t *testing.T) {
	b := infer.Belief{Water: book.MainWater, At: sundayMorning, Evidence: map[quantity.Measurand]infer.Evidence{}}
	p := OutlookPageOf(b, enclosure.Facts{}, nil, running())
	if want := "If the routine is kept, by 27 December: KH may come to its act line."; p.Lead != want {
		t.Errorf("lead %q, want %q", p.Lead, want)
	}
	if want := "Not foreseen, because never read: total ammonia, nitrite, pH, GH and nitrate."; p.Never != want {
		t.Errorf("never %q", p.Never)
	}
	alarmed := b
	alarmed.Evidence = map[quantity.Measurand]infer.Evidence{quantity.OfTAN: {Last: sundayMorning, Alarming: true}, quantity.OfNO2: {Last: sundayMorning}}
	if p := OutlookPageOf(alarmed, enclosure.Facts{}, nil, running()); !strings.HasPrefix(p.Alarming, "Not foreseen until total ammonia is read again: total ammonia and nitrite.") ||
		p.Never != "Not foreseen, because never read: pH, GH and nitrate." {
		t.Errorf("alarming %q, never %q", p.Alarming, p.Never)
	}
	if p.Alarming != "" {
		t.Errorf("nothing alarms, and %q", p.Alarming)
	}
	if len(p.Fans) != 1 || len(p.Quiet) != 1 || p.QuietNames() != "EC: nothing likely comes of it for now" {
		t.Fatalf("%d fans, quiet %q", len(p.Fans), p.QuietNames())
	}
	kh := p.Fans[0]
	var says []string
	for _, o := range kh.Odds {
		says = append(says, o.String())
	}
	want := "9 in 10: comes to 3 or less, the watch line, by 27 December. 1 in 8: comes to 1 or less, the act line, by 27 December."
	if got := strings.Join(says, " "); got != want {
		t.Errorf("odds %q, want %q", got, want)
	}
	if want := "KH: about 1.4 °dKH before the change of 27 December, could be 0.9 to 1.9. " + want; kh.Fan.Title != want {
		t.Errorf("title %q, want %q", kh.Fan.Title, want)
	}
	if want := "KH comes to rest before a change at about 1.1 °dKH, beyond this outlook, near 24 January 2027."; kh.Rests != want {
		t.Errorf("rests %q, want %q", kh.Rests, want)
	}
	ec := p.Quiet[0]
	if want := "EC stands where it comes to rest before a change: about 260 µS/cm at 25 °C."; ec.Rests != want {
		t.Errorf("rests %q, want %q", ec.Rests, want)
	}
	if ec.Odds[0].String() != "Fewer than 1 in 20 that it passes a line or leaves its keeping range." {
		t.Errorf("odds %q", ec.Odds[0])
	}
	if len(kh.Table) != 6 || kh.Table[0] != (AheadRow{"today", "about 3.4", "could be 2.9 to 3.9"}) || kh.Table[5].Day != "27 December" {
		t.Errorf("table %v", kh.Table)
	}
	if len(kh.Fan.Ahead) != 6 {
		t.Fatalf("ahead %v", kh.Fan.Ahead)
	}
	end := kh.Fan.Ahead[5]
	for i, x := range []float64{end.Day - 35, end.P10 - .9, end.P25 - 1.15, end.P50 - 1.4, end.P75 - 1.65, end.P90 - 1.9} {
		if math.Abs(x) > 1e-9 {
			t.Errorf("end of the fan %v: %d is off by %g", end, i, x)
		}
	}
}

// Nothing read is nothing foreseen, and the page says so; without a change within the weeks there is no eve.
func TestOutlookPageOfNothing(t *testing.T) {
	o := plan.Outlook{From: sundayMorning, Share: .2, Every: 200, Eves: []plan.Eve{{At: sundayMorning}}}
	p := OutlookPageOf(infer.Belief{}, enclosure.Facts{}, nil, o)
	if len(p.Fans)+len(p.Quiet) != 0 || !strings.Contains(p.Lead, "no change falls within these weeks") || p.QuietNames() != "" {
		t.Errorf("%+v", p)
	}
	o.Eves = append(o.Eves, plan.Eve{At: sundayMorning.AddDate(0, 0, 7)})
	if p = OutlookPageOf(infer.Belief{}, enclosure.Facts{}, nil, o); p.Lead != "Nothing was read that could be foreseen." {
		t.Errorf("lead %q", p.Lead)
	}
}

// Behind today stand the readings of the tank that count, of a probe one a day.
func TestPastOfAFan(t *testing.T) {
	at := func(days int, hour time.Duration) time.Time {
		return sundayMorning.AddDate(0, 0, -days).Add(hour * time.Hour)
	}
	reading := func(id book.ID, when time.Time, r book.Reading, by book.By) book.Line {
		r.Of, r.Lo, r.Hi = quantity.OfKH, 2, 3
		return book.Line{ID: id, At: when, Recorded: when, Water: book.MainWater, By: by, Body: r}
	}
	lines := []book.Line{
		reading("old", at(40, 0), book.Reading{}, book.Keeper),
		reading("kept", at(10, 0), book.Reading{}, book.Keeper),
		reading("glass", at(9, 0), book.Reading{Place: "glass"}, book.Keeper),
		reading("doubted", at(8, 0), book.Reading{}, book.Keeper),
		reading("morning", at(3, 1), book.Reading{}, book.Probe),
		reading("noon", at(3, 2), book.Reading{}, book.Probe),
		{ID: "aside", At: at(1, 0), Recorded: at(1, 0), Water: book.MainWater, By: book.Keeper, Body: book.SetAside{Line: "doubted", Reason: "lamp"}},
		reading("later", at(-1, 0), book.Reading{}, book.Keeper),
	}
	a := ahead{belief: infer.Belief{Water: book.MainWater}, Outlook: plan.Outlook{From: sundayMorning}, lines: lines}
	past := a.past(quantity.OfKH)
	if len(past) != 2 || past[0].Day != -10 || math.Abs(past[1].Day+3-2./24) > 1e-9 || past[0].Span != (draw.Span{Lo: 2, Hi: 3}) {
		t.Errorf("past %v", past)
	}
}

// The scale comes nearer while all stays on it; a far upper end does not hold it back when there is a line below.
func TestScaleOfAFan(t *testing.T) {
	limits := []draw.Limit{{At: 3, Mark: look.Watch}, {At: 1, Mark: look.ActNow}, {At: 6, Mark: look.Watch, Above: true}}
	kh := draw.Fan{Lo: 0, Hi: 8, Limits: limits, Ahead: []draw.Ahead{{P90: 2.8}}}
	if hi := near(kh); hi != 4 {
		t.Errorf("KH under its line is drawn up to %g", hi)
	}
	kh.Ahead[0].P90 = 4.5
	if hi := near(kh); hi != 8 {
		t.Errorf("KH up to 4.5 is drawn up to %g", hi)
	}
	no3 := draw.Fan{Lo: 0, Hi: 100, Limits: []draw.Limit{{At: 50, Mark: look.ActNow, Above: true}}, Ahead: []draw.Ahead{{P90: 20}}}
	if hi := near(no3); hi != 50 {
		t.Errorf("nitrate with a line at 50 is drawn up to %g", hi)
	}
	if hi := near(draw.Fan{Lo: 5.5, Hi: 9}); hi != 9 {
		t.Errorf("a scale that begins above nothing ends at %g", hi)
	}
}
