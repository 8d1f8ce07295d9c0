package main

import (
	"bytes"
	"time"

	"halfwater/internal/files"
	"halfwater/internal/keeper"
	"halfwater/internal/say"
)

type exportCmd struct {
	BookFile      string `help:"Write the book file (CSV, every line) here; - writes it to standard output." name:"book-file" placeholder:"FILE" type:"path"`
	EnclosureFile string `help:"Write the enclosure file (TOML, the facts) here." name:"enclosure-file" placeholder:"FILE" type:"path"`
}

// Help is printed below the flags.
func (exportCmd) Help() string {
	return `Example:
  halfwater export --book-file my-book.csv --enclosure-file my-enclosure.toml

The book file alone carries everything, facts too: export, then import, gives the same book.
A file that is there already is not overwritten.`
}

// Run writes the files.
func (c *exportCmd) Run(w *world) error {
	if c.BookFile == "" && c.EnclosureFile == "" {
		return &keeper.Fault{Kind: keeper.Bad, Say: say.Sentence("door.export-what", nil)}
	}
	s, k, err := w.openThere()
	if err != nil {
		return err
	}
	defer s.Close()
	lines, err := k.Lines(w.ctx, w.id)
	if err != nil {
		return err
	}
	if c.BookFile != "" {
		var text bytes.Buffer
		if err := files.WriteBook(&text, lines); err != nil {
			return err
		}
		if err := c.write(w, c.BookFile, text.Bytes()); err != nil {
			return err
		}
	}
	if c.EnclosureFile != "" {
		var text bytes.Buffer
		if err := files.WriteEnclosure(&text, lines, w.now(), time.Local); err != nil {
			return err
		}
		return c.write(w, c.EnclosureFile, text.Bytes())
	}
	return nil
}

func (c *exportCmd) write(w *world, path string, text []byte) error {
	if path == "-" {
		_, err := w.out.Write(text)
		return err
	}
	return writeNew(path, text)
}
