package main

import (
	"halfwater/internal/report"
)

type learntCmd struct {
	JSON bool `help:"As JSON, for another program." name:"json"`
}

// Help is printed below the flags.
func (learntCmd) Help() string {
	return `It takes some seconds. Example:
  halfwater learnt
  halfwater learnt --json | jq '.values[] | select(.told > 0.3)'`
}

// Run prints what the enclosure taught of its own constants.
func (c *learntCmd) Run(w *world) error {
	s, k, err := w.openThere()
	if err != nil {
		return err
	}
	defer s.Close()
	learnt, err := k.Learnt(w.ctx, w.id)
	if err != nil {
		return err
	}
	l := report.LearntOf(learnt)
	if c.JSON {
		return report.JSON(w.out, l)
	}
	return report.LearntText(w.out, l)
}
