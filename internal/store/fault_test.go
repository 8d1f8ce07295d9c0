package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"halfwater/internal/store/storetest"
)

// Every fault is a sentence that names the file and says what to do, and leaves the file as it was.

func sentence(t *testing.T, err error, kind FaultKind, path string, words ...string) {
	t.Helper()
	if !isKind(err, kind) {
		t.Errorf("wrong kind of fault: %v", err)
		return
	}
	for _, w := range append(words, path, ":") {
		if !strings.Contains(err.Error(), w) {
			t.Errorf("%q does not say %q", err, w)
		}
	}
}

func bookFile(t *testing.T) (path string) {
	t.Helper()
	path = filepath.Join(t.TempDir(), "book.sqlite")
	s, err := Open(path, Options{})
	must(t, err)
	must(t, s.Append(ctx, "e", storetest.NoteAt("a", storetest.Day(0), storetest.Day(0))))
	must(t, s.Close())
	return path
}

func unchanged(t *testing.T, path string) func() {
	t.Helper()
	before, err := os.ReadFile(path)
	must(t, err)
	return func() {
		t.Helper()
		after, err := os.ReadFile(path)
		must(t, err)
		if string(after) != string(before) {
			t.Error("the file was touched")
		}
	}
}

func TestNoFolder(t *testing.T) {
	path := filepath.Join(t.TempDir(), "not", "there", "book.sqlite")
	_, err := Open(path, Options{})
	sentence(t, err, Missing, path, "no folder", "make it first")
}

func TestAFolderIsNoBook(t *testing.T) {
	path := t.TempDir()
	_, err := Open(path, Options{})
	sentence(t, err, Missing, path, "is a folder")
}

func TestReadOnlyNeedsTheFile(t *testing.T) {
	path := filepath.Join(t.TempDir(), "book.sqlite")
	_, err := Open(path, Options{ReadOnly: true})
	sentence(t, err, Missing, path, "is not there")
	if _, err := os.Stat(path); !errors.Is(err, os.ErrNotExist) {
		t.Error("a file was made")
	}
}

func TestDefaultPath(t *testing.T) {
	t.Setenv("HOME", "/home/moss")
	for data, want := range map[string]string{
		"":              "/home/moss/.local/share/halfwater/book.sqlite",
		"/var/lib/data": "/var/lib/data/halfwater/book.sqlite",
		"not/absolute":  "/home/moss/.local/share/halfwater/book.sqlite", // the specification says to ignore it
	} {
		t.Setenv("XDG_DATA_HOME", data)
		if got, err := DefaultPath(); err != nil || filepath.ToSlash(got) != want {
			t.Errorf("with %q the book lies at %s, not %s (%v)", data, got, want, err)
		}
	}
}

func TestNotADatabase(t *testing.T) {
	path := filepath.Join(t.TempDir(), "letter.txt")
	must(t, os.WriteFile(path, []byte(strings.Repeat("Dear frogs, ", 1000)), 0o600))
	same := unchanged(t, path)
	_, err := Open(path, Options{})
	sentence(t, err, NotABook, path, "look at the path")
	same()
}

func TestAnotherDatabase(t *testing.T) {
	path := filepath.Join(t.TempDir(), "other.sqlite")
	db, err := sql.Open("sqlite", path)
	must(t, err)
	_, err = db.Exec("CREATE TABLE recipe (name TEXT)")
	must(t, err)
	must(t, db.Close())
	same := unchanged(t, path)
	_, err = Open(path, Options{})
	sentence(t, err, NotABook, path, "other tables")
	same()
}

func TestCutFile(t *testing.T) {
	path := bookFile(t)
	data, err := os.ReadFile(path)
	must(t, err)
	must(t, os.WriteFile(path, data[:len(data)-2*4096], 0o600))
	same := unchanged(t, path)
	s, err := Open(path, Options{})
	if err == nil {
		defer s.Close()
		_, err = s.Lines(ctx, "e")
	}
	sentence(t, err, Corrupt, path, "damaged", "keep the file")
	same()
}

func TestScribbledFile(t *testing.T) {
	path := bookFile(t)
	data, err := os.ReadFile(path)
	must(t, err)
	for i := 4096; i < len(data); i++ { // all but the first page
		data[i] = 0xAA
	}
	must(t, os.WriteFile(path, data, 0o600))
	s, err := Open(path, Options{})
	if err == nil {
		defer s.Close()
		_, err = s.Lines(ctx, "e")
	}
	sentence(t, err, Corrupt, path, "damaged")
}

func TestNewerSchema(t *testing.T) {
	path := bookFile(t)
	db, err := sql.Open("sqlite", path)
	must(t, err)
	_, err = db.Exec("PRAGMA journal_mode = DELETE") // so that turning on the log would be seen
	must(t, err)
	_, err = db.Exec("INSERT INTO migration (number, taken) VALUES (999, 0)")
	must(t, err)
	must(t, db.Close())
	same := unchanged(t, path)
	for _, o := range []Options{{}, {ReadOnly: true}} {
		_, err = Open(path, o)
		sentence(t, err, Newer, path, "newer version", "999")
	}
	same()
}

func TestLocked(t *testing.T) {
	path := bookFile(t)
	other, err := sql.Open("sqlite", path+"?_txlock=immediate")
	must(t, err)
	defer other.Close()
	s, err := Open(path, Options{Wait: 30 * time.Millisecond})
	must(t, err)
	defer s.Close()
	tx, err := other.Begin()
	must(t, err)
	note := storetest.NoteAt("b", storetest.Day(1), storetest.Day(1))
	sentence(t, s.Append(ctx, "e", note), Locked, path, "in use by another program", "try again")
	if got, err := s.Lines(ctx, "e"); err != nil || len(got) != 1 {
		t.Errorf("while another writes, %d lines can be read (%v)", len(got), err)
	}
	must(t, tx.Rollback())
	must(t, s.Append(ctx, "e", note))
}

func TestWaitsForTheOther(t *testing.T) {
	path := bookFile(t)
	other, err := sql.Open("sqlite", path+"?_txlock=immediate")
	must(t, err)
	defer other.Close()
	s, err := Open(path, Options{})
	must(t, err)
	defer s.Close()
	tx, err := other.Begin()
	must(t, err)
	released := make(chan error)
	go func() {
		time.Sleep(50 * time.Millisecond)
		released <- tx.Rollback()
	}()
	must(t, s.Append(ctx, "e", storetest.NoteAt("b", storetest.Day(1), storetest.Day(1))))
	must(t, <-released)
}

func TestOpenedForReading(t *testing.T) {
	path := bookFile(t)
	s, err := Open(path, Options{ReadOnly: true})
	must(t, err)
	defer s.Close()
	sentence(t, s.Append(ctx, "e", storetest.NoteAt("b", storetest.Day(1), storetest.Day(1))), ReadOnly, path, "may only be read")
	if got, err := s.Lines(ctx, "e"); err != nil || len(got) != 1 {
		t.Errorf("%d lines (%v)", len(got), err)
	}
}

// tryToWrite is a process without the right to write the file.
func tryToWrite(path string) error {
	s, err := Open(path, Options{})
	if err == nil {
		err = s.Append(context.Background(), "e", storetest.NoteAt("b", storetest.Day(1), storetest.Day(1)))
	}
	if isKind(err, ReadOnly) {
		fmt.Println(err)
		return nil
	}
	return fmt.Errorf("writing without the right gives: %v", err)
}

func TestNoRightToWrite(t *testing.T) {
	path := bookFile(t)
	dir := filepath.Dir(path)
	must(t, os.Chmod(path, 0o444))
	must(t, os.Chmod(dir, 0o555))
	t.Cleanup(func() { must(t, os.Chmod(dir, 0o755)) }) // so that it can be cleared away
	same := unchanged(t, path)
	binary := self(t)
	if os.Geteuid() == 0 { // everything is allowed to root: another user tries
		public, err := os.MkdirTemp("", "halfwater-")
		must(t, err)
		t.Cleanup(func() { _ = os.RemoveAll(public) })
		must(t, os.Chmod(public, 0o755))
		copyFile(t, binary, filepath.Join(public, "try"), 0o755)
		copyFile(t, path, filepath.Join(public, "book.sqlite"), 0o444)
		binary, path = filepath.Join(public, "try"), filepath.Join(public, "book.sqlite")
	}
	cmd := child(binary, "try to write", path)
	asNobody(cmd)
	out, err := cmd.CombinedOutput()
	if err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	if !strings.Contains(string(out), "may only be read: look at the rights") {
		t.Errorf("said %s", out)
	}
	same()
}
