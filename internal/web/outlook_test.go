package web_test

import (
	"context"
	"net/http"
	"net/url"
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

// Each fan says its odds in words, and a table with the same numbers stands behind it. A chance is never told
// as a percentage.
func TestOutlookSaysWhatItDraws(t *testing.T) {
	page := looked(t).get("/outlook").Body.String()
	has(t, page, "Outlook to ", `<p class="lead">`, "If the routine is kept", "Drawn before each change", "comes to rest before a change", "No outlook has been held against readings yet")
	fans := strings.Count(page, `<figure class="fan">`)
	if fans < 5 {
		t.Fatalf("%d fans", fans)
	}
	if n := strings.Count(page, " in numbers</summary><table"); n != fans {
		t.Errorf("%d tables behind %d fans", n, fans)
	}
	if n := strings.Count(page, `class="odds"`); n < fans {
		t.Errorf("%d odds by %d fans", n, fans)
	}
	for _, m := range regexp.MustCompile(`[^ >]+ %[^<]*`).FindAllString(page, -1) {
		if !strings.Contains(m, "of the water every") {
			t.Errorf("a percentage that is no share of water: %q", m)
		}
	}
	if first, quiet := strings.Index(page, `<h3>KH`), strings.Index(page, `<details class="still">`); first < 0 || quiet < first {
		t.Error("what may come to its act line does not come first")
	}
}

// Looking changes nothing, however often; keeping is a form of its own, and twice on a day is once.
func TestOutlookIsKeptByAFormOnly(t *testing.T) {
	e := riverbank(t)
	before := len(e.lines(t))
	for range 2 {
		has(t, e.get("/outlook").Body.String(), "Keep this outlook")
	}
	if n := len(e.lines(t)); n != before {
		t.Fatalf("looking wrote %d lines", n-before)
	}
	page := e.follow(t, "/outlook", url.Values{})
	has(t, page, "This day&#39;s outlook is in the book")
	lacks(t, page, "Keep this outlook")
	e.follow(t, "/outlook", url.Values{})
	lines := e.lines(t)
	if len(lines) != before+1 {
		t.Fatalf("%d lines were kept", len(lines)-before)
	}
	o, ok := lines[len(lines)-1].Body.(book.ShownOutlook)
	if !ok || len(o.Bands) == 0 || o.Version != "test" {
		t.Fatalf("kept %+v", lines[len(lines)-1].Body)
	}
	if err := o.Check(); err != nil {
		t.Error(err)
	}
}

// An outlook that is not at hand any more is not kept unseen: that of now is shown, and says so.
func TestNoOutlookIsKeptUnseen(t *testing.T) {
	e := enclosure(t, string(demo.Enclosure), "")
	before := len(e.lines(t))
	page := e.follow(t, "/outlook", url.Values{})
	has(t, page, "nothing was kept", "Keep this outlook")
	if n := len(e.lines(t)); n != before {
		t.Fatalf("%d lines were written", n-before)
	}
	page = e.follow(t, "/outlook", url.Values{}) // it has been shown
	has(t, page, "is in the book")
	lacks(t, page, "nothing was kept")
	lacks(t, e.follow(t, "/outlook", url.Values{}), "nothing was kept", "Keep this outlook")
	if n := len(e.lines(t)); n != before+1 {
		t.Fatalf("%d lines were kept", n-before)
	}
}

// A book that may only be read can be looked ahead from; keeping says why it cannot be done.
func TestOutlookOfABookThatMayOnlyBeRead(t *testing.T) {
	e := riverbank(t)
	other, err := store.Open(e.path, store.Options{ReadOnly: true})
	if err != nil {
		t.Fatal(err)
	}
	defer other.Close()
	read := enclosed{handler: web.New(keeper.New(other, demo.Clock), "home", web.Options{Patience: time.Hour})}
	if w := read.get("/outlook"); w.Code != http.StatusOK {
		t.Errorf("looking answers %d", w.Code)
	}
	w := read.ask("POST", "/outlook", url.Values{})
	if w.Code != http.StatusServiceUnavailable {
		t.Errorf("keeping answers %d", w.Code)
	}
	has(t, w.Body.String(), "may only be read")
}

// What readings have made of the outlooks that were kept stands on the page; when they missed, it says that the
// ranges are wider, and why.
func TestOutlookSaysHowItHeld(t *testing.T) {
	e := riverbank(t)
	var shown []book.Line
	for _, l := range e.lines(t) {
		if r, ok := l.Body.(book.Reading); ok && r.Place == "" {
			at := l.At.AddDate(0, 0, -1)
			shown = append(shown, book.Line{
				ID: "shown-" + l.ID, At: at, Recorded: at, Water: l.Water, By: book.Keeper,
				Body: book.ShownOutlook{Version: "test", Bands: []book.ShownBand{{Of: r.Of, On: l.At, Lo: .01, Median: .02, Hi: .03}}},
			})
		}
	}
	if err := e.keeper.Append(context.Background(), e.id, shown...); err != nil {
		t.Fatal(err)
	}
	page := e.get("/outlook").Body.String()
	has(t, page, "Of the last 20 readings", "twice as wide", `<table class="taken score">`)
	sound(t, page)
}
