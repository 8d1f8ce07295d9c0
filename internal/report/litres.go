package report

import (
	"fmt"
	"io"
	"text/tabwriter"

	"halfwater/internal/keeper"
	"halfwater/internal/say"
)

// LitresText writes how much water there is, and how that is known.
func LitresText(w io.Writer, l keeper.Litres) error {
	fmt.Fprintln(w, say.Sentence("litres.held", l))
	t := tabwriter.NewWriter(w, 2, 0, 2, ' ', 0)
	for _, s := range l.Sources {
		fmt.Fprintf(t, "  %s\t%s\n", say.Sentence("litres.source", s), say.Sentence("litres.after", s))
	}
	if err := t.Flush(); err != nil {
		return err
	}
	if l.Fell != nil {
		fmt.Fprintln(w, say.Sentence("litres.fell", l.Fell))
	}
	if l.Tracer != nil {
		fmt.Fprintln(w, say.Sentence("litres.tracer", l.Tracer))
	}
	return nil
}
