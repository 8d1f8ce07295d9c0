package store

import (
	"flag"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"reflect"
	"testing"

	"halfwater/book"
	"halfwater/internal/store/storetest"
)

var keep = flag.Bool("keep", false, "write testdata/schema-N.sqlite for the newest schema, when it is not there yet")

// What the kept books hold: one line of each sort of storetest.Bodies as they were at version 1.
const keptLines = 11

func osDir(name string) fs.FS { return os.DirFS(name) }

func noteNow() book.Line { return storetest.NoteAt("new", storetest.Day(99), storetest.Day(99)) }

func keptLine(i int, b book.Body) book.Line {
	return book.Line{
		ID: book.ID(fmt.Sprintf("id-%03d", i)), At: storetest.Day(i), Recorded: storetest.Day(i),
		Water: book.MainWater, By: book.Keeper, Body: b,
	}
}

// checkKept compares with what this program would have written: a body of an older version may be
// read otherwise by then, and this test must then say how.
func checkKept(t *testing.T, name string, lines []book.Line) {
	t.Helper()
	for i, b := range storetest.Bodies() {
		if want := keptLine(i, b); i < len(lines) && !reflect.DeepEqual(lines[i], want) {
			t.Errorf("%s, line %d is\n%+v, not\n%+v", name, i, lines[i], want)
		}
	}
}

func TestKeepNewestSchema(t *testing.T) {
	path := filepath.Join("testdata", fmt.Sprintf("schema-%04d.sqlite", schema()))
	if !*keep {
		t.Skip("only with -keep")
	}
	if _, err := os.Stat(path); err == nil {
		t.Fatalf("%s is there: a kept book is never changed", path)
	}
	must(t, os.MkdirAll("testdata", 0o755))
	s, err := Open(path, Options{})
	must(t, err)
	for i, b := range storetest.Bodies() {
		must(t, s.Append(ctx, "riverbank", keptLine(i, b)))
	}
	must(t, s.Close())
}
