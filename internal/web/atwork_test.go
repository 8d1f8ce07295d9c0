package web_test

import (
	"bufio"
	"context"
	"errors"
	"io"
	"net/http"
	"net/http/httptest"
	"net/url"
	"strings"
	"testing"
	"time"

	"halfwater/book"
	"halfwater/demo"
	"halfwater/internal/keeper"
	"halfwater/internal/web"
)

// slow is a book that is read when it is let.
type slow struct {
	keeper.Book
	let  chan struct{}
	read func() // before it is read
}

func (s slow) Lines(ctx context.Context, enclosure string) ([]book.Line, error) {
	<-s.let
	if s.read != nil {
		s.read()
	}
	return s.Book.Lines(ctx, enclosure)
}

// slowly serves a keeper with hardly any patience.
func slowly(t *testing.T, k *keeper.Keeper) *httptest.Server {
	t.Helper()
	s := httptest.NewServer(web.New(k, "home", web.Options{Patience: time.Millisecond}))
	t.Cleanup(s.Close)
	return s
}

// begun asks for a page and reads until the page says that it is at work; before that its head has some words.
func begun(ctx context.Context, t *testing.T, address string, words ...string) (*http.Response, *bufio.Reader) {
	t.Helper()
	ask, err := http.NewRequestWithContext(ctx, "GET", address, nil)
	if err != nil {
		t.Fatal(err)
	}
	answer, err := http.DefaultClient.Do(ask)
	if err != nil {
		t.Fatal(err)
	}
	lines, head := bufio.NewReader(answer.Body), ""
	for {
		line, err := lines.ReadString('\n')
		if err != nil {
			t.Fatalf("it ended before it said that it is at work: %v", err)
		}
		if head += line; strings.Contains(line, "<h1>At work</h1>") {
			has(t, head, words...)
			return answer, lines
		}
	}
}

// A page that takes long says so at once, is left open, and at the end has the browser ask again.
func TestWhatTakesLongSaysSo(t *testing.T) {
	let := make(chan struct{})
	k := keeper.New(slow{Book: broken{}, let: let}, demo.Clock)
	answer, rest := begun(context.Background(), t, slowly(t, k).URL+"/water", `<a class="name" href="/">home</a>`)
	defer answer.Body.Close()
	close(let)
	end, err := io.ReadAll(rest)
	if err != nil {
		t.Fatal(err)
	}
	has(t, string(end), `role="status"`, `<meta http-equiv="refresh" content="0">`, "</html>")
	asked := enclosed{handler: web.New(k, "home", web.Options{Patience: time.Hour})}
	has(t, asked.get("/water").Body.String(), "<h1>The water now</h1>")
}

// Each fifth of the work is said once, also to who comes when some of it is done, and the browser asks again at the end.
func TestFifthsAreSaid(t *testing.T) {
	more := make(chan float64)
	s := httptest.NewServer(web.Meanwhile(func(_ context.Context, progress keeper.Progress) error {
		for share := range more {
			progress(share)
		}
		return nil
	}))
	defer s.Close()
	answer, rest := begun(context.Background(), t, s.URL)
	defer answer.Body.Close()
	said := func(want string) {
		t.Helper()
		text := ""
		for !strings.HasSuffix(text, want) {
			b, err := rest.ReadByte()
			if err != nil {
				t.Fatalf("%q is never said: %v after %q", want, err, text)
			}
			text += string(b)
		}
		if n := strings.Count(text, "fifth"); n > 1 {
			t.Errorf("said more than %q: %q", want, text)
		}
	}
	said(`role="status" aria-atomic="false">Begun`)
	for _, share := range []float64{0.1, 0.15, 0.45} { // the first fifth is passed by
		more <- share
	}
	said(", two fifths")
	more <- 0.59
	more <- 0.6
	said(", three fifths")
	close(more)
	end, err := io.ReadAll(rest)
	if err != nil {
		t.Fatal(err)
	}
	has(t, string(end), `</p><meta http-equiv="refresh" content="0"></main>`, "</html>")
	lacks(t, string(end), "fifth")
}

// Who goes away while a page is at work ends the work.
func TestWaitingCanBeStopped(t *testing.T) {
	ended := make(chan error, 1)
	s := httptest.NewServer(web.Meanwhile(func(ctx context.Context, _ keeper.Progress) error {
		<-ctx.Done()
		ended <- ctx.Err()
		return ctx.Err()
	}))
	defer s.Close()
	ctx, stop := context.WithCancel(context.Background())
	answer, _ := begun(ctx, t, s.URL)
	stop()
	answer.Body.Close()
	select {
	case err := <-ended:
		if !errors.Is(err, context.Canceled) {
			t.Error(err)
		}
	case <-time.After(10 * time.Second):
		t.Fatal("the work goes on for nobody")
	}
}

// Work that takes longer than the server waits for a request or an answer comes to its end all the same.
func TestWorkOutlastsTheServersPatience(t *testing.T) {
	s := httptest.NewUnstartedServer(nil)
	s.Config = web.Server(web.Meanwhile(func(ctx context.Context, progress keeper.Progress) error {
		for fifth := range 4 {
			select {
			case <-ctx.Done():
				return ctx.Err()
			case <-time.After(100 * time.Millisecond):
				progress(0.2 * float64(fifth+1))
			}
		}
		return nil
	}))
	s.Config.ReadTimeout, s.Config.WriteTimeout = 150*time.Millisecond, 150*time.Millisecond
	s.Start()
	defer s.Close()
	answer, rest := begun(context.Background(), t, s.URL)
	defer answer.Body.Close()
	end, err := io.ReadAll(rest)
	if err != nil {
		t.Fatal(err)
	}
	has(t, string(end), "three fifths", `content="0"`, "</html>")
}

// Pages that need no more than what stands in the book work nothing out.
func TestNothingIsWorkedOutForTheBook(t *testing.T) {
	e := enclosure(t, string(demo.Enclosure), "")
	form := url.Values{"kit": {"KH drops"}, "shown": {"many"}}
	for name, answer := range map[string]*httptest.ResponseRecorder{
		"/reading": e.get("/reading"), "the pad": e.get("/reading?kit=KH+drops"), "the pad again": e.ask("POST", "/reading", form),
		"the form again": e.ask("POST", "/line", url.Values{"kind": {"top-up"}, "litres": {"some"}}), "/book": e.get("/book"),
	} {
		if answer.Code != http.StatusOK && answer.Code != http.StatusUnprocessableEntity {
			t.Errorf("%s answers %d", name, answer.Code)
		}
	}
	worked := false
	if _, err := e.keeper.Today(context.Background(), e.id, func(float64) { worked = true }); err != nil || !worked {
		t.Errorf("there was a look before anybody asked for one (%v)", err)
	}
}

// A fault that comes late is said where the page was left open.
func TestALateFaultIsSaid(t *testing.T) {
	let := make(chan struct{})
	s := slowly(t, keeper.New(slow{Book: broken{read: errDisk}, let: let}, demo.Clock))
	answer, rest := begun(context.Background(), t, s.URL+"/")
	defer answer.Body.Close()
	close(let)
	end, _ := io.ReadAll(rest)
	has(t, string(end), `role="alert"`, "disk is full", "</html>")
	lacks(t, string(end), "refresh")
}

// A mistake of the program's own in the work ends that page and not the program.
func TestAMistakeInTheWork(t *testing.T) {
	let := make(chan struct{})
	close(let)
	k := keeper.New(slow{Book: broken{}, let: let, read: func() { panic("made for the test") }}, demo.Clock)
	e := enclosed{handler: web.New(k, "home", web.Options{Patience: time.Hour})}
	w := e.get("/")
	if w.Code != http.StatusInternalServerError {
		t.Fatalf("answers %d", w.Code)
	}
	has(t, w.Body.String(), "The program made a mistake")
}
