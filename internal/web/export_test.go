package web

import (
	"io"

	"halfwater/internal/report"
)

// WaterNow writes the page of the water now of a belief that no book is behind.
func WaterNow(w io.Writer, lead string, rows, paces []report.WaterRow, unfit []report.ContradictionRow) error {
	p := waterPage{Base: (&site{}).bare(PageWater), Lead: lead, Rows: rows, Paces: paces, Unfit: unfit, Unsure: report.UnfitWords(unfit)}
	return waterTemplate.ExecuteTemplate(w, "base", p)
}
