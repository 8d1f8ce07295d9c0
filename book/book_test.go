package book_test

import (
	"errors"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"math"
	"os"
	"slices"
	"strings"
	"testing"
	"time"

	"halfwater/book"
	"halfwater/enclosure"
	"halfwater/kit"
	"halfwater/quantity"
	"halfwater/water"
)

func day(n int) time.Time { return time.Date(2026, 3, 1, 9, 0, 0, 0, time.UTC).AddDate(0, 0, n) }

func line(id string, at, recorded int, b book.Body) book.Line {
	return book.Line{ID: book.ID(id), At: day(at), Recorded: day(recorded), Water: book.WaterOf(b), By: book.Keeper, Body: b}
}

// Every type with a Kind method in this package is registered, under a name of its own.
func TestEveryKindIsRegistered(t *testing.T) {
	entries, err := os.ReadDir(".")
	if err != nil {
		t.Fatal(err)
	}
	var types []string
	for _, e := range entries {
		if !strings.HasSuffix(e.Name(), ".go") || strings.HasSuffix(e.Name(), "_test.go") {
			continue
		}
		file, err := parser.ParseFile(token.NewFileSet(), e.Name(), nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		for _, d := range file.Decls {
			if f, ok := d.(*ast.FuncDecl); ok && f.Name.Name == "Kind" && f.Recv != nil {
				types = append(types, f.Recv.List[0].Type.(*ast.Ident).Name)
			}
		}
	}
	registered := map[string]bool{"Unread": true} // the one that stands for all that are not
	for _, k := range book.Kinds() {
		p, _ := book.New(k)
		b, ok := book.Deref(p)
		if !ok || b.Kind() != k {
			t.Errorf("kind %q makes a body of another kind", k)
			continue
		}
		name := strings.TrimPrefix(strings.TrimPrefix(typeName(b), "book."), "enclosure.")
		registered[name] = true
	}
	if len(types) < 20 {
		t.Fatalf("only %d kinds were seen", len(types))
	}
	for _, name := range types {
		if !registered[name] {
			t.Errorf("%s has a Kind but is not registered", name)
		}
	}
}

func TestKindNeverSeen(t *testing.T) {
	if _, ok := book.New("comet seen"); ok {
		t.Error("a kind that nobody registered was made")
	}
	if (book.Unread{Named: "comet seen"}).Kind() != "comet seen" {
		t.Error("an unread line does not have the kind as written")
	}
}

// A changed fact never rewrites what was believed before.
func TestFactsAsTheyWereKnown(t *testing.T) {
	old := enclosure.Basin{Length: 1000, Width: 500, Height: 600, FullMark: 240}
	relaid := old
	relaid.BedFront = 30
	lines := []book.Line{
		line("1", 0, 0, old),
		line("2", 10, 20, relaid), // held from day 10, written down on day 20
		line("3", 5, 5, enclosure.Batch{Name: "ricefish", Count: 12}),
		line("4", 15, 15, enclosure.Batch{Name: "ricefish", Count: 20}),
		line("5", 25, 25, enclosure.Retired{OfKind: "stock", OfKey: "ricefish"}),
		line("6", 30, 30, book.Withdraw{Line: "5", Reason: "they hid"}),
	}
	for _, c := range []struct {
		at, known int
		bedFront  quantity.Millimetres
		fish      int // -1: not in the list
	}{
		{9, 30, 0, 12},
		{12, 15, 0, 12},   // what was believed on day 15 of day 12
		{12, 30, 30, 12},  // what is known now of day 12
		{16, 18, 0, 20},   // 20 fish, the bed not yet known
		{16, 30, 30, 20},  //
		{26, 26, 30, -1},  // believed gone
		{26, 29, 30, -1},  //
		{26, 30, 30, 20},  // until the end was withdrawn
		{4, 30, 0, -1},    // not yet bought
		{-1, 30, -1, -1},  // before the box
		{30, -1, -1, -1},  // nothing was known
		{40, 40, 30, 20},  //
		{20, 20, 30, 20},  // ends count: At and Recorded by that very moment
		{10, 20, 30, 12},  //
		{10, 19, 0, 12},   //
		{15, 15, 0, 20},   //
		{14, 100, 30, 12}, //
	} {
		f := book.FactsAt(lines, book.MainWater, day(c.at), day(c.known))
		bed, fish := quantity.Millimetres(-1), -1
		if f.Basin != nil {
			bed = f.Basin.BedFront
		}
		if len(f.Stock) > 0 {
			fish = f.Stock[0].Count
		}
		if bed != c.bedFront || fish != c.fish {
			t.Errorf("of day %d, known on day %d: bed %g, fish %d; not %g, %d", c.at, c.known, float64(bed), fish, float64(c.bedFront), c.fish)
		}
	}
}

func TestTwoWaterBodies(t *testing.T) {
	tub := line("3", 1, 1, enclosure.Basin{Length: 400})
	tub.Water = "tub"
	lines := []book.Line{
		line("1", 0, 0, enclosure.Basin{Length: 1000}),
		line("2", 0, 0, enclosure.SourceWater{Name: "RO"}), // serves all
		tub,
	}
	main, small := book.FactsAt(lines, book.MainWater, day(2), day(2)), book.FactsAt(lines, "tub", day(2), day(2))
	if main.Basin.Length != 1000 || small.Basin.Length != 400 {
		t.Errorf("basins %v and %v", main.Basin, small.Basin)
	}
	if len(main.Sources) != 1 || len(small.Sources) != 1 {
		t.Error("the source water does not serve both")
	}
	if f := book.FactsAt(lines, "tub", day(0), day(2)); f.Basin != nil {
		t.Error("the tub has a basin before its day")
	}
	if w := book.WaterOf(enclosure.Retired{OfKind: "source water", OfKey: "RO"}); w != book.AllWaters {
		t.Errorf("the end of a source water is of water body %q", w)
	}
	if w := book.WaterOf(enclosure.Retired{OfKind: "stage", OfKey: "sponge"}); w != book.MainWater {
		t.Errorf("the end of a stage is of water body %q", w)
	}
	if f := book.TimelineOf(lines, day(2)).Anywhere(day(2)); f.Basin.Length != 400 || len(f.Sources) != 1 {
		t.Errorf("anywhere: %+v", f)
	}
}

// A timeline answers the same whichever way one looks through it.
func TestTimelineLooksBackAndForth(t *testing.T) {
	var lines []book.Line
	for i := range 20 {
		lines = append(lines, line(string(rune('a'+i)), i, i, enclosure.Batch{Name: "ricefish", Count: i + 1}))
	}
	tl := book.TimelineOf(lines, day(100))
	for _, n := range []int{3, 19, 0, 7, 7, 6, 100, -1, 5} {
		got, want := tl.At(book.MainWater, day(n)), book.FactsAt(lines, book.MainWater, day(n), day(100))
		if len(got.Stock) != len(want.Stock) || (len(got.Stock) > 0 && got.Stock[0].Count != min(n, 19)+1) {
			t.Errorf("day %d: %v", n, got.Stock)
		}
	}
}

func TestStanding(t *testing.T) {
	lines := []book.Line{
		line("late", 1, 9, book.Note{Text: "late"}),
		line("b", 2, 2, book.Note{Text: "wrong"}),
		line("c", 3, 3, book.Withdraw{Line: "b"}),
		line("d", 4, 4, book.Withdraw{Line: "c"}), // b was right after all
		line("e", 5, 5, book.SetAside{Line: "b", Reason: "by lamp light"}),
		line("f", 6, 6, book.Withdraw{Line: "e"}),
		line("g", 7, 7, book.SetAside{Line: "late", Reason: "old kit"}),
		line("h", 8, 8, book.SetAside{Line: "late", Reason: "very old kit"}),
	}
	for known, want := range map[int]string{
		1: "", 2: "b", 3: "c", 4: "b d", 5: "b d e", 6: "b d f", 8: "b d f g h", 9: "late b d f g h",
	} {
		var got []string
		for _, l := range book.Standing(lines, day(known)) {
			got = append(got, string(l.ID))
		}
		if strings.Join(got, " ") != want {
			t.Errorf("known on day %d: %v, not %s", known, got, want)
		}
	}
	if s := book.SetAsides(lines, day(5)); s["b"].Reason != "by lamp light" {
		t.Errorf("set aside on day 5: %v", s)
	}
	if s := book.SetAsides(lines, day(9)); len(s) != 1 || s["late"].Reason != "very old kit" {
		t.Errorf("set aside on day 9: %v", s)
	}
	if lines[0].ID != "late" || lines[7].ID != "h" {
		t.Error("the lines handed in were moved")
	}
}

func TestWindow(t *testing.T) {
	l := line("a", 5, 5, book.Note{Text: "x"})
	for _, c := range []struct {
		w    book.Window
		want bool
	}{
		{book.Window{}, true},
		{book.Window{From: day(5)}, true},
		{book.Window{From: day(6)}, false},
		{book.Window{To: day(5)}, false},
		{book.Window{To: day(6), Kinds: []string{"feed", "note"}}, true},
		{book.Window{Kinds: []string{"feed"}}, false},
	} {
		if c.w.Has(l) != c.want {
			t.Errorf("%+v: %v", c.w, !c.want)
		}
	}
}

// Good lines pass; each of the others has one fault, with its field and code.
func TestCheck(t *testing.T) {
	good := book.Reading{Of: quantity.OfNO3, Shown: "10", Unit: "mg/L", Basis: quantity.AsNO3, Lo: 2, Hi: 3}
	reading := func(change func(*book.Reading)) book.Reading { r := good; change(&r); return r }
	nan, inf := math.NaN(), math.Inf(1)
	for _, c := range []struct {
		body        book.Body
		field, code string // both empty: nothing wrong
	}{
		{good, "", ""},
		{reading(func(r *book.Reading) { r.Of = "nitrates" }), "of", "book.measurand"},
		{reading(func(r *book.Reading) { r.Unit = "gpg" }), "unit", "book.unit"},
		{reading(func(r *book.Reading) { r.Basis = "" }), "basis", "book.basis"},
		{reading(func(r *book.Reading) { r.Basis = quantity.AsP }), "basis", "book.basis"},
		{reading(func(r *book.Reading) { r.Basis, r.Hi = quantity.NotStated, 16 }), "", ""},
		{book.KnownSample{What: "standard", Kit: "nitrate card", Of: quantity.OfNO3, Value: 5.6, Within: 0.1, Shown: "25"}, "", ""},
		{book.KnownSample{Kit: "nitrate card", Of: quantity.OfNO3, Shown: "0"}, "what", "book.missing"},
		{book.KnownSample{What: "blank", Of: quantity.OfNO3, Shown: "0"}, "kit", "book.missing"},
		{book.KnownSample{What: "blank", Kit: "nitrate card", Of: quantity.OfNO3, Value: -1, Shown: "0"}, "value", "book.negative"},
		{book.KnownSample{What: "blank", Kit: "nitrate card", Of: quantity.OfNO3, Within: -1, Shown: "0"}, "within", "book.negative"},
		{book.KnownSample{What: "blank", Kit: "nitrate card", Of: quantity.OfNO3, Shown: "pale"}, "shown", "book.part"},
		{reading(func(r *book.Reading) { r.Shown = " " }), "shown", "book.missing"},
		{reading(func(r *book.Reading) { r.Lo = -1 }), "lo", "book.negative"},
		{reading(func(r *book.Reading) { r.Hi = 501 }), "hi", "book.out-of-span"},
		{reading(func(r *book.Reading) { r.Lo = 4 }), "lo", "book.order"},
		{reading(func(r *book.Reading) { r.Hi = nan }), "hi", "book.not-a-number"},
		{reading(func(r *book.Reading) { r.Light = "moon" }), "light", "book.choice"},
		{reading(func(r *book.Reading) { r.Heldup = -1 }), "heldup", "book.negative"},
		{book.Change{OutLitres: 15, In: []book.Poured{{Source: "RO", Litres: 15}}}, "", ""},
		{book.Change{LevelBefore: 240, LevelAfter: 200}, "", ""},
		{book.Change{}, "out", "book.missing"},
		{book.Change{OutLitres: -3}, "out", "book.negative"},
		{book.Change{LevelBefore: 200, LevelAfter: 240}, "level after", "book.order"},
		{book.Change{OutLitres: 1, In: []book.Poured{{Litres: 9}}}, "in", "book.missing"},
		{book.Change{OutLitres: 1, In: []book.Poured{{Source: "RO"}}}, "in", "book.missing"},
		{book.Change{OutLitres: 1, In: []book.Poured{{Source: "RO", Litres: quantity.Litres(inf)}}}, "in", "book.out-of-span"},
		{book.Change{OutLitres: 1, Salts: []book.SaltPoured{{Grams: 1}}}, "salts", "book.missing"},
		{book.Change{OutLitres: 1, Temp: 80}, "temp", "book.out-of-span"},
		{book.Change{OutLitres: 1, MixEC: -2}, "mix EC", "book.negative"},
		{book.Change{OutLitres: 1, BedShare: 25}, "bed share", "book.out-of-span"},
		{book.TopUp{Source: "RO", Litres: 1.5}, "", ""},
		{book.TopUp{Litres: 1.5}, "source", "book.missing"},
		{book.TopUp{Source: "RO"}, "litres", "book.missing"},
		{book.TopUp{Source: "RO", Litres: quantity.Litres(nan)}, "litres", "book.not-a-number"},
		{book.LevelTest{Litres: 10, From: 240, To: 214}, "", ""},
		{book.LevelTest{Litres: 10, From: 214, To: 240}, "to", "book.order"},
		{book.LevelTest{From: 240, To: 214}, "litres", "book.missing"},
		{book.Feed{What: "dry", Grams: 0.3}, "", ""},
		{book.Feed{Grams: 0.3}, "what", "book.missing"},
		{book.Feed{What: "dry", Grams: -0.3}, "grams", "book.negative"},
		{book.Feed{What: "dry", ProteinShare: 45}, "protein share", "book.out-of-span"},
		{book.Feed{What: "dry", EatenShare: -0.5}, "eaten share", "book.negative"},
		{book.Droppings{}, "", ""},
		{book.Droppings{Where: "roof"}, "where", "book.choice"},
		{book.Service{Stage: "sponge", RinsedIn: "tank water", NoFlowMinutes: 20}, "", ""},
		{book.Service{RinsedIn: "tap"}, "stage", "book.missing"},
		{book.Service{Stage: "sponge", RinsedIn: "wine"}, "rinsed in", "book.choice"},
		{book.Service{Stage: "sponge", NoFlowMinutes: -1}, "no flow", "book.negative"},
		{book.ServiceStarted{}, "", ""},
		{book.ServiceEnded{}, "", ""},
		{book.SwitchedOn{}, "", ""},
		{book.SwitchedOn{OffSince: time.Date(26, 1, 1, 0, 0, 0, 0, time.UTC)}, "off since", "book.long-ago"},
		{book.Dose{What: "neutraliser", Millilitres: 5}, "", ""},
		{book.Dose{What: "neutraliser"}, "millilitres", "book.missing"},
		{book.Dose{Millilitres: 5}, "what", "book.missing"},
		{book.TimedJug{Litres: 2, Seconds: 14}, "", ""},
		{book.TimedJug{Litres: 2}, "seconds", "book.missing"},
		{book.TimedJug{Seconds: 14}, "litres", "book.missing"},
		{book.TimedLitre{Fitting: "RO unit", Seconds: 900}, "", ""},
		{book.TimedLitre{Seconds: 900}, "fitting", "book.missing"},
		{book.TimedLitre{Fitting: "RO unit", Seconds: -900}, "seconds", "book.negative"},
		{book.Animal{Seen: 3, Ate: "refused"}, "", ""},
		{book.Animal{Seen: -1}, "seen", "book.negative"},
		{book.Animal{Ate: "a lot"}, "ate", "book.choice"},
		{book.Weight{Animal: "Moss", Grams: 82}, "", ""},
		{book.Weight{Animal: "Moss"}, "grams", "book.missing"},
		{book.Weight{Grams: 82}, "animal", "book.missing"},
		{book.Shed{Animal: "Moss"}, "", ""},
		{book.Shed{}, "animal", "book.missing"},
		{book.Trim{WetGrams: 100}, "", ""},
		{book.Trim{WetGrams: -100}, "wet grams", "book.negative"},
		{book.Added{What: "leaf"}, "", ""},
		{book.Added{}, "what", "book.missing"},
		{book.TakenOut{What: "carcass", Grams: 5}, "", ""},
		{book.TakenOut{Grams: 5}, "what", "book.missing"},
		{book.Photo{File: "a.jpg"}, "", ""},
		{book.Photo{}, "file", "book.missing"},
		{book.Photo{File: "a.jpg", SHA256: "abc"}, "SHA-256", "book.digest"},
		{book.Note{Text: "hello"}, "", ""},
		{book.Note{}, "text", "book.missing"},
		{book.Price{What: "carbon", Amount: 12, Currency: "EUR"}, "", ""},
		{book.Price{What: "carbon", Amount: 12, Currency: "euro"}, "currency", "book.currency"},
		{book.Price{What: "carbon", Amount: -12, Currency: "EUR"}, "amount", "book.negative"},
		{book.Withdraw{Line: "x"}, "", ""},
		{book.Withdraw{}, "line", "book.missing"},
		{book.SetAside{Line: "x"}, "", ""},
		{book.SetAside{}, "line", "book.missing"},
		{book.AeratedGlass{Before: 6.4, After: 7.4, Hours: 24}, "", ""},
		{book.AeratedGlass{Before: 6.4, After: 14.5, Hours: 24}, "after", "book.out-of-span"},
		{book.AeratedGlass{Before: 6.4, After: 7.4}, "hours", "book.missing"},
		{book.StoneJar{What: "grey stone", Litres: 1, Days: 7, Of: quantity.OfKH, After: 2}, "", ""},
		{book.StoneJar{What: "grey stone", Litres: 1, Days: 7, Of: quantity.OfKH, After: -1}, "after", "book.negative"},
		{book.StoneJar{What: "grey stone", Litres: 1, Days: 7, Of: quantity.OfTAN}, "of", "book.choice"},
		{book.ShownOutlook{Bands: []book.ShownBand{{Of: quantity.OfKH, On: day(1), Lo: 1, Median: 2, Hi: 3}}}, "", ""},
		{book.ShownOutlook{Bands: []book.ShownBand{{Of: quantity.OfKH, On: day(1), Lo: 3, Median: 2, Hi: 3}}}, "bands 1", "book.order"},
		{book.Prediction{Claim: "the stone gives lime", IfNot: []book.ShownBand{{Of: "lime", On: day(1)}}}, "if not 1", "book.measurand"},
		{book.Prediction{}, "claim", "book.missing"},
		{book.Unread{Named: "comet seen", Text: "{}"}, "", ""},
		// Facts have checks of their own; a fault of theirs keeps its field and code.
		{enclosure.Vessel{Name: "bucket", Litres: 10}, "", ""},
		{enclosure.Vessel{Litres: 10}, "name", "enclosure.no-name"},
		{kit.Kit{Name: "KH", Of: quantity.OfKH, Form: kit.Drops, Unit: "dKH"}, "per drop", "kit.per-drop"},
		{enclosure.SourceWater{Name: "tap", Analysis: water.Analysis{PH: water.Stated(quantity.PH(14.5))}}, "analysis", "book.out-of-span"},
		{enclosure.SourceWater{Name: "tap"}, "", ""}, // nothing known is a doubt, no fault
	} {
		err := line("x", 1, 1, c.body).Check(day(2))
		if c.code == "" {
			if err != nil {
				t.Errorf("%+v: %v", c.body, err)
			}
			continue
		}
		var f book.Fault
		if !errors.As(err, &f) || f.Field != c.field || f.Code != c.code || f.Kind != c.body.Kind() {
			t.Errorf("%+v: %s %s, not %s %s: %v", c.body, f.Field, f.Code, c.field, c.code, err)
			continue
		}
		if s := f.Error(); !strings.HasPrefix(s, c.body.Kind()+", ") || strings.Contains(s, "\n") || strings.Contains(s, "%!") {
			t.Errorf("no sentence: %s", s)
		}
	}
}

// Every kind but the bare frames of a service has a check.
func TestEveryKindIsChecked(t *testing.T) {
	for _, k := range book.Kinds() {
		p, _ := book.New(k)
		b, _ := book.Deref(p)
		if _, ok := b.(book.Checker); !ok && k != "service started" && k != "service ended" {
			t.Errorf("%s says nothing of what is wrong with it", k)
		}
	}
}

func TestCheckOfTheLine(t *testing.T) {
	for name, c := range map[string]struct {
		change func(*book.Line)
		code   string
	}{
		"as it should be":  {func(*book.Line) {}, ""},
		"for all waters":   {func(l *book.Line) { l.Water = book.AllWaters }, ""},
		"no id":            {func(l *book.Line) { l.ID = "" }, "book.missing"},
		"id with a blank":  {func(l *book.Line) { l.ID = "a b" }, "book.id"},
		"no time":          {func(l *book.Line) { l.At = time.Time{} }, "book.missing"},
		"tomorrow":         {func(l *book.Line) { l.At = day(3) }, "book.future"},
		"learnt tomorrow":  {func(l *book.Line) { l.Recorded = day(3) }, "book.future"},
		"the year 26":      {func(l *book.Line) { l.At = time.Date(26, 3, 1, 0, 0, 0, 0, time.UTC) }, "book.long-ago"},
		"an unknown hand":  {func(l *book.Line) { l.By = "cat" }, "book.choice"},
		"nothing said":     {func(l *book.Line) { l.Body = nil }, "book.missing"},
		"a water with air": {func(l *book.Line) { l.Water = "tub " }, "book.name"},
		"every water":      {func(l *book.Line) { l.Water = "all" }, "book.water"},
		"a hidden sign":    {func(l *book.Line) { l.Batch = "fr\x07ogs" }, "book.name"},
	} {
		l := line("x", 1, 1, book.Note{Text: "hello"})
		c.change(&l)
		err := l.Check(day(2))
		var f book.Fault
		if errors.As(err, &f); f.Code != c.code {
			t.Errorf("%s: %q, not %q (%v)", name, f.Code, c.code, err)
		}
	}
	// Two faults are both named.
	err := line("x", 1, 1, book.TopUp{}).Check(day(2))
	if fs, ok := err.(book.Faults); !ok || len(fs) != 2 || len(fs.Unwrap()) != 2 || !strings.Contains(err.Error(), "; ") {
		t.Errorf("faults of an empty top-up: %v", err)
	}
}

func TestRefers(t *testing.T) {
	f := enclosure.Facts{
		Sources: []enclosure.SourceWater{{Name: "RO"}, {Name: "tap"}}, Stages: []enclosure.Stage{{Name: "sponge"}},
		Fittings: []enclosure.Fitting{{Name: "RO unit"}}, Kits: []kit.Kit{{Name: "KH drops"}}, Stock: []enclosure.Batch{{Name: "frogs"}},
	}
	has := func(id book.ID) bool { return id == "old" }
	for _, c := range []struct {
		body  book.Body
		batch string
		want  string // what is not known
	}{
		{book.Change{In: []book.Poured{{Source: "RO"}, {Source: "tap"}}}, "", ""},
		{book.Change{In: []book.Poured{{Source: "RO"}, {Source: "rain"}}}, "", "source water rain"},
		{book.TopUp{Source: "river"}, "", "source water river"},
		{book.Reading{Kit: "KH drops"}, "", ""},
		{book.Reading{}, "", ""},
		{book.Reading{Kit: "GH drops"}, "", "kit GH drops"},
		{book.AeratedGlass{Kit: "pen"}, "", "kit pen"},
		{book.Service{Stage: "carbon"}, "", "stage carbon"},
		{book.TimedJug{Stage: "carbon"}, "", "stage carbon"},
		{book.TimedJug{}, "", ""},
		{book.TimedLitre{Fitting: "RO"}, "", "fitting RO"},
		{book.Withdraw{Line: "old"}, "", ""},
		{book.Withdraw{Line: "new"}, "", "line new"},
		{book.SetAside{Line: "new"}, "", "line new"},
		{book.Animal{}, "frogs", ""},
		{book.Animal{}, "toads", "stock toads"},
		{enclosure.SourceWater{MadeBy: "RO unit"}, "", ""},
		{enclosure.SourceWater{MadeBy: "still"}, "", "fitting still"},
		{enclosure.Routine{TopUpWith: "rain"}, "", "source water rain"},
		{enclosure.Retired{OfKind: "stage", OfKey: "sponge"}, "", ""},
		{enclosure.Retired{OfKind: "kit", OfKey: "pen"}, "", "kit pen"},
		{enclosure.Retired{OfKind: "basin"}, "", ""},
	} {
		l := line("x", 1, 1, c.body)
		l.Batch = c.batch
		err := l.Refers(f, has)
		var u book.Unknown
		got := ""
		if errors.As(err, &u) {
			got = u.To + " " + u.Name
		}
		if got != c.want || (err == nil) != (c.want == "") {
			t.Errorf("%+v: %q, not %q (%v)", c.body, got, c.want, err)
		}
	}
	err := line("x", 1, 1, book.TopUp{Source: "river"}).Refers(f, has)
	if want := `top-up, source: there is no source water "river" at that time: there is RO, tap`; err == nil || err.Error() != want {
		t.Errorf("said %v, not %s", err, want)
	}
}

func TestOrderOfTheBook(t *testing.T) {
	lines := []book.Line{line("b", 1, 1, book.Note{}), line("a", 1, 1, book.Note{}), line("c", 0, 5, book.Note{}), line("d", 1, 0, book.Note{})}
	book.Sort(lines)
	var got []string
	for _, l := range lines {
		got = append(got, string(l.ID))
	}
	if want := []string{"c", "d", "a", "b"}; !slices.Equal(got, want) {
		t.Errorf("order %v, not %v", got, want)
	}
}

func typeName(b book.Body) string { return strings.TrimPrefix(fmt.Sprintf("%T", b), "*") }
