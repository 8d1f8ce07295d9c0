package web

import (
	"net/http"

	"halfwater/book"
	"halfwater/internal/keeper"
	"halfwater/internal/report"
	"halfwater/internal/say"
)

// bookPage is one month of the book, newest first.
type bookPage struct {
	Base
	Month        string
	Days         []report.BookDay
	Newer, Older *monthLink
	Count        int
}

type monthLink struct{ Name, Href string }

// linePage is one line of the book, and what can be said against it.
type linePage struct {
	Base
	Line    report.BookLine
	Reading bool
	Reason  string
	Fault   *fieldFault
}

var (
	bookTemplate = inFrame("page/book/book.tmpl")
	lineTemplate = inFrame("page/book/line.tmpl", "page/reading/form.tmpl")
)

func (s *site) showBook(w http.ResponseWriter, r *http.Request) error {
	l, shown, err := s.standing(w, r)
	if err != nil || shown {
		return err
	}
	all, err := s.keeper.Lines(r.Context(), s.id)
	if err != nil {
		return err
	}
	m, ok := report.MonthOf(all, r.URL.Query().Get("month"), l.At)
	if !ok {
		return &keeper.Fault{Kind: keeper.Missing, Field: "month", Say: say.Sentence("door.no-month", r.URL.Query().Get("month"))}
	}
	p := bookPage{Base: s.base(l, PageBook), Month: m.Name, Days: m.Days, Count: m.Count, Newer: monthOf(m.Newer), Older: monthOf(m.Older)}
	return show(w, http.StatusOK, bookTemplate, p)
}

func monthOf(m *report.MonthName) *monthLink {
	if m == nil {
		return nil
	}
	return &monthLink{m.Name, "/book?month=" + m.Key}
}

func (s *site) showLine(w http.ResponseWriter, r *http.Request) error {
	p, shown, err := s.line(w, r, r.URL.Query().Get("id"))
	if err != nil || shown {
		return err
	}
	return show(w, http.StatusOK, lineTemplate, p)
}

// line finds one line with its words.
func (s *site) line(w http.ResponseWriter, r *http.Request, id string) (p linePage, shown bool, err error) {
	l, shown, err := s.standing(w, r)
	if err != nil || shown {
		return p, shown, err
	}
	all, err := s.keeper.Lines(r.Context(), s.id)
	if err != nil {
		return p, false, err
	}
	for _, one := range all {
		if string(one.ID) == id {
			p = linePage{Base: s.base(l, PageBook), Line: report.BookLines([]book.Line{one}, all, l.At)[0]}
			p.Title = say.Sentence("door.one-line", nil)
			_, p.Reading = one.Body.(book.Reading)
			return p, false, nil
		}
	}
	return p, false, &keeper.Fault{Kind: keeper.Missing, Field: "line", Say: say.Sentence("door.no-line", nil)}
}

// doubtLine withdraws a line, or sets a reading aside. Nothing is deleted: both are lines.
func (s *site) doubtLine(w http.ResponseWriter, r *http.Request) error {
	if err := r.ParseForm(); err != nil {
		return badForm(err)
	}
	id, reason := r.PostForm.Get("id"), r.PostForm.Get("reason")
	p, shown, err := s.line(w, r, id)
	if err != nil || shown {
		return err
	}
	if p.Reason = reason; reason == "" {
		p.Fault = &fieldFault{Field: "reason", Say: say.Sentence("door.no-reason", nil)}
		return show(w, http.StatusUnprocessableEntity, lineTemplate, p)
	}
	var body book.Body = book.Withdraw{Line: book.ID(id), Reason: reason}
	if r.PostForm.Get("act") == "set aside" {
		body = book.SetAside{Line: book.ID(id), Reason: reason}
	}
	if _, err := s.keeper.Write(r.Context(), s.id, keeper.Entry{Water: p.Line.Water, Body: body}); err != nil {
		return err
	}
	http.Redirect(w, r, "/book/line?id="+queryEscape(id), http.StatusSeeOther)
	return nil
}
