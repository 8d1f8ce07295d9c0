package main

import (
	"fmt"

	"halfwater/internal/keeper"
	"halfwater/internal/report"
)

type outlookCmd struct {
	Weeks int  `help:"How far to look, 1 to 26 weeks." default:"12"`
	JSON  bool `help:"As JSON, for another program." name:"json"`
}

// Help is printed below the flags.
func (outlookCmd) Help() string {
	return `Example:
  halfwater outlook
  halfwater outlook --json | jq '.odds[] | select(.act > 0.05)'

What is shown is kept in the book as a line, once a day, and scored later as it was shown.`
}

// Run prints what comes under the routine in the book.
func (c *outlookCmd) Run(w *world) error {
	if c.Weeks < 1 || c.Weeks > 26 {
		return &keeper.Fault{Kind: keeper.Bad, Say: fmt.Sprintf("--weeks is %d; give 1 to 26", c.Weeks)}
	}
	s, k, err := w.openThere()
	if err != nil {
		return err
	}
	defer s.Close()
	look, o, err := k.Outlook(w.ctx, w.id, c.Weeks, w.waiting())
	if err != nil {
		return err
	}
	v := report.OutlookOf(look.Name(), look.Belief, o)
	if c.JSON {
		err = report.JSON(w.out, v)
	} else {
		err = report.OutlookText(w.out, v, report.OutlookPageOf(look.Belief, look.Facts, look.Lines, o))
	}
	if err != nil {
		return err
	}
	return k.KeepShown(w.ctx, w.id, look, o, version) // what was shown is scored as it was shown
}
