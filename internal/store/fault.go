package store

import (
	"errors"
	"fmt"

	"modernc.org/sqlite"
	sqlite3 "modernc.org/sqlite/lib"
)

// FaultKind says what stands in the way.
type FaultKind int

// The kinds of fault.
const (
	Other     FaultKind = iota
	Missing             // no such file or folder
	Locked              // another program is writing
	ReadOnly            // may not be written
	Full                // the disk is full
	Corrupt             // the file is damaged
	NotABook            // the file is something else
	Newer               // the file is of a later version of the program
	Duplicate           // a line with this id is there already
)

// Fault is why the book could not be read or written, in a sentence. What was acknowledged before is
// untouched, and of what was being written nothing is kept.
type Fault struct {
	Kind FaultKind
	Path string
	Say  string
	Err  error
}

func (f *Fault) Error() string { return fmt.Sprintf("the book %s %s", f.Path, f.Say) }
func (f *Fault) Unwrap() error { return f.Err }

// fault puts an error of SQLite into words; act is what was being done.
func (s *Store) fault(act string, err error) error {
	var mine *Fault
	var theirs *sqlite.Error
	switch {
	case err == nil:
		return nil
	case errors.As(err, &mine):
		return err
	case !errors.As(err, &theirs):
		return fmt.Errorf("%s the book %s: %w", act, s.path, err)
	}
	f := &Fault{Path: s.path, Err: err}
	switch theirs.Code() & 0xff { // the primary result code
	case sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED:
		f.Kind, f.Say = Locked, "is in use by another program that is writing: try again in a moment, or close that program"
	case sqlite3.SQLITE_READONLY, sqlite3.SQLITE_PERM, sqlite3.SQLITE_AUTH:
		f.Kind, f.Say = ReadOnly, "may only be read: look at the rights of the file and of its folder"
	case sqlite3.SQLITE_FULL:
		f.Kind, f.Say = Full, "cannot grow, because the disk is full: make room and write it again; what was there is untouched"
	case sqlite3.SQLITE_CORRUPT:
		f.Kind, f.Say = Corrupt, "is damaged: keep the file as it is, and go back to the last export or copy"
	case sqlite3.SQLITE_NOTADB:
		f.Kind, f.Say = NotABook, "is no book of this program: look at the path"
	case sqlite3.SQLITE_CANTOPEN:
		f.Kind, f.Say = Missing, "cannot be opened: look at the path, and at the rights of the file and of its folder"
	case sqlite3.SQLITE_IOERR:
		f.Say = fmt.Sprintf("could not be read or written (%v): look at the disk", err)
	default:
		return fmt.Errorf("%s the book %s: %w", act, s.path, err)
	}
	return f
}
