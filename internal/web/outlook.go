package web

import (
	"context"
	"net/http"

	"halfwater/internal/keeper"
	"halfwater/internal/report"
	"halfwater/internal/say"
	"halfwater/plan"
)

// outlookPage is what comes when the routine is kept.
type outlookPage struct {
	Base
	report.OutlookPage
	Tried    string            // how true such ranges were where the truth was known
	Held     string            // how the outlooks that were kept have held
	HeldOf   []report.ScoreRow // by quantity
	Kept     bool              // this day's outlook is in the book
	KeptSays string
}

var outlookTemplate = inFrame("page/outlook/outlook.tmpl")

// weeksAhead is how far the page looks.
const weeksAhead = 12

// showOutlook only shows. An outlook is kept by [site.keepOutlook]: a GET is what browsers send unasked, ahead of
// a touch or after a restart, and it must change nothing (RFC 9110, 9.2.1); and a book that may only be read can be
// looked at all the same.
func (s *site) showOutlook(w http.ResponseWriter, r *http.Request) error {
	l, o, shown, err := s.outlook(w, r)
	if err != nil || shown {
		return err
	}
	p := s.outlookPage(l, o)
	if r.URL.RequestURI() == anew && !p.Kept {
		p.KeptSays = say.Sentence("outlook.anew", nil)
	}
	return show(w, http.StatusOK, outlookTemplate, p)
}

func (s *site) outlookPage(l keeper.Look, o plan.Outlook) outlookPage {
	p := outlookPage{Base: s.base(l.Standing, PageOutlook), OutlookPage: report.OutlookPageOf(l.Belief, l.Facts, l.Lines, o), Kept: l.OutlookKept()}
	p.Base.Title = p.Head
	v := report.OutlookOf(l.Name(), l.Belief, o)
	p.Tried = say.Sentence("outlook.tried", nil)
	p.Held, p.HeldOf = v.Score()
	p.KeptSays = say.Sentence("outlook.keep", nil)
	if p.Kept {
		p.KeptSays = say.Sentence("outlook.kept-today", nil)
	}
	return p
}

// outlook looks ahead from now; shown as in [site.today].
func (s *site) outlook(w http.ResponseWriter, r *http.Request) (l keeper.Look, o plan.Outlook, shown bool, err error) {
	var look keeper.Look // of the work: it may be about to end when nobody waits
	var ahead plan.Outlook
	shown, err = s.meanwhile(w, r, func(ctx context.Context, progress keeper.Progress) error {
		var err error
		look, ahead, err = s.keeper.Outlook(ctx, s.id, weeksAhead, progress)
		return err
	})
	if shown {
		return l, o, true, err
	}
	shown, err = s.first(w, err)
	return look, ahead, shown, err
}

// anew is the page of an outlook that takes the place of one that was to be kept and is not at hand any more.
const anew = "/outlook?anew=1"

// keepOutlook keeps this day's outlook as a line of the book, as it was shown, and shows it again; twice on a day is
// once. When it is not at hand any more nothing is kept unseen: that of now is shown, to be kept or not.
func (s *site) keepOutlook(w http.ResponseWriter, r *http.Request) error {
	l, o, had, err := s.keeper.LastOutlook(r.Context(), s.id, weeksAhead)
	if shown, err := s.first(w, err); err != nil || shown {
		return err
	}
	if !had {
		http.Redirect(w, r, anew, http.StatusSeeOther)
		return nil
	}
	if err := s.keeper.KeepShown(r.Context(), s.id, l, o, s.Version); err != nil {
		return err
	}
	http.Redirect(w, r, "/outlook", http.StatusSeeOther)
	return nil
}
