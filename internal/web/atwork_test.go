package web_test

import (
	"bufio"
	"context"
	"io"
	"net/http"
	"net/http/httptest"
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

// begun asks for a page and reads until the page says that it is at work.
func begun(ctx context.Context, t *testing.T, address string) (*http.Response, *bufio.Reader) {
	t.Helper()
	ask, err := http.NewRequestWithContext(ctx, "GET", address, nil)
	if err != nil {
		t.Fatal(err)
	}
	answer, err := http.DefaultClient.Do(ask)
	if err != nil {
		t.Fatal(err)
	}
	lines := bufio.NewReader(answer.Body)
	for {
		line, err := lines.ReadString('\n')
		if err != nil {
			t.Fatalf("it ended before it said that it is at work: %v", err)
		}
		if strings.Contains(line, "<h1>At work</h1>") {
			return answer, lines
		}
	}
}

// A page that takes long says so at once, is left open, and at the end has the browser ask again.
func TestWhatTakesLongSaysSo(t *testing.T) {
	let := make(chan struct{})
	k := keeper.New(slow{Book: broken{}, let: let}, demo.Clock)
	answer, rest := begun(context.Background(), t, slowly(t, k).URL+"/water")
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

// Who goes away while a page is at work ends the waiting, and nothing else.
func TestWaitingCanBeStopped(t *testing.T) {
	let := make(chan struct{})
	read := make(chan struct{})
	s := slowly(t, keeper.New(slow{Book: broken{}, let: let, read: func() { read <- struct{}{} }}, demo.Clock))
	ctx, stop := context.WithCancel(context.Background())
	answer, _ := begun(ctx, t, s.URL+"/outlook")
	stop()
	answer.Body.Close()
	close(let)
	select {
	case <-read: // the work goes on for the next look
	case <-time.After(10 * time.Second):
		t.Fatal("the work was lost")
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
