package web

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"html/template"
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
// sent at once and left open; at the end of the work the browser is told to ask again, and finds it done. No script:
// the browser's own stop, or any link, ends the waiting, and what is being worked out is kept for the next look.
// The answer to a form is waited for.
func (s *site) meanwhile(w http.ResponseWriter, r *http.Request, work func(context.Context) error) (shown bool, err error) {
	done := make(chan error, 1)
	ctx := context.WithoutCancel(r.Context())
	go func() {
		defer func() {
			if fault := recover(); fault != nil {
				slog.ErrorContext(ctx, "own fault", "path", r.URL.Path, "fault", fault, "stack", string(debug.Stack()))
				done <- fmt.Errorf("%v", fault)
			}
		}()
		done <- work(ctx)
	}()
	if r.Method != http.MethodGet {
		return false, <-done
	}
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
	return true, s.waited(w, r, done)
}

// waited sends the page that says that it is at work, all but its end, and the end when the work is done.
func (s *site) waited(w http.ResponseWriter, r *http.Request, done <-chan error) error {
	var b bytes.Buffer
	page := atWorkPage{s.bare(say.Sentence("door.at-work", nil))}
	page.Home, page.Pages = "/", Pages("")
	if err := atWorkTemplate.ExecuteTemplate(&b, "base", page); err != nil {
		return err
	}
	top, end, _ := bytes.Cut(b.Bytes(), []byte("</body>"))
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	w.WriteHeader(http.StatusOK)
	if _, err := w.Write(top); err != nil {
		return err
	}
	if err := http.NewResponseController(w).Flush(); err != nil {
		return err
	}
	rest := `<meta http-equiv="refresh" content="0">`
	select {
	case <-r.Context().Done(): // stopped
		return nil
	case err := <-done:
		if err != nil {
			rest = `<p class="fault" role="alert">` + template.HTMLEscapeString(faultWords(err)) + `</p>`
		}
	}
	_, err := fmt.Fprint(w, rest, "</body>", string(end))
	return err
}

func faultWords(err error) string {
	var f *keeper.Fault
	if errors.As(err, &f) {
		return f.Say
	}
	return say.Sentence("door.own-fault", nil)
}
