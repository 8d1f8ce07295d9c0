package main

import (
	"halfwater/internal/report"
)

type nowCmd struct {
	JSON bool `help:"As JSON, for another program." name:"json"`
}

// Help is printed below the flags.
func (nowCmd) Help() string {
	return `Example:
  halfwater now
  halfwater now --json | jq '.quantities[] | select(.of == "kh")'`
}

// Run prints the water now.
func (c *nowCmd) Run(w *world) error {
	s, k, err := w.openThere()
	if err != nil {
		return err
	}
	defer s.Close()
	look, err := k.Today(w.ctx, w.id, w.waiting())
	if err != nil {
		return err
	}
	n := report.Water(look.Name(), look.Belief, look.Lines)
	if c.JSON {
		return report.JSON(w.out, n)
	}
	return report.WaterText(w.out, n, report.WaterRows(look.Belief, look.Facts, look.Lines, look.Sheet))
}
