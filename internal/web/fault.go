package web

import (
	"context"
	"errors"
	"log/slog"
	"net/http"

	"halfwater/internal/draw"
	"halfwater/internal/keeper"
	"halfwater/internal/say"
)

// faultPage says what happened and what to do.
type faultPage struct {
	Base
	Head, Say string
	Typed     []typed // what was sent and not kept
}

type typed struct{ Name, Value string }

// firstPage is what stands before there is anything in the book.
type firstPage struct {
	Base
	Say     string
	Drawing draw.Section
}

var (
	faultTemplate = inFrame("page/fault/fault.tmpl")
	firstTemplate = inFrame("page/fault/first.tmpl")
)

// status maps a fault to the status of its answer; what is no fault of the keeper's is the
// program's own.
func status(err error) int {
	var f *keeper.Fault
	var large *http.MaxBytesError
	switch {
	case errors.As(err, &large):
		return http.StatusRequestEntityTooLarge
	case !errors.As(err, &f):
		return http.StatusInternalServerError
	}
	switch f.Kind {
	case keeper.Bad:
		return http.StatusUnprocessableEntity
	case keeper.Missing:
		return http.StatusNotFound
	case keeper.Refused:
		return http.StatusConflict
	}
	return http.StatusServiceUnavailable
}

// showFault answers with a page that says the fault; what was typed stands on it.
func (s *site) showFault(w http.ResponseWriter, r *http.Request, err error) error {
	code := status(err)
	page := faultPage{Base: s.bare(say.Sentence("door.fault-title", code))}
	page.Home, page.Pages = "/", Pages("")
	page.Head = say.Sentence("door.fault-head", code)
	page.Say = say.Sentence("door.own-fault", nil)
	var f *keeper.Fault
	switch {
	case errors.As(err, &f):
		page.Say = f.Say
	case code == http.StatusRequestEntityTooLarge:
		page.Say = say.Sentence("door.too-large", nil)
	default:
		slog.ErrorContext(r.Context(), "own fault", "path", r.URL.Path, "err", err)
	}
	if r.Method == http.MethodPost && code != http.StatusRequestEntityTooLarge {
		for _, name := range []string{"kit", "shown", "out_litres", "in", "litres", "source", "text", "reason"} {
			if v := r.PostFormValue(name); v != "" {
				page.Typed = append(page.Typed, typed{name, v})
			}
		}
	}
	return show(w, code, faultTemplate, page)
}

// noPage is the answer to an address that there is not.
func (s *site) noPage(http.ResponseWriter, *http.Request) error {
	return &keeper.Fault{Kind: keeper.Missing, Say: say.Sentence("door.no-page", nil)}
}

// today looks at the enclosure. When its book is empty it answers with the first page instead, when looking
// takes long with one that says so; shown is then true.
func (s *site) today(w http.ResponseWriter, r *http.Request) (l keeper.Look, shown bool, err error) {
	var look keeper.Look // of the work: it may be about to end when nobody waits
	shown, err = s.meanwhile(w, r, func(ctx context.Context, progress keeper.Progress) error {
		var err error
		look, err = s.keeper.Today(ctx, s.id, progress)
		return err
	})
	if shown {
		return l, true, err
	}
	shown, err = s.first(w, err)
	return look, shown, err
}

// standing opens the book, for pages that need no more than what stands in it; shown as in [site.today].
func (s *site) standing(w http.ResponseWriter, r *http.Request) (b keeper.Standing, shown bool, err error) {
	b, err = s.keeper.Standing(r.Context(), s.id)
	shown, err = s.first(w, err)
	return b, shown, err
}

// first answers with the first page when the fault is that the book is empty.
func (s *site) first(w http.ResponseWriter, err error) (shown bool, _ error) {
	var f *keeper.Fault
	if !errors.As(err, &f) || f.Kind != keeper.Missing {
		return false, err
	}
	b := s.bare(say.Sentence("door.first", nil))
	b.When = say.Sentence("door.nothing-yet", nil)
	page := firstPage{b, f.Say, draw.Section{Missing: []string{"the inner measures", "the full mark", "the land"}}}
	return true, show(w, http.StatusOK, firstTemplate, page)
}
