package keeper_test

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"testing"
	"time"

	"halfwater/book"
	"halfwater/emergency"
	"halfwater/enclosure"
	"halfwater/internal/keeper"
	"halfwater/quantity"
)

// shelf is a store of books in memory.
type shelf map[string][]book.Line

func (s shelf) Append(_ context.Context, id string, lines ...book.Line) error {
	s[id] = append(s[id], lines...)
	return nil
}

func (s shelf) Lines(_ context.Context, id string) ([]book.Line, error) {
	return slices.Clone(s[id]), nil
}

var nightfall = time.Date(2026, time.November, 22, 2, 50, 0, 0, time.UTC)

func fact(body book.Body) book.Line {
	at := nightfall.AddDate(0, -1, 0)
	return book.Line{ID: keeper.NewID(), At: at, Recorded: at, Water: book.WaterOf(body), By: book.Keeper, Body: body}
}

func reading(of quantity.Measurand, lo, hi float64, ago time.Duration) book.Line {
	at := nightfall.Add(-ago)
	return book.Line{
		ID: keeper.NewID(), At: at, Recorded: at, Water: book.MainWater, By: book.Keeper,
		Body: book.Reading{Of: of, Shown: "x", Unit: of.Unit(), Lo: lo, Hi: hi},
	}
}

func night() (*keeper.Keeper, shelf) {
	s := shelf{"home": {
		fact(enclosure.Basin{Length: 1000, Width: 600, Height: 660, FullMark: 240, LandShare: 0.4, FilterLitres: 3}),
		fact(enclosure.Batch{Name: "ricefish", Species: "Oryzias latipes", Count: 9, Mass: 0.5}),
		reading(quantity.OfWaterTemp, 21.5, 22.5, time.Hour),
		reading(quantity.OfTAN, 0.1, 0.4, 24*time.Hour),
		reading(quantity.OfPH, 7.4, 7.6, 30*24*time.Hour), // too old to count
	}}
	return keeper.New(s, func() time.Time { return nightfall }), s
}

func TestEmergencyFromTheBook(t *testing.T) {
	k, _ := night()
	e, err := k.Emergency(context.Background(), "home", book.MainWater, keeper.Ask{PowerOffSince: "02:10", Room: "19"})
	if err != nil {
		t.Fatal(err)
	}
	if got := e.Sheet.Power.OffFor; got < 0.66 || got > 0.67 {
		t.Errorf("off for %v h, not 40 minutes", got)
	}
	if len(e.Reads) != 2 || e.Reads[0].Of != quantity.OfWaterTemp || e.Reads[0].Value != 22 {
		t.Errorf("read %+v", e.Reads)
	}
	// of ammonia the upper end counts
	if e.Reads[1].Value != 0.4 {
		t.Errorf("total ammonia counts as %v", e.Reads[1].Value)
	}
	if c := e.Sheet.Ammonia.Missing; !slices.ContainsFunc(c, func(m emergency.Missing) bool { return m.Code == emergency.NoPH }) {
		t.Errorf("an old pH is not missing: %v", c)
	}
	// what is typed goes over what was read
	e, err = k.Emergency(context.Background(), "home", book.MainWater, keeper.Ask{WaterTemp: "26,5", PH: "7.0"})
	if err != nil || len(e.Reads) != 1 {
		t.Errorf("%v, %+v", err, e.Reads)
	}
}

// A temperature of last week counts with more doubt, one of last season not at all; salts count longer.
func TestOldReadingsOfTheBook(t *testing.T) {
	const day = 24 * time.Hour
	s := shelf{"home": {
		fact(enclosure.Batch{Name: "newts", Species: "Ichthyosaura alpestris", Count: 4, Mass: 5}),
		reading(quantity.OfWaterTemp, 17.6, 17.8, 8*day), reading(quantity.OfGH, 8, 8.4, 20*day), reading(quantity.OfEC, 410, 430, 20*day),
	}}
	k := keeper.New(s, func() time.Time { return nightfall })
	ask := keeper.Ask{TAN: "1", PH: "6.8", KH: "1", Room: "18"}
	e, err := k.Emergency(context.Background(), "home", book.MainWater, ask)
	if err != nil {
		t.Fatal(err)
	}
	for _, l := range e.Sheet.Power.Warmth.Lines {
		if l.Already {
			t.Errorf("at 17.7 C: %+v", l)
		}
	}
	if x := e.Sheet.Ammonia.Now.EC; x < 400 || x > 440 || e.Sheet.Ammonia.Now.Temp < 17.6 || e.Sheet.Ammonia.Now.Temp > 17.8 {
		t.Errorf("the tank is %+v", e.Sheet.Ammonia.Now)
	}
	for i, l := range s["home"] {
		if r, ok := l.Body.(book.Reading); ok && r.Of == quantity.OfWaterTemp {
			s["home"][i].At = nightfall.Add(-40 * day)
		}
	}
	if e, err = k.Emergency(context.Background(), "home", book.MainWater, ask); err != nil || len(e.Sheet.Power.Warmth.Unsure) == 0 || len(e.Reads) != 2 {
		t.Errorf("%v, %+v", err, e.Reads)
	}
}

func TestEmergencyWithoutBook(t *testing.T) {
	e, err := keeper.EmergencyWithoutBook(keeper.Ask{PowerOffSince: "23:30"}, nightfall)
	if err != nil {
		t.Fatal(err)
	}
	if want := time.Date(2026, time.November, 21, 23, 30, 0, 0, time.UTC); !e.Sheet.Power.OffSince.Equal(want) {
		t.Errorf("23:30 before ten to three is %v", e.Sheet.Power.OffSince)
	}
	if len(e.Sheet.Missing) < 4 || len(e.Table.Rows) == 0 {
		t.Errorf("missing %v", e.Sheet.Missing)
	}
}

func TestWhatIsTypedWrong(t *testing.T) {
	for field, a := range map[string]keeper.Ask{
		"water-temp": {WaterTemp: "warm"}, "ph": {PH: "75"}, "power-off-since": {PowerOffSince: "ten past two"}, "tan": {TAN: "-1"},
	} {
		_, err := keeper.EmergencyWithoutBook(a, nightfall)
		var f *keeper.Fault
		if !errors.As(err, &f) || f.Field != field || f.Kind != keeper.Bad || f.Say == "" {
			t.Errorf("%s: %v", field, err)
		}
	}
	_, err := keeper.EmergencyWithoutBook(keeper.Ask{PowerOffSince: "2026-11-23 02:10"}, nightfall)
	var late keeper.FutureTime
	if !errors.As(err, &late) {
		t.Errorf("a cut of tomorrow: %v", err)
	}
}

// The timeline is the lines of the book by the clock, whoever wrote them and when.
func TestTimelineOfAnIncident(t *testing.T) {
	k, s := night()
	ctx := context.Background()
	for _, m := range []struct {
		ago  time.Duration
		sign string
		what string
	}{{10 * time.Minute, "gasping", "ricefish at the surface"}, {40 * time.Minute, "power", "power off"}, {0, "power", "battery air in"}} {
		if _, err := k.Incident(ctx, "home", nightfall.Add(-m.ago), "", book.Incident{Sign: m.sign, What: m.what}); err != nil {
			t.Fatal(err)
		}
	}
	if _, err := k.Incident(ctx, "home", nightfall, "", book.Incident{Sign: "comet", What: "seen"}); err == nil {
		t.Error("a sign that nobody knows was kept")
	}
	if _, err := k.Incident(ctx, "home", nightfall, "", book.Incident{Sign: "power"}); err == nil {
		t.Error("nothing was kept as something")
	}
	line, err := k.Timeline(ctx, "home", nightfall.Add(-2*time.Hour), nightfall)
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, m := range line {
		switch b := m.Line.Body.(type) {
		case book.Incident:
			got = append(got, b.What)
		default:
			got = append(got, b.Kind())
		}
	}
	if want := []string{"reading", "power off", "ricefish at the surface", "battery air in"}; !slices.Equal(got, want) {
		t.Errorf("%v, not %v", got, want)
	}
	if line[1].Late != 40*time.Minute || line[3].Late != 0 {
		t.Errorf("late by %v and %v", line[1].Late, line[3].Late)
	}
	if len(s["home"]) != 8 {
		t.Errorf("%d lines", len(s["home"]))
	}
}

// The signs of the page are those that a line may bear.
func TestSignsAreThoseOfTheBook(t *testing.T) {
	for _, s := range emergency.SignNames() {
		if err := (book.Incident{Sign: s, What: "seen"}).Check(); err != nil {
			t.Error(err)
		}
	}
}

// A clock time is of the last day, never of the future; anything else is refused with its field.
func FuzzSince(f *testing.F) {
	for _, s := range []string{"02:10", "23:59", " 2:10 ", "24:00", "2026-11-22 02:10", "2026-11-23 02:10", "0000-00-00 00:00", "ten past two", "", "٢:١٠"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		at, err := keeper.Since(text, nightfall)
		var fault *keeper.Fault
		if err != nil && (!errors.As(err, &fault) || fault.Field != "power-off-since" || fault.Say == "") {
			t.Fatalf("%q: %v", text, err)
		}
		if err == nil && at.After(nightfall) {
			t.Fatalf("%q is %v, in the future", text, at)
		}
	})
}

// The power went at 23:30; nobody has written a book. There is an hour to count on all the same, and what
// would make it better.
func ExampleEmergencyWithoutBook() {
	e, err := keeper.EmergencyWithoutBook(keeper.Ask{PowerOffSince: "23:30", WaterTemp: "24"}, nightfall)
	if err != nil {
		fmt.Println(err)
		return
	}
	p := e.Sheet.Power
	fmt.Printf("off since %s, filter: %s\n", p.OffSince.Format("15:04"), p.Filter.Code)
	fmt.Println(e.Sheet.Missing[0].Code)
	// Output:
	// off since 23:30, filter: emergency.filter-empty
	// emergency.missing-held
}

// TestOpenEndedCard: a card that shows its last colour says "so much or more", and not all that could ever be.
func TestOpenEndedCard(t *testing.T) {
	k, s := night()
	s["home"] = append(s["home"], reading(quantity.OfTAN, 2.2, quantity.OfTAN.Span().Hi, time.Minute))
	e, err := k.Emergency(context.Background(), "home", book.MainWater, keeper.Ask{PowerOffSince: "02:10", Room: "19"})
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range e.Reads {
		if r.Of == quantity.OfTAN && r.Value != 4.4 {
			t.Errorf("2.2 or more counts as %g", r.Value)
		}
	}
}
