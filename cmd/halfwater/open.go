package main

import (
	"os"
	"path/filepath"

	"halfwater/internal/keeper"
	"halfwater/internal/say"
	"halfwater/internal/store"
)

// open opens the book that the flags name, and gives a keeper of it. The folder of the default
// book is made; that of a named one must be there.
func (w *world) open() (*store.Store, *keeper.Keeper, error) {
	path := w.book
	if path == "" {
		var err error
		if path, err = store.DefaultPath(); err != nil {
			return nil, nil, err
		}
		if err := os.MkdirAll(filepath.Dir(path), 0o700); err != nil {
			return nil, nil, err
		}
	}
	s, err := store.Open(path, store.Options{})
	if err != nil {
		return nil, nil, &keeper.Fault{Kind: keeper.Store, Say: err.Error(), Err: err}
	}
	return s, keeper.New(s, w.now), nil
}

// openThere opens the book to look at it: one that is not there is said, and none is made.
func (w *world) openThere() (*store.Store, *keeper.Keeper, error) {
	if !bookThere(w.book) {
		path := w.book
		if path == "" {
			path, _ = store.DefaultPath()
		}
		return nil, nil, &keeper.Fault{Kind: keeper.Missing, Say: say.Sentence("door.no-book", path)}
	}
	return w.open()
}
