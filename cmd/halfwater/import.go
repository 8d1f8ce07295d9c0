package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"halfwater/book"
	"halfwater/internal/files"
	"halfwater/internal/keeper"
	"halfwater/internal/say"
)

type importCmd struct {
	Files    []string `arg:"" help:"Enclosure files (.toml) and book files (.csv), in any order; - reads a book file from standard input." type:"path"`
	SetAside string   `help:"Keep the good rows and write the wrong ones, with what is wrong, to this file." placeholder:"FILE" type:"path"`
}

// Help is printed below the flags.
func (importCmd) Help() string {
	return `Example:
  halfwater import my-enclosure.toml my-book.csv
  halfwater import --set-aside wrong.csv my-book.csv

All or nothing: one wrong row, and nothing is kept; each wrong row is named with its line
number and what to do. Importing the same file twice does no harm.
With --set-aside the good rows are kept and the exit code is 0, wrong rows or not: the file is
written only when there are some.`
}

// Run imports: enclosure files first, so that the book files may name what they declare.
func (c *importCmd) Run(w *world) error {
	s, k, err := w.open()
	if err != nil {
		return err
	}
	defer s.Close()
	have, err := k.Lines(w.ctx, w.id)
	if err != nil {
		return err
	}
	var in reading
	for _, first := range []bool{true, false} {
		for _, path := range c.Files {
			if isEnclosureFile(path) != first {
				continue
			}
			if err := in.file(w, path, have); err != nil {
				return err
			}
		}
	}
	if len(in.faults) > 0 && c.SetAside == "" {
		return &keeper.Fault{Kind: keeper.Bad, Say: strings.Join(in.faults, "\n") + "\n" + say.Sentence("door.nothing-kept", nil)}
	}
	if c.SetAside != "" && in.aside.Len() > 0 {
		if err := writeNew(c.SetAside, in.aside.Bytes()); err != nil {
			return err
		}
	}
	if err := k.Append(w.ctx, w.id, in.lines...); err != nil {
		return err
	}
	fmt.Fprintln(w.out, say.Sentence("door.imported", struct{ New, Known int }{len(in.lines), in.known}))
	if len(in.faults) > 0 {
		fmt.Fprintln(w.out, strings.Join(in.faults, "\n"))
		fmt.Fprintln(w.out, say.Sentence("door.set-aside", struct {
			N    int
			File string
		}{len(in.faults), c.SetAside}))
	}
	return nil
}

func isEnclosureFile(path string) bool { return strings.EqualFold(filepath.Ext(path), ".toml") }

// reading is what all the files of one import bring together.
type reading struct {
	lines  []book.Line
	known  int
	faults []string
	aside  bytes.Buffer
}

func (r *reading) file(w *world, path string, have []book.Line) error {
	src, err := opened(w, path)
	if err != nil {
		return err
	}
	defer src.Close()
	read := files.ReadBook
	if isEnclosureFile(path) {
		read = files.ReadEnclosure
	}
	im, err := read(src, w.fileOptions(append(append([]book.Line(nil), have...), r.lines...)))
	if err != nil {
		return &keeper.Fault{Kind: keeper.Bad, Field: path, Say: err.Error(), Err: err}
	}
	r.lines = append(r.lines, im.Lines...)
	r.known += im.Known
	for _, f := range im.Faults {
		r.faults = append(r.faults, path+", "+f.Error())
	}
	if len(im.Faults) > 0 && !isEnclosureFile(path) {
		return im.WriteSetAside(&r.aside)
	}
	return nil
}

func opened(w *world, path string) (io.ReadCloser, error) {
	if path == "-" || filepath.Base(path) == "-" {
		return io.NopCloser(w.in), nil
	}
	f, err := os.Open(path)
	if errors.Is(err, os.ErrNotExist) {
		return nil, &keeper.Fault{Kind: keeper.Missing, Field: path, Say: say.Sentence("door.no-file", path), Err: err}
	}
	return f, err
}

// writeNew writes a file that must not be there yet, so that nothing of the keeper's is lost.
func writeNew(path string, text []byte) error {
	f, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
	if err != nil {
		return &keeper.Fault{Kind: keeper.Bad, Field: path, Say: say.Sentence("door.file-there", path), Err: err}
	}
	if _, err := f.Write(text); err != nil {
		f.Close()
		return err
	}
	return f.Close()
}
