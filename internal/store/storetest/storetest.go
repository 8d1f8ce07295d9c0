package storetest

import (
	"context"
	"fmt"
	"math"
	"reflect"
	"slices"
	"sync"
	"testing"
	"time"

	"halfwater/book"
	"halfwater/enclosure"
	"halfwater/kit"
	"halfwater/quantity"
)

// Store is what is tested.
type Store interface {
	Append(ctx context.Context, enclosure string, lines ...book.Line) error
	Lines(ctx context.Context, enclosure string) ([]book.Line, error)
	Window(ctx context.Context, enclosure string, w book.Window) ([]book.Line, error)
	Enclosures(ctx context.Context) ([]string, error)
	Meta(ctx context.Context, enclosure, name string) (string, bool, error)
	SetMeta(ctx context.Context, enclosure, name, value string) error
	Close() error
}

// Day is a day of the tests.
func Day(n int) time.Time { return time.Date(2026, 3, 1, 9, 0, 0, 0, time.UTC).AddDate(0, 0, n) }

// NoteAt is a line with a note.
func NoteAt(id string, at, recorded time.Time) book.Line {
	return book.Line{
		ID: book.ID(id), At: at, Recorded: recorded, Water: book.MainWater, By: book.Keeper,
		Body: book.Note{Text: "note " + id},
	}
}

// Run tests a store. open opens the same empty store again and again: what one handle appended, the
// next one finds. IsTwice tells the error of an id that is there already.
func Run(t *testing.T, open func(t *testing.T) func() Store, isTwice func(error) bool) {
	for _, c := range []struct {
		name string
		test func(*testing.T, func() Store)
	}{
		{"an empty store has nothing", empty},
		{"every sort of line comes back", comesBack},
		{"lines come in the order of the book", inOrder},
		{"late lines find their place", lateLines},
		{"a window is a part", window},
		{"enclosures do not mix", apart},
		{"an unread kind is kept as it came", unread},
		{"a batch of lines is all or none", func(t *testing.T, open func() Store) { allOrNone(t, open, isTwice) }},
		{"what was appended is there after reopening", reopening},
		{"readers see whole appends while one writes", readers},
		{"writers wait for each other", writers},
		{"remarks are replaced, not lines", meta},
		{"times are kept to the microsecond", micros},
		{"a call that is called off keeps nothing", calledOff},
	} {
		t.Run(c.name, func(t *testing.T) { c.test(t, open(t)) })
	}
}

var ctx = context.Background()

func ids(lines []book.Line) []book.ID {
	var out []book.ID
	for _, l := range lines {
		out = append(out, l.ID)
	}
	return out
}

func must(t *testing.T, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

func lines(t *testing.T, s Store, enclosure string) []book.Line {
	t.Helper()
	got, err := s.Lines(ctx, enclosure)
	must(t, err)
	return got
}

func opened(t *testing.T, open func() Store) Store {
	t.Helper()
	s := open()
	t.Cleanup(func() { must(t, s.Close()) })
	return s
}

func empty(t *testing.T, open func() Store) {
	s := opened(t, open)
	if got := lines(t, s, "nobody"); len(got) != 0 {
		t.Errorf("lines %v", got)
	}
	got, err := s.Enclosures(ctx)
	must(t, err)
	if len(got) != 0 {
		t.Errorf("enclosures %v", got)
	}
	must(t, s.Append(ctx, "nobody"))
	if got, err := s.Enclosures(ctx); err != nil || len(got) != 0 {
		t.Errorf("appending nothing made %v (%v)", got, err)
	}
	if _, found, err := s.Meta(ctx, "nobody", "prior"); found || err != nil {
		t.Errorf("a remark was found (%v)", err)
	}
}

func comesBack(t *testing.T, open func() Store) {
	s := opened(t, open)
	var want []book.Line
	for i, b := range Bodies() {
		want = append(want, book.Line{
			ID: book.ID(fmt.Sprintf("id-%03d", i)), At: Day(i), Recorded: Day(i).Add(time.Hour),
			Water: "tub", Batch: "frogs", By: book.Sitter, Body: b,
		})
	}
	must(t, s.Append(ctx, "riverbank", want...))
	got := lines(t, s, "riverbank")
	if len(got) != len(want) {
		t.Fatalf("%d lines of %d", len(got), len(want))
	}
	for i := range want {
		if !reflect.DeepEqual(got[i], want[i]) {
			t.Errorf("line %d came back as\n%+v, not\n%+v", i, got[i], want[i])
		}
	}
}

// Bodies are lines of many sorts: with lists, times, spans, infinities, text of all kinds.
func Bodies() []book.Body {
	return []book.Body{
		book.Note{Text: "täglich \"quoted\", 'single'; 一\n=1+1 \U0001F438 </script>"},
		book.Reading{Of: quantity.OfKH, Kit: "KH drops", Shown: "4", Unit: "dKH", Lo: 3, Hi: 4},
		book.Change{
			OutLitres: 15, LevelBefore: 241.5, In: []book.Poured{{Source: "RO", Litres: 9}, {Source: "tap", Litres: 6}},
			Salts: []book.SaltPoured{{Formula: "NaHCO3", Grams: 0.1}}, BedShare: 0.25,
		},
		book.SwitchedOn{OffSince: Day(1)},
		book.ShownOutlook{Version: "1", Bands: []book.ShownBand{{Of: quantity.OfNO3, On: Day(9), Lo: 1, Median: 2, Hi: 1e300}}},
		book.Withdraw{Line: "id-000", Reason: "typed twice"},
		enclosure.Basin{Length: 1000, Profile: []enclosure.Point{{X: 0, Z: 120}, {X: 300, Z: 10}}, FalseBottom: true},
		enclosure.RangeWanted{Of: quantity.OfNO3, Range: quantity.Range[float64]{Lo: math.Inf(-1), Hi: 5.6}},
		enclosure.Stage{Name: "sponge", CleanJug: 14*time.Second + 500*time.Millisecond},
		kit.Kit{Name: "nitrate card", Steps: []float64{0, 0.1, 1e-9}, Opened: Day(0)},
		book.Feed{}, // all zero
	}
}

func inOrder(t *testing.T, open func() Store) {
	s := opened(t, open)
	must(t, s.Append(ctx, "e", NoteAt("c", Day(2), Day(2)), NoteAt("a", Day(1), Day(4)), NoteAt("b", Day(1), Day(3)), NoteAt("B", Day(1), Day(3))))
	if got, want := ids(lines(t, s, "e")), []book.ID{"B", "b", "a", "c"}; !slices.Equal(got, want) {
		t.Errorf("order %v, not %v", got, want)
	}
}

func lateLines(t *testing.T, open func() Store) {
	s := opened(t, open)
	must(t, s.Append(ctx, "e", NoteAt("today", Day(10), Day(10))))
	must(t, s.Append(ctx, "e", NoteAt("late", Day(3), Day(11))))
	if got, want := ids(lines(t, s, "e")), []book.ID{"late", "today"}; !slices.Equal(got, want) {
		t.Errorf("order %v, not %v", got, want)
	}
}

func window(t *testing.T, open func() Store) {
	s := opened(t, open)
	var all []book.Line
	for i := range 20 {
		l := NoteAt(fmt.Sprintf("n%02d", i), Day(i), Day(i))
		if i%3 == 0 {
			l.Body = book.Feed{What: "dry"}
		}
		all = append(all, l)
	}
	must(t, s.Append(ctx, "e", all...))
	for _, w := range []book.Window{
		{},
		{From: Day(5)},
		{To: Day(5)},
		{From: Day(5), To: Day(5)},
		{From: Day(5), To: Day(9)},
		{Kinds: []string{"feed"}},
		{From: Day(4), Kinds: []string{"feed", "note"}},
		{Kinds: []string{"no such kind"}},
	} {
		var want []book.ID
		for _, l := range all {
			if w.Has(l) {
				want = append(want, l.ID)
			}
		}
		got, err := s.Window(ctx, "e", w)
		must(t, err)
		if !slices.Equal(ids(got), want) {
			t.Errorf("window %+v has %v, not %v", w, ids(got), want)
		}
	}
}

func apart(t *testing.T, open func() Store) {
	s := opened(t, open)
	must(t, s.Append(ctx, "river", NoteAt("one", Day(1), Day(1))))
	must(t, s.Append(ctx, "pond", NoteAt("one", Day(2), Day(2)), NoteAt("two", Day(3), Day(3))))
	if got := ids(lines(t, s, "river")); !slices.Equal(got, []book.ID{"one"}) {
		t.Errorf("river has %v", got)
	}
	if got := ids(lines(t, s, "pond")); !slices.Equal(got, []book.ID{"one", "two"}) {
		t.Errorf("pond has %v", got)
	}
	got, err := s.Enclosures(ctx)
	must(t, err)
	if !slices.Equal(got, []string{"pond", "river"}) {
		t.Errorf("enclosures %v", got)
	}
	if s.Append(ctx, "", NoteAt("x", Day(1), Day(1))) == nil {
		t.Error("an enclosure without id was taken")
	}
}

func unread(t *testing.T, open func() Store) {
	s := opened(t, open)
	for i, text := range []string{`{"b":1,"a":[1.50,{"c":null}]}`, `{ "spaced" : "out" }`, `{}`, `{"é":"\u00e9"}`} {
		l := NoteAt(fmt.Sprint("u", i), Day(i), Day(i))
		l.Body = book.Unread{Named: "comet seen", Text: text}
		must(t, s.Append(ctx, "e", l))
		got := lines(t, s, "e")[i]
		if !reflect.DeepEqual(got, l) {
			t.Errorf("came back as %+v, not %+v", got, l)
		}
	}
}

func allOrNone(t *testing.T, open func() Store, isTwice func(error) bool) {
	s := opened(t, open)
	must(t, s.Append(ctx, "e", NoteAt("one", Day(1), Day(1))))
	err := s.Append(ctx, "e", NoteAt("two", Day(2), Day(2)), NoteAt("one", Day(3), Day(3)))
	if !isTwice(err) {
		t.Errorf("an id used twice: %v", err)
	}
	if isTwice(s.Append(ctx, "e")) {
		t.Error("nothing was called twice")
	}
	for name, bad := range map[string]book.Line{
		"no id":       NoteAt("", Day(1), Day(1)),
		"no time":     NoteAt("x", time.Time{}, Day(1)),
		"not known":   NoteAt("x", Day(1), time.Time{}),
		"no body":     {ID: "x", At: Day(1), Recorded: Day(1)},
		"NaN":         {ID: "x", At: Day(1), Recorded: Day(1), Body: book.Price{Amount: math.NaN()}},
		"a zero byte": {ID: "x", At: Day(1), Recorded: Day(1), Water: "a\x00b", Body: book.Note{}},
	} {
		if s.Append(ctx, "e", NoteAt("three", Day(3), Day(3)), bad) == nil {
			t.Errorf("a line with %s was taken", name)
		}
	}
	if got := ids(lines(t, s, "e")); !slices.Equal(got, []book.ID{"one"}) {
		t.Errorf("kept %v", got)
	}
	// The same line within one batch, and an enclosure that only a refused batch would have made.
	if err := s.Append(ctx, "new", NoteAt("a", Day(1), Day(1)), NoteAt("a", Day(1), Day(1))); !isTwice(err) {
		t.Errorf("an id used twice in a batch: %v", err)
	}
	if got, err := s.Enclosures(ctx); err != nil || !slices.Equal(got, []string{"e"}) {
		t.Errorf("enclosures %v (%v)", got, err)
	}
}

func reopening(t *testing.T, open func() Store) {
	for i := range 3 {
		s := open()
		if got := lines(t, s, "e"); len(got) != i {
			t.Errorf("%d lines after %d reopenings", len(got), i)
		}
		must(t, s.Append(ctx, "e", NoteAt(fmt.Sprint(i), Day(i), Day(i))))
		must(t, s.Close())
	}
}

// readers: while pairs of lines are appended, no reader ever sees half a pair or fewer than before.
func readers(t *testing.T, open func() Store) {
	s := opened(t, open)
	const pairs = 40
	done := make(chan struct{})
	var group sync.WaitGroup
	for range 4 {
		group.Go(func() {
			last := 0
			for {
				got, err := s.Lines(ctx, "e")
				if err != nil {
					t.Error(err)
					return
				}
				if len(got)%2 != 0 || len(got) < last {
					t.Errorf("saw %d lines after %d", len(got), last)
				}
				last = len(got)
				select {
				case <-done:
					return
				default:
				}
			}
		})
	}
	for i := range pairs {
		must(t, s.Append(ctx, "e", NoteAt(fmt.Sprint(i, "a"), Day(i), Day(i)), NoteAt(fmt.Sprint(i, "b"), Day(i), Day(i))))
	}
	close(done)
	group.Wait()
	if got := lines(t, s, "e"); len(got) != 2*pairs {
		t.Errorf("%d lines of %d", len(got), 2*pairs)
	}
}

// writers: two handles on one store, as two programs would have.
func writers(t *testing.T, open func() Store) {
	var group sync.WaitGroup
	const each = 25
	for w := range 3 {
		s := opened(t, open)
		group.Go(func() {
			for i := range each {
				if err := s.Append(ctx, "e", NoteAt(fmt.Sprintf("%d-%d", w, i), Day(i), Day(i))); err != nil {
					t.Error(err)
				}
			}
		})
	}
	group.Wait()
	if got := lines(t, opened(t, open), "e"); len(got) != 3*each {
		t.Errorf("%d lines of %d", len(got), 3*each)
	}
}

func meta(t *testing.T, open func() Store) {
	s := opened(t, open)
	must(t, s.SetMeta(ctx, "e", "prior", "first"))
	must(t, s.SetMeta(ctx, "e", "prior", "second"))
	must(t, s.SetMeta(ctx, "f", "prior", "other"))
	got, found, err := s.Meta(ctx, "e", "prior")
	must(t, err)
	if !found || got != "second" {
		t.Errorf("found %v %q", found, got)
	}
	if _, found, err := s.Meta(ctx, "e", "posterior"); found || err != nil {
		t.Errorf("found what was never said (%v)", err)
	}
}

func micros(t *testing.T, open func() Store) {
	s := opened(t, open)
	zone := time.FixedZone("east", 2*3600)
	at := time.Date(2026, 3, 1, 9, 0, 0, 123_456_789, zone)
	long := time.Date(1923, 10, 1, 0, 0, 0, 1000, time.UTC)
	must(t, s.Append(ctx, "e", NoteAt("a", at, at), NoteAt("b", long, at)))
	got := lines(t, s, "e")
	if want := at.Truncate(time.Microsecond); !got[1].At.Equal(want) || got[1].At.Location() != time.UTC {
		t.Errorf("kept %v, not %v", got[1].At, want)
	}
	if !got[0].At.Equal(long) {
		t.Errorf("kept %v, not %v", got[0].At, long)
	}
}

func calledOff(t *testing.T, open func() Store) {
	s := opened(t, open)
	off, cancel := context.WithCancel(ctx)
	cancel()
	if s.Append(off, "e", NoteAt("a", Day(1), Day(1))) == nil {
		t.Error("appended after being called off")
	}
	must(t, s.Append(ctx, "e", NoteAt("b", Day(1), Day(1))))
	if got := ids(lines(t, s, "e")); !slices.Equal(got, []book.ID{"b"}) {
		t.Errorf("kept %v", got)
	}
}
