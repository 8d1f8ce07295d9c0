package web

import (
	"context"
	"io"
	"net/http"
	"time"

	"halfwater/internal/keeper"
	"halfwater/internal/report"
)

// WaterNow writes the page of the water now of a belief that no book is behind.
func WaterNow(w io.Writer, lead string, rows, paces []report.WaterRow, unfit []report.ContradictionRow) error {
	p := waterPage{Base: (&site{}).bare(PageWater), Lead: lead, Rows: rows, Paces: paces, Unfit: unfit, Unsure: report.UnfitWords(unfit)}
	return waterTemplate.ExecuteTemplate(w, "base", p)
}

// Meanwhile answers with hardly any patience while something is worked out.
func Meanwhile(work func(context.Context, keeper.Progress) error) http.Handler {
	s := &site{Options: Options{Patience: time.Millisecond}}
	return s.answered(func(w http.ResponseWriter, r *http.Request) error {
		_, err := s.meanwhile(w, r, work)
		return err
	})
}
