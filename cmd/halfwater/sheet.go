package main

import (
	"halfwater/internal/keeper"
	"halfwater/internal/report"
	"halfwater/internal/say"
	"halfwater/plan"
	"halfwater/quantity"
)

type sheetCmd struct {
	Change float64 `help:"A change of so many per cent of the held water, instead of what the sheet finds." placeholder:"PERCENT"`
	JSON   bool    `help:"As JSON, for another program." name:"json"`
}

// Help is printed below the flags.
func (sheetCmd) Help() string {
	return `Example:
  halfwater sheet
  halfwater sheet --change 30      (may I take more?)
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
	look, err := k.Today(w.ctx, w.id, w.waiting())
	if err != nil {
		return err
	}
	sheet := look.Sheet
	if c.Change != 0 {
		if !(c.Change > 0 && c.Change < 100) {
			return &keeper.Fault{Kind: keeper.Bad, Field: "change", Say: say.Sentence("door.change-share", c.Change)}
		}
		sheet = look.SheetFor(quantity.Share(c.Change / 100))
	}
	if c.JSON {
		err = report.JSON(w.out, sheet)
	} else {
		err = report.Text(w.out, report.Sheet(sheet))
	}
	if err != nil {
		return err
	}
	if r, held := sheet.HeldBack(); held {
		return heldBack{r}
	}
	return nil
}

// heldBack is a sheet that was printed whole, with work on it that is refused.
type heldBack struct{ plan.Refused }

func (e heldBack) Error() string { return say.Sentence(e.Code, e.Refused) }

// ExitCode is that of work refused.
func (heldBack) ExitCode() int { return exitRefused }
