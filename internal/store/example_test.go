package store_test

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"time"

	"halfwater/book"
	"halfwater/internal/store"
)

// A line that was acknowledged is there when the book is opened again.
func Example() {
	dir, err := os.MkdirTemp("", "halfwater-")
	if err != nil {
		fmt.Println(err)
		return
	}
	defer os.RemoveAll(dir)
	ctx := context.Background()
	at := time.Date(2026, 5, 24, 18, 0, 0, 0, time.UTC)
	for _, text := range []string{"all at the surface", "well again"} {
		s, err := store.Open(filepath.Join(dir, "book.sqlite"), store.Options{})
		if err != nil {
			fmt.Println(err)
			return
		}
		l := book.Line{ID: book.ID(text[:4]), At: at, Recorded: at, Water: book.MainWater, By: book.Keeper, Body: book.Note{Text: text}}
		if err := s.Append(ctx, "riverbank", l); err != nil {
			fmt.Println(err)
		}
		lines, err := s.Lines(ctx, "riverbank")
		fmt.Println(len(lines), "lines", err)
		if err := s.Close(); err != nil {
			fmt.Println(err)
		}
	}
	// Output:
	// 1 lines <nil>
	// 2 lines <nil>
}
