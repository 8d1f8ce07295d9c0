package web

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"html/template"
	"io"
	"log/slog"
	"net/http"
	"runtime/debug"
	"time"

	"halfwater/internal/keeper"
	"halfwater/internal/say"
)

// atWorkPage stands while something is worked out.
type atWorkPage struct {
	Base
}

var atWorkTemplate = inFrame("page/base/atwork.tmpl")

// patience is how long a page may take before it says that it is at work.
const patience = 500 * time.Millisecond

// meanwhile does what may take long. When it is done in time nothing is shown. When not, a page that says so is
// sent at once and left open, and says each fifth of the work; at the end the browser is told to ask again, and finds it
// done. No script: the browser's own stop, or any link, ends the waiting, and the work too unless somebody else waits
// for it.
func (s *site) meanwhile(w http.ResponseWriter, r *http.Request, work func(context.Context, keeper.Progress) error) (shown bool, err error) {
	done, fifths := make(chan error, 1), make(chan int, fifth)
	ctx := r.Context()
	go func() {
		defer func() {
			if fault := recover(); fault != nil {
				slog.ErrorContext(ctx, "own fault", "path", r.URL.Path, "fault", fault, "stack", string(debug.Stack()))
				done <- fmt.Errorf("%v", fault)
			}
		}()
		done <- work(ctx, inFifths(fifths))
	}()
	wait := s.Patience
	if wait == 0 {
		wait = patience
	}
	late := time.NewTimer(wait)
	defer late.Stop()
	select {
	case err = <-done:
		return false, err
	case <-late.C:
	}
	return true, s.waited(w, r, fifths, done)
}

// fifth is a whole work, in fifths.
const fifth = 5

// inFifths sends each fifth of a work once. There are as many places as there are fifths: it never blocks.
func inFifths(to chan<- int) keeper.Progress {
	told := 0
	return func(share float64) {
		if n := int(fifth * share); n > told {
			told = n
			to <- n
		}
	}
}

// waited sends the page that says that it is at work, all but its end, then what is done of it, and the end when it is
// all.
func (s *site) waited(w http.ResponseWriter, r *http.Request, fifths <-chan int, done <-chan error) error {
	var b bytes.Buffer
	page := atWorkPage{s.bare(say.Sentence("door.at-work", nil))}
	page.Enclosure, page.Home, page.Pages = s.id, "/", Pages("")
	if err := atWorkTemplate.ExecuteTemplate(&b, "base", page); err != nil {
		return err
	}
	top, end, _ := bytes.Cut(b.Bytes(), []byte("</main>"))
	out := stream{w, http.NewResponseController(w)}
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	w.WriteHeader(http.StatusOK)
	if err := out.send(string(top), `<p class="sofar" role="status" aria-atomic="false">`, say.Sentence("door.so-far", 0)); err != nil {
		return err
	}
	for {
		select {
		case <-r.Context().Done(): // stopped
			return nil
		case n := <-fifths:
			if err := out.send(", ", say.Sentence("door.so-far", n)); err != nil {
				return err
			}
		case err := <-done:
			rest := `.</p><meta http-equiv="refresh" content="0">`
			if err != nil {
				rest = `.</p><p class="fault" role="alert">` + template.HTMLEscapeString(faultWords(err)) + `</p>`
			}
			return out.send(rest, "</main>", string(end))
		}
	}
}

// stream is an answer that is sent piece by piece.
type stream struct {
	w    http.ResponseWriter
	conn *http.ResponseController
}

// most is how long one piece may take to be sent; the whole may take longer than answers may that are sent at once.
const most = 10 * time.Second

func (s stream) send(pieces ...string) error {
	if err := s.conn.SetWriteDeadline(time.Now().Add(most)); err != nil {
		return err
	}
	for _, p := range pieces {
		if _, err := io.WriteString(s.w, p); err != nil {
			return err
		}
	}
	return s.conn.Flush()
}

func faultWords(err error) string {
	var f *keeper.Fault
	if errors.As(err, &f) {
		return f.Say
	}
	return say.Sentence("door.own-fault", nil)
}
