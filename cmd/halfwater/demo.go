package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"time"

	"halfwater/demo"
	"halfwater/internal/files"
	"halfwater/internal/keeper"
	"halfwater/internal/report"
	"halfwater/internal/say"
	"halfwater/internal/store"
	"halfwater/internal/web"
)

type demoCmd struct {
	Once bool   `help:"Print the work sheet and leave."`
	Addr string `help:"Where to listen; loopback only." default:"127.0.0.1:8417"`
}

// Help is printed below the flags.
func (demoCmd) Help() string {
	return `Example:
  halfwater demo
  halfwater demo --once

The book lies in a file that is thrown away at the end. The demo's clock stands still.`
}

// Run makes the demo's book, prints its work sheet and serves its pages.
func (c *demoCmd) Run(w *world) error {
	dir, err := os.MkdirTemp("", "halfwater-demo-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	s, err := store.Open(filepath.Join(dir, "book.sqlite"), store.Options{})
	if err != nil {
		return err
	}
	defer s.Close()
	w.now, w.id = demo.Clock, demo.EnclosureID
	k := keeper.New(s, w.now)
	if err := demoBook(w, k); err != nil {
		return err
	}
	look, err := k.Today(w.ctx, w.id, w.waiting())
	if err != nil {
		return err
	}
	fmt.Fprintln(w.out, say.Sentence("door.demo", w.now()))
	fmt.Fprintln(w.out)
	if err := report.Text(w.out, report.Sheet(look.Sheet)); err != nil {
		return err
	}
	if c.Once {
		return nil
	}
	fmt.Fprintln(w.out)
	return serve(w, k, c.Addr, web.Options{Demo: true, Version: version})
}

// demoBook imports the demo's two files through the same door as anyone's.
func demoBook(w *world, k *keeper.Keeper) error {
	o := w.fileOptions(nil)
	o.Zone = time.Local
	lines, err := files.ReadPair(bytes.NewReader(demo.Enclosure), bytes.NewReader(demo.Book), o)
	if err != nil {
		return err
	}
	return k.Append(w.ctx, w.id, lines...)
}
