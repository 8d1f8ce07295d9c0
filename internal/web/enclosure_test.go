package web_test

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"net/http"
	"net/http/httptest"
	"net/url"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"halfwater/book"
	"halfwater/demo"
	"halfwater/internal/files"
	"halfwater/internal/keeper"
	"halfwater/internal/store"
	"halfwater/internal/web"
)

// enclosed is an enclosure with its pages: the real store in a folder that is thrown away, and a
// clock that stands.
type enclosed struct {
	keeper  *keeper.Keeper
	handler http.Handler
	path    string
	id      string
}

// enclosure makes one from the text of an enclosure file and of a book file; either may be empty.
func enclosure(t testing.TB, facts, lines string) enclosed {
	t.Helper()
	path := filepath.Join(t.TempDir(), "book.sqlite")
	s, err := store.Open(path, store.Options{Wait: 50 * time.Millisecond})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = s.Close() })
	k := keeper.New(s, demo.Clock)
	n := 0
	o := files.Options{Now: demo.Clock(), Zone: time.Local, NewID: func() book.ID { n++; return book.ID(fmt.Sprintf("line-%06d", n)) }}
	for i, text := range []string{facts, lines} {
		if text == "" {
			continue
		}
		read := []func(io.Reader, files.Options) (*files.Import, error){files.ReadEnclosure, files.ReadBook}[i]
		im, err := read(strings.NewReader(text), o)
		if err != nil || im.Err() != nil {
			t.Fatal(err, im.Err())
		}
		if err := k.Append(context.Background(), "home", im.Lines...); err != nil {
			t.Fatal(err)
		}
		o.Have = append(o.Have, im.Lines...)
	}
	return enclosed{k, web.New(k, "home", web.Options{Demo: true, Version: "test", Patience: time.Hour}), path, "home"}
}

// riverbank is the invented enclosure that the program brings, for tests that write to it: each works it out
// anew, which takes a minute under the race detector.
func riverbank(t testing.TB) enclosed {
	if testing.Short() {
		t.Skip("works a whole book out")
	}
	return enclosure(t, string(demo.Enclosure), string(demo.Book))
}

// looked is the invented enclosure for tests that only look: one for all, so that it is worked out once. What would
// write to it fails.
func looked(t testing.TB) enclosed {
	t.Helper()
	e, err := lookedAt()
	if err != nil {
		t.Fatal(err)
	}
	return e
}

var lookedAt = sync.OnceValues(func() (enclosed, error) {
	o := files.Options{Now: demo.Clock(), Zone: time.Local, NewID: keeper.NewID}
	lines, err := files.ReadPair(bytes.NewReader(demo.Enclosure), bytes.NewReader(demo.Book), o)
	if err != nil {
		return enclosed{}, err
	}
	k := keeper.New(looking{lines}, demo.Clock)
	return enclosed{keeper: k, handler: web.New(k, "home", web.Options{Demo: true, Version: "test", Patience: time.Hour}), id: "home"}, nil
})

// looking is a book that only may be looked at.
type looking struct{ lines []book.Line }

func (looking) Append(context.Context, string, ...book.Line) error {
	return errors.New("this book is only looked at")
}

func (l looking) Lines(context.Context, string) ([]book.Line, error) {
	return slices.Clone(l.lines), nil
}

// bare has a name and a tap, and nothing else.
const bare = `from = 2026-05-24
[about]
name = "Bare"
[[source_water]]
name = "tap"
gh_dgh = 12
kh_dkh = 8
`

// sour has little KH and much ammonia, so that a large change with hard water is refused.
const sour = `from = 2026-05-24
[about]
name = "Sour"
[basin]
length_cm = 60
width_cm = 40
height_cm = 40
full_mark_cm = 20
[[source_water]]
name = "tap"
gh_dgh = 14
kh_dkh = 10
ph = 7.6
ec_us_cm = 560
temp_c = 20
[[stock]]
name = "ricefish"
species = "Oryzias latipes"
count = 6
mass_g = 0.4
[[kit]]
name = "ammonia card"
of = "tan"
form = "card"
unit = "mg/L"
basis = "as N"
steps = [0, 0.5, 1, 2, 4]
[[kit]]
name = "pH pen"
of = "ph"
form = "meter"
unit = "pH"
accuracy = 0.1
digit = 0.1
calibrated = 2026-11-01
[[kit]]
name = "KH drops"
of = "kh"
form = "drops"
unit = "dKH"
per_drop = 0.5
[routine]
change_percent = 40
every_days = 14
`

const sourBook = `at,kind,kit,shown,of,unit
2026-11-22 09:00,reading,ammonia card,4,,
2026-11-22 09:05,reading,pH pen,6.4,,
2026-11-22 09:10,reading,KH drops,1,,
2026-11-22 09:12,reading,,25.0,water temp,C
`

// ask sends a request as a browser on this machine does.
func (e enclosed) ask(method, address string, form url.Values) *httptest.ResponseRecorder {
	var body io.Reader
	if form != nil {
		body = strings.NewReader(form.Encode())
	}
	r := httptest.NewRequest(method, address, body)
	r.Host = "127.0.0.1:8417"
	if form != nil {
		r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
		r.Header.Set("Sec-Fetch-Site", "same-origin")
	}
	w := httptest.NewRecorder()
	e.handler.ServeHTTP(w, r)
	return w
}

func (e enclosed) get(address string) *httptest.ResponseRecorder { return e.ask("GET", address, nil) }

// follow answers a form and, when all went well, shows where it leads.
func (e enclosed) follow(t *testing.T, address string, form url.Values) string {
	t.Helper()
	w := e.ask("POST", address, form)
	if w.Code != http.StatusSeeOther {
		t.Fatalf("POST %s answers %d:\n%s", address, w.Code, w.Body)
	}
	to := w.Header().Get("Location")
	if w = e.get(to); w.Code != http.StatusOK {
		t.Fatalf("it leads to %s, which answers %d", to, w.Code)
	}
	return w.Body.String()
}

func (e enclosed) lines(t *testing.T) []book.Line {
	t.Helper()
	lines, err := e.keeper.Lines(context.Background(), e.id)
	if err != nil {
		t.Fatal(err)
	}
	return lines
}

// broken is a book that cannot be read or written.
type broken struct{ read, write error }

func (b broken) Append(context.Context, string, ...book.Line) error { return b.write }
func (b broken) Lines(context.Context, string) ([]book.Line, error) {
	if b.read != nil {
		return nil, b.read
	}
	o := files.Options{Now: demo.Clock(), Zone: time.Local, NewID: keeper.NewID}
	im, err := files.ReadEnclosure(bytes.NewReader(demo.Enclosure), o)
	return im.Lines, err
}

var errDisk = errors.New("the book cannot grow, because the disk is full")
