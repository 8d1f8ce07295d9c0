package web_test

import (
	"context"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"regexp"
	"strings"
	"testing"
	"time"

	"halfwater/book"
	"halfwater/demo"
	"halfwater/internal/keeper"
	"halfwater/internal/store"
	"halfwater/internal/web"
)

func has(t *testing.T, page string, wants ...string) {
	t.Helper()
	for _, want := range wants {
		if !strings.Contains(page, want) {
			t.Errorf("the page has no %q", want)
		}
	}
}

func lacks(t *testing.T, page string, refused ...string) {
	t.Helper()
	for _, bad := range refused {
		if strings.Contains(page, bad) {
			t.Errorf("the page has %q", bad)
		}
	}
}

func TestTodayHasTheActFirst(t *testing.T) {
	page := looked(t).get("/").Body.String()
	has(t, page, `<h1 class="say"`, `<a class="do" href="/sheet">Start the service</a>`, `class="section"`, "Its clock stands at Sunday 22 November, 10:00",
		`<th scope="col">How sure</th>`, `href="/emergency"`)
	act, drawing, concerns := strings.Index(page, "Start the service"), strings.Index(page, `class="section"`), strings.Index(page, `class="concerns"`)
	if act < 0 || drawing < act || concerns < drawing {
		t.Errorf("order: act %d, drawing %d, concerns %d", act, drawing, concerns)
	}
	if n := strings.Count(page, "t-carry"); n != 1 {
		t.Errorf("what carries on has %d entries, want 1", n)
	}
}

func TestActNowIsTheActWhenNoWaterIsMoved(t *testing.T) {
	page := enclosure(t, sour, sourBook).get("/").Body.String()
	has(t, page, `id="nx">Act on ammonia now.</h1>`, "tier-act")
	sheet := enclosure(t, sour, sourBook).get("/sheet").Body.String()
	has(t, sheet, "Not in one visit")
}

func TestSheetGoesStepByStep(t *testing.T) {
	e := looked(t)
	page := e.get("/sheet").Body.String()
	has(t, page, "Before you begin", "Unplug at the wall", `href="/sheet?step=1"`)
	if strings.Index(page, "Unplug at the wall") > strings.Index(page, "Siphon down to") {
		t.Error("the cautions do not come first")
	}
	seen := map[string]bool{}
	for at, next := 0, "/sheet?step=1"; next != ""; at++ {
		if at > 20 {
			t.Fatal("the steps do not end")
		}
		page = e.get(next).Body.String()
		for _, word := range []string{"Siphon down to", "Mix", "Check the mix", "Switch back on", "Tests after the visit", "Write it down"} {
			if strings.Contains(page, "<h2>Write it down") && word == "Write it down" || regexp.MustCompile(`<h2>\d+\. `+word).MatchString(page) {
				seen[word] = true
			}
		}
		m := regexp.MustCompile(`class="do" href="(/sheet\?step=\d+)"`).FindStringSubmatch(page)
		if next = ""; m != nil {
			next = m[1]
		}
	}
	if len(seen) != 6 {
		t.Errorf("the steps were %v", seen)
	}
	has(t, page, `action="/line"`, `name="out_litres" value="`, `value="tap`)
}

func TestTheChangeOfTheSheetCanBeWrittenDown(t *testing.T) {
	e := riverbank(t)
	page := e.get("/sheet?step=99").Body.String()
	form := url.Values{}
	for _, m := range regexp.MustCompile(`name="([a-z_]+)" value="([^"]*)"`).FindAllStringSubmatch(page, -1) {
		form.Set(m[1], m[2])
	}
	before := len(e.lines(t))
	kept := e.follow(t, "/line", form)
	has(t, kept, "Kept: change", "level 23.9 cm")
	lines := e.lines(t)
	if len(lines) != before+1 {
		t.Fatalf("%d lines were added", len(lines)-before)
	}
	if c, ok := lines[len(lines)-1].Body.(book.Change); !ok || c.OutLitres <= 0 || len(c.In) == 0 {
		t.Errorf("kept %+v", lines[len(lines)-1].Body)
	}
}

func TestPadShowsNeitherTheLastReadingNorWhatIsExpected(t *testing.T) {
	e := looked(t)
	page := e.get("/reading?kit=nitrate+card").Body.String()
	has(t, page, `id="on3" value="20"`, "between 20 and 40", "more than 80", "lot N26-4")
	lacks(t, page, "expected", "checked", "last", "about ")
	if on, gaps := strings.Index(page, `class="on"`), strings.Index(page, `class="gaps"`); on < 0 || gaps < on {
		t.Error("the printed steps do not stand before the gaps between them")
	}
}

func TestReadingIsKeptAndThenCompared(t *testing.T) {
	e := riverbank(t)
	page := e.follow(t, "/reading", url.Values{"kit": {"nitrate card"}, "shown": {"between 20 and 40"}, "light": {"day"}})
	has(t, page, "Kept: nitrate: between 20 and 40", "Before you looked, we expected", "The water now", `class="b50"`)
	lines := e.lines(t)
	last := lines[len(lines)-1]
	r, ok := last.Body.(book.Reading)
	if !ok || r.Shown != "between 20 and 40" || r.Light != "day" || !(r.Lo < r.Hi) {
		t.Errorf("kept %+v", last)
	}
}

func TestADoubtfulReadingIsKeptAndSaidSo(t *testing.T) {
	page := riverbank(t).follow(t, "/reading", url.Values{"kit": {"KH drops"}, "typed": {"11"}})
	has(t, page, "It does not fit", "Kept: KH: 11")
}

func TestFaultsStandBesideTheirField(t *testing.T) {
	e := looked(t)
	before := len(e.lines(t))
	for name, c := range map[string]struct {
		address string
		form    url.Values
		wants   []string
	}{
		"a point forgotten": {
			"/reading",
			url.Values{"kit": {"pH pen"}, "typed": {"75"}},
			[]string{`value="75"`, `aria-invalid="true"`, `name="likely" value="7.5"`, "Did you mean"},
		},
		"no step of the card": {
			"/reading",
			url.Values{"kit": {"nitrate card"}, "typed": {"15"}, "light": {"lamp"}},
			[]string{`value="between 10 and 20"`, `value="15"`, `value="lamp" checked`},
		},
		"half a drop":    {"/reading", url.Values{"kit": {"KH drops"}, "typed": {"3.5"}}, []string{`name="likely" value="3"`, `name="likely" value="4"`, `value="3.5"`}},
		"nothing ticked": {"/reading", url.Values{"kit": {"KH drops"}}, []string{"field bad"}},
		"in the future": {
			"/reading",
			url.Values{"kit": {"KH drops"}, "shown": {"3"}, "at": {"2027-01-01T10:00"}},
			[]string{"lies in the future", `value="2027-01-01T10:00"`, `id="d3" value="3" checked`},
		},
		"no time": {"/reading", url.Values{"kit": {"KH drops"}, "shown": {"3"}, "at": {"soon"}}, []string{"does not read as a time"}},
		"less than nothing": {
			"/line",
			url.Values{"kind": {"change"}, "out_litres": {"-3"}, "in": {"RO 3"}},
			[]string{`value="-3"`, `value="RO 3"`, `id="f-change-out_litres-fault"`},
		},
		"an unknown water": {"/line", url.Values{"kind": {"change"}, "out_litres": {"3"}, "in": {"brook 3"}}, []string{`value="brook 3"`, "field bad"}},
		"levels turned":    {"/line", url.Values{"kind": {"change"}, "level_before_cm": {"20"}, "level_after_cm": {"23"}}, []string{`id="f-change-level_after_cm-fault"`}},
		"above the glass": {
			"/line",
			url.Values{"kind": {"change"}, "out_litres": {"9,5"}, "level_before_cm": {"235"}},
			[]string{`value="9,5"`, `id="f-change-level_before_cm-fault"`, `value="23.5"`, "was it 23.5 cm?"},
		},
		"more than the box": {"/line", url.Values{"kind": {"top-up"}, "litres": {"4000"}, "source": {"RO"}}, []string{`id="f-top-up-litres-fault"`}},
		"an empty note":     {"/line", url.Values{"kind": {"note"}, "text": {""}}, []string{"fault"}},
		"no basis": {
			"/line",
			url.Values{"kind": {"reading"}, "of": {"no3"}, "shown": {"20"}, "unit": {"mg/L"}, "basis": {""}},
			[]string{"basis", `value="no3"`},
		},
	} {
		t.Run(name, func(t *testing.T) {
			w := e.ask("POST", c.address, c.form)
			if w.Code != http.StatusUnprocessableEntity {
				t.Fatalf("answers %d, want 422:\n%s", w.Code, w.Body)
			}
			has(t, w.Body.String(), append(c.wants, `class="fault`, "m-act")...)
			sound(t, w.Body.String())
		})
	}
	if n := len(e.lines(t)); n != before {
		t.Errorf("%d lines were kept of what was refused", n-before)
	}
}

func TestTheLikelyValueIsKeptInOneTouch(t *testing.T) {
	page := riverbank(t).follow(t, "/reading", url.Values{"kit": {"pH pen"}, "typed": {"75"}, "likely": {"7.5"}})
	has(t, page, "Kept: pH: 7.5")
}

func TestOtherLines(t *testing.T) {
	e := riverbank(t)
	has(t, e.follow(t, "/line", url.Values{"kind": {"note"}, "text": {"all four seen\nat dusk <b>"}}), "Kept: note", "at dusk &lt;b&gt;")
	has(t, e.follow(t, "/line", url.Values{"kind": {"top-up"}, "litres": {"1.5"}, "source": {"RO"}}), "Kept: top-up", "1½ L RO")
	// a keypad may offer nothing but a comma
	has(t, e.follow(t, "/line", url.Values{"kind": {"top-up"}, "litres": {"0,5"}, "source": {"RO"}}), "Kept: top-up", "½ L RO")
	has(t, e.follow(t, "/line", url.Values{"kind": {"change"}, "out_litres": {"9,5"}, "in": {"RO 9,5"}}), "Kept: change", "9½ L")
	has(t, e.follow(t, "/line", url.Values{"kind": {"reading"}, "of": {"level"}, "shown": {"23.4"}, "unit": {"cm"}}), "Kept: level: 23.4")
	// what the form does not say, it cannot say: who wrote it, and when the book learnt it
	e.follow(t, "/line", url.Values{"kind": {"note"}, "text": {"by hand"}, "by": {"probe"}, "recorded": {"2020-01-01"}, "id": {"mine"}})
	for _, l := range e.lines(t) {
		if n, ok := l.Body.(book.Note); ok && n.Text == "by hand" && (l.By != book.Keeper || l.ID == "mine" || l.Recorded.Year() == 2020) {
			t.Errorf("a form wrote %+v", l)
		}
	}
}

func TestBook(t *testing.T) {
	e := looked(t)
	page := e.get("/book").Body.String()
	has(t, page, "November 2026", "/book?month=2026-10", "nitrate: 20 as NO3 (nitrate card)")
	if first, later := strings.Index(page, "Sunday 22 November 2026</h2>"), strings.Index(page, "Monday 2 November 2026</h2>"); first < 0 || later < first {
		t.Error("the newest day does not come first")
	}
	has(t, e.get("/book?month=2026-05").Body.String(), "source water", "holds from here", "tap:")
	for _, bad := range []string{"1999-01", "x", "2026-13"} {
		if w := e.get("/book?month=" + bad); w.Code != http.StatusNotFound {
			t.Errorf("month %q answers %d", bad, w.Code)
		}
	}
}

func TestLinesAreWithdrawnAndSetAside(t *testing.T) {
	e := riverbank(t)
	var reading, note book.ID
	for _, l := range e.lines(t) {
		switch b := l.Body.(type) {
		case book.Reading:
			if b.Kit == "nitrate card" {
				reading = l.ID
			}
		case book.Note:
			note = l.ID
		}
	}
	w := e.ask("POST", "/book/line", url.Values{"id": {string(reading)}, "act": {"withdraw"}})
	if w.Code != http.StatusUnprocessableEntity {
		t.Errorf("a withdrawal without a reason answers %d", w.Code)
	}
	has(t, w.Body.String(), "Say in a few words why", "reason-fault")
	has(t, e.follow(t, "/book/line", url.Values{"id": {string(reading)}, "act": {"set aside"}, "reason": {"by lamp light"}}), "Set aside:", "by lamp light")
	has(t, e.follow(t, "/book/line", url.Values{"id": {string(note)}, "act": {"withdraw"}, "reason": {"wrong box"}}), "Withdrawn")
	has(t, e.get("/book").Body.String(), "set aside: by lamp light", "withdraw")
	look, err := e.keeper.Today(context.Background(), e.id, nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, ev := range look.Belief.Evidence {
		for _, id := range ev.Readings {
			if id == reading {
				t.Error("a reading that is set aside still counts")
			}
		}
	}
}

func TestUnreadKindsAreShownAsUnread(t *testing.T) {
	e := riverbank(t)
	err := e.keeper.Append(context.Background(), e.id, book.Line{
		ID: "zz-1", At: demo.Clock(), Recorded: demo.Clock(), Water: book.MainWater, By: book.Keeper, Body: book.Unread{Named: "moonrise", Text: `{"full":true}`},
	})
	if err != nil {
		t.Fatal(err)
	}
	page := e.get("/book").Body.String()
	has(t, page, "moonrise", "unread", "It is kept as it came")
	sound(t, page)
}

func TestNoSuchPage(t *testing.T) {
	e := looked(t)
	for _, address := range []string{"/nope", "/book/line?id=none", "/reading?kit=none", "/sheet?step=x", "/kept?line=none", "/asset/halfwater-000000000000.css"} {
		w := e.get(address)
		if w.Code != http.StatusNotFound {
			t.Errorf("%s answers %d", address, w.Code)
		}
		has(t, w.Body.String(), "There is nothing here", `href="/emergency"`)
		sound(t, w.Body.String())
	}
}

func TestABookThatFails(t *testing.T) {
	say := func(text string) error { return &store.Fault{Kind: store.Locked, Path: "book.sqlite", Say: text} }
	locked := web.New(keeper.New(broken{write: say("is in use by another program that is writing: try again in a moment")}, demo.Clock), "home", web.Options{Patience: time.Hour})
	e := enclosed{handler: locked}
	w := e.ask("POST", "/reading", url.Values{"kit": {"KH drops"}, "shown": {"3"}})
	if w.Code != http.StatusServiceUnavailable {
		t.Fatalf("answers %d", w.Code)
	}
	has(t, w.Body.String(), "is in use by another program", `value="3" checked`)
	w = e.ask("POST", "/line", url.Values{"kind": {"note"}, "text": {"seen at dusk"}})
	if w.Code != http.StatusServiceUnavailable {
		t.Fatalf("answers %d", w.Code)
	}
	has(t, w.Body.String(), "is in use by another program", "seen at dusk")

	gone := enclosed{handler: web.New(keeper.New(broken{read: errDisk, write: errDisk}, demo.Clock), "home", web.Options{Patience: time.Hour})}
	w = gone.ask("POST", "/reading", url.Values{"kit": {"KH drops"}, "shown": {"3"}})
	if w.Code != http.StatusServiceUnavailable {
		t.Fatalf("answers %d", w.Code)
	}
	has(t, w.Body.String(), "disk is full", "so that it is not lost", "<dd>3</dd>")
	if w = gone.get("/emergency"); w.Code != http.StatusOK {
		t.Errorf("the first acts answer %d without a book", w.Code)
	}
}

func TestALockedBookOnDisk(t *testing.T) {
	if os.Geteuid() == 0 {
		t.Log("the administrator may write anything; a lock is tried instead")
	}
	e := riverbank(t)
	other, err := store.Open(e.path, store.Options{ReadOnly: true})
	if err != nil {
		t.Fatal(err)
	}
	defer other.Close()
	read := enclosed{handler: web.New(keeper.New(other, demo.Clock), "home", web.Options{Patience: time.Hour})}
	w := read.ask("POST", "/reading", url.Values{"kit": {"KH drops"}, "shown": {"3"}})
	if w.Code != http.StatusServiceUnavailable {
		t.Fatalf("a book that may only be read answers %d", w.Code)
	}
	has(t, w.Body.String(), "may only be read", `value="3" checked`)
}

func TestWhoMayAsk(t *testing.T) {
	e := looked(t)
	for host, want := range map[string]int{
		"127.0.0.1:8417": 200, "localhost": 200, "[::1]:8417": 200, "127.9.9.9": 200,
		"elsewhere.example": 421, "192.168.1.5:8417": 421, "127.0.0.1.example:80": 421, "": 421,
	} {
		r := httptest.NewRequest("GET", "/", nil)
		r.Host = host
		w := httptest.NewRecorder()
		e.handler.ServeHTTP(w, r)
		if w.Code != want {
			t.Errorf("host %q answers %d, want %d", host, w.Code, want)
		}
	}
	form := url.Values{"kind": {"note"}, "text": {"from elsewhere"}}.Encode()
	r := httptest.NewRequest("POST", "/line", strings.NewReader(form))
	r.Host = "127.0.0.1:8417"
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	r.Header.Set("Sec-Fetch-Site", "cross-site")
	w := httptest.NewRecorder()
	e.handler.ServeHTTP(w, r)
	if w.Code != http.StatusForbidden {
		t.Errorf("a form of another site answers %d", w.Code)
	}
}

func TestALongFormIsRefused(t *testing.T) {
	e := looked(t)
	w := e.ask("POST", "/line", url.Values{"kind": {"note"}, "text": {strings.Repeat("long ", 20_000)}})
	if w.Code != http.StatusRequestEntityTooLarge {
		t.Errorf("answers %d", w.Code)
	}
}

func TestAssetsAreKeptForEver(t *testing.T) {
	e := looked(t)
	page := e.get("/").Body.String()
	for _, m := range regexp.MustCompile(`"(/asset/[^"]+)"`).FindAllStringSubmatch(page, -1) {
		w := e.get(m[1])
		if w.Code != http.StatusOK || !strings.Contains(w.Header().Get("Cache-Control"), "immutable") || w.Body.Len() == 0 {
			t.Errorf("%s answers %d, %q", m[1], w.Code, w.Header().Get("Cache-Control"))
		}
	}
	h := e.get("/").Header()
	if h.Get("Content-Security-Policy") != web.Policy || h.Get("X-Content-Type-Options") != "nosniff" {
		t.Errorf("headers %v", h)
	}
}

func TestEmergencyFile(t *testing.T) {
	w := riverbank(t).get("/emergency.html")
	if w.Code != http.StatusOK || !strings.HasPrefix(w.Header().Get("Content-Disposition"), "attachment") {
		t.Errorf("answers %d, %q", w.Code, w.Header().Get("Content-Disposition"))
	}
	has(t, w.Body.String(), "Unplug at the wall", "<style")
	bad := riverbank(t).get("/emergency?ph=99")
	if bad.Code != http.StatusUnprocessableEntity {
		t.Errorf("a pH of 99 answers %d", bad.Code)
	}
	has(t, bad.Body.String(), "Unplug at the wall", `value="99"`, "fault-ph")
}

// Speed: the start of the program to its first page, and a page whose look is not yet known.

func BenchmarkStartToFirstPage(b *testing.B) {
	e := riverbank(b)
	for b.Loop() {
		s, err := store.Open(e.path, store.Options{})
		if err != nil {
			b.Fatal(err)
		}
		first := enclosed{handler: web.New(keeper.New(s, demo.Clock), "home", web.Options{Patience: time.Hour})}
		if w := first.get("/"); w.Code != http.StatusOK {
			b.Fatal(w.Code)
		}
		_ = s.Close()
	}
}

func BenchmarkSheetPageOfANewLine(b *testing.B) {
	e := riverbank(b)
	now := demo.Clock()
	k := keeper.New(e.opened(b), func() time.Time { now = now.Add(11 * time.Minute); return now }) // the look is never kept
	fresh := enclosed{handler: web.New(k, "home", web.Options{Patience: time.Hour})}
	for b.Loop() {
		if w := fresh.get("/sheet/print"); w.Code != http.StatusOK {
			b.Fatal(w.Code)
		}
	}
}

func (e enclosed) opened(b *testing.B) keeper.Book {
	s, err := store.Open(e.path, store.Options{})
	if err != nil {
		b.Fatal(err)
	}
	b.Cleanup(func() { _ = s.Close() })
	return s
}
