package main

import (
	"fmt"

	"halfwater/infer"
	"halfwater/internal/report"
	"halfwater/internal/say"
)

type learntCmd struct {
	Exact bool `help:"Take no short cuts: minutes instead of seconds. Control-C stops it."`
	JSON  bool `help:"As JSON, for another program." name:"json"`
}

// Help is printed below the flags.
func (learntCmd) Help() string {
	return `It takes some seconds. Example:
  halfwater learnt
  halfwater learnt --exact
  halfwater learnt --json | jq '.values[] | select(.told > 0.3)'`
}

// Run prints what the enclosure taught of its own constants.
func (c *learntCmd) Run(w *world) error {
	s, k, err := w.openThere()
	if err != nil {
		return err
	}
	defer s.Close()
	var learnt infer.Learnt
	if c.Exact {
		learnt, err = k.LearntExactly(w.ctx, w.id, w.tenths())
	} else {
		learnt, err = k.Learnt(w.ctx, w.id, w.waiting())
	}
	if err != nil {
		return err
	}
	l := report.LearntOf(learnt)
	if c.JSON {
		return report.JSON(w.out, l)
	}
	return report.LearntText(w.out, l)
}

// tenths tells of progress at each tenth of the way, beside what is printed, and when there is further to go.
func (w *world) tenths() func(done, of int) {
	told, way := 0, 0
	return func(done, of int) {
		if way > 0 && of > way {
			told = 10 * done / of
			fmt.Fprintln(w.errOut, say.Sentence("learnt.further", 10*told))
		}
		way = of
		if tenth := 10 * done / of; tenth != told {
			told = tenth
			fmt.Fprintln(w.errOut, say.Sentence("door.done-so-far", 10*tenth))
		}
	}
}
