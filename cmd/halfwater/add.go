package main

import (
	"fmt"
	"strings"
	"time"

	"halfwater/book"
	"halfwater/internal/files"
	"halfwater/internal/keeper"
	"halfwater/internal/report"
	"halfwater/internal/say"
)

type addCmd struct {
	Kind   string   `arg:"" help:"Kind of line: reading, change, top-up, feed, service, note, ... (see doc/files.md)."`
	Fields []string `arg:"" optional:"" help:"What it says, as column=value; the columns are those of the book file."`
	JSON   bool     `help:"As JSON, for another program." name:"json"`
}

// Help is printed below the flags.
func (addCmd) Help() string {
	return `Example:
  halfwater add reading kit="KH drops" shown=4
  halfwater add change out_litres=13 in="RO 9; tap 4" level_before_cm=23.6
  halfwater add note text="all four seen" at="2026-11-21 20:30"

Columns and kinds are those of the book file; without at= it happened now.`
}

// Run keeps one line: the fields are read as one row of a book file.
func (c *addCmd) Run(w *world) error {
	cells := [][2]string{{"kind", c.Kind}}
	for _, f := range c.Fields {
		name, value, ok := strings.Cut(f, "=")
		if !ok {
			return &keeper.Fault{Kind: keeper.Bad, Field: f, Say: say.Sentence("door.field", f)}
		}
		cells = append(cells, [2]string{name, value})
	}

	s, k, err := w.open()
	if err != nil {
		return err
	}
	defer s.Close()
	have, err := k.Lines(w.ctx, w.id)
	if err != nil {
		return err
	}
	im, err := files.ReadRow(cells, w.fileOptions(have))
	if err != nil {
		return err
	}
	if len(im.Faults) > 0 {
		f := im.Faults[0]
		return &keeper.Fault{Kind: keeper.Bad, Field: f.Column, Say: say.Error(f.Err), Err: f.Err}
	}
	for _, l := range im.Lines {
		kept, err := k.Keep(w.ctx, w.id, l)
		if err != nil {
			return err
		}
		if err := c.tell(w, kept); err != nil {
			return err
		}
	}
	if len(im.Lines) == 0 {
		fmt.Fprintln(w.out, say.Sentence("door.there-already", c.Kind))
	}
	return nil
}

func (c *addCmd) tell(w *world, kept keeper.Kept) error {
	if c.JSON {
		return report.JSON(w.out, kept)
	}
	fmt.Fprintln(w.out, say.Sentence("door.kept", kept.Line))
	if r, ok := kept.Line.Body.(book.Reading); ok {
		fmt.Fprintln(w.out, say.Sentence("door.reading-means", r))
		for _, n := range kept.Notes {
			fmt.Fprintln(w.out, say.Sentence(string(n), r))
		}
		if kept.Expected != nil {
			fmt.Fprintln(w.out, say.Sentence(kept.Expected.Code, kept.Expected))
		}
	}
	return nil
}

// fileOptions is how files are read: times without a zone are local, new lines get names here.
func (w *world) fileOptions(have []book.Line) files.Options {
	return files.Options{Now: w.now(), Zone: time.Local, NewID: keeper.NewID, Have: have}
}
