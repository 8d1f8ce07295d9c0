package main

import (
	"halfwater/internal/report"
	"halfwater/internal/say"
	"halfwater/plan"
)

type sheetCmd struct {
	JSON bool `help:"As JSON, for another program." name:"json"`
}

// Help is printed below the flags.
func (sheetCmd) Help() string {
	return `Example:
  halfwater sheet
  halfwater sheet --json | jq '.pour.parts'

The sheet is printed whole even when part of the work is refused; the exit code is then 3.`
}

// Run prints the work sheet.
func (c *sheetCmd) Run(w *world) error {
	s, k, err := w.openThere()
	if err != nil {
		return err
	}
	defer s.Close()
	look, err := k.Today(w.ctx, w.id)
	if err != nil {
		return err
	}
	if c.JSON {
		err = report.JSON(w.out, look.Sheet)
	} else {
		err = report.Text(w.out, report.Sheet(look.Sheet))
	}
	if err != nil {
		return err
	}
	if r, held := look.Sheet.HeldBack(); held {
		return heldBack{r}
	}
	return nil
}

// heldBack is a sheet that was printed whole, with work on it that is refused.
type heldBack struct{ plan.Refused }

func (e heldBack) Error() string { return say.Sentence(e.Code, e.Refused) }

// ExitCode is that of work refused.
func (heldBack) ExitCode() int { return exitRefused }
