package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io/fs"
	"net/url"
	"os"
	"path/filepath"
	"runtime"
	"time"

	_ "modernc.org/sqlite" // the driver "sqlite"
)

// Options of [Open]. The zero value is right for a program.
type Options struct {
	// ReadOnly opens an existing book that is never written.
	ReadOnly bool
	// Wait is how long to wait for another program that is writing; 5 s when zero.
	Wait time.Duration
	// Readers is how many connections may read at once; twice the processors when zero.
	Readers int
}

// Store is the book on SQLite. It is safe for use by several goroutines.
type Store struct {
	path  string
	write *sql.DB // one connection
	read  *sql.DB
}

// DefaultPath is where the book lies when nobody says otherwise: halfwater/book.sqlite in the data
// folder of the XDG base directory specification.
func DefaultPath() (string, error) {
	if dir := os.Getenv("XDG_DATA_HOME"); filepath.IsAbs(dir) {
		return filepath.Join(dir, "halfwater", "book.sqlite"), nil
	}
	home, err := os.UserHomeDir()
	if err != nil {
		return "", fmt.Errorf("find the data folder: %w", err)
	}
	return filepath.Join(home, ".local", "share", "halfwater", "book.sqlite"), nil
}

// Open opens the book in a file, which is made when it is not there; its folder must be. A book of
// an older program is brought up to date. The error is a [*Fault].
func Open(path string, o Options) (*Store, error) {
	if o.Wait == 0 {
		o.Wait = 5 * time.Second
	}
	if o.Readers == 0 {
		o.Readers = 2 * runtime.NumCPU()
	}
	if err := place(path, o); err != nil {
		return nil, err
	}
	s := &Store{path: path}
	ctx := context.Background()
	if err := s.open(ctx, o); err != nil {
		_ = s.Close() // the fault that matters is the first
		return nil, err
	}
	return s, nil
}

func (s *Store) open(ctx context.Context, o Options) (err error) {
	have, err := s.probe(ctx, o)
	if err != nil {
		return err
	}
	if s.write, err = sql.Open("sqlite", dsn(s.path, o, true)); err != nil {
		return s.fault("open", err)
	}
	s.write.SetMaxOpenConns(1)
	if err := s.migrate(ctx, have, o); err != nil {
		return err
	}
	if s.read, err = sql.Open("sqlite", dsn(s.path, o, false)); err != nil {
		return s.fault("open", err)
	}
	s.read.SetMaxOpenConns(o.Readers)
	s.read.SetMaxIdleConns(o.Readers)
	return nil
}

// probe reads the version of the file by a connection that changes nothing: the one that writes turns
// on the write-ahead log, and the file may be none of ours.
func (s *Store) probe(ctx context.Context, o Options) (version int, err error) {
	db, err := sql.Open("sqlite", dsn(s.path, o, false))
	if err != nil {
		return 0, s.fault("open", err)
	}
	defer func() { err = errors.Join(err, db.Close()) }()
	return s.version(ctx, db)
}

// place looks at the file before SQLite does, for clearer words.
func place(path string, o Options) error {
	info, err := os.Stat(path)
	switch {
	case err == nil && info.IsDir():
		return &Fault{Kind: Missing, Path: path, Say: "is a folder, not a file: name a file in it"}
	case err == nil:
		return nil
	case !errors.Is(err, fs.ErrNotExist):
		return &Fault{Kind: Missing, Path: path, Say: "cannot be reached: look at the path and its rights", Err: err}
	case o.ReadOnly:
		return &Fault{Kind: Missing, Path: path, Say: "is not there: look at the path", Err: err}
	}
	dir := filepath.Dir(path)
	if info, err := os.Stat(dir); err != nil || !info.IsDir() {
		return &Fault{Kind: Missing, Path: path, Say: fmt.Sprintf("cannot be made, because there is no folder %s: make it first", dir), Err: err}
	}
	return nil
}

// dsn names the file with the settings that every connection gets. A path is percent-encoded, so
// that a "?" in a folder's name is no query.
func dsn(path string, o Options, writes bool) string {
	abs, err := filepath.Abs(path)
	if err != nil {
		abs = path
	}
	q := url.Values{}
	q.Add("_pragma", fmt.Sprintf("busy_timeout(%d)", o.Wait.Milliseconds()))
	q.Add("_pragma", "foreign_keys(1)")
	q.Add("_pragma", "synchronous(FULL)")
	switch {
	case o.ReadOnly:
		q.Set("mode", "ro")
	case writes:
		q.Add("_pragma", "journal_mode(WAL)")
		q.Set("_txlock", "immediate") // take the one writer's place at once, not half-way
	default:
		q.Add("_pragma", "query_only(1)")
	}
	return (&url.URL{Scheme: "file", Path: filepath.ToSlash(abs), RawQuery: q.Encode()}).String()
}

// Path is the file of the book.
func (s *Store) Path() string { return s.path }

// Close ends the store; what was acknowledged is on disk already.
func (s *Store) Close() error {
	var err error
	for _, db := range []*sql.DB{s.read, s.write} { // the writer last: it empties the log
		if db != nil {
			err = errors.Join(err, db.Close())
		}
	}
	return err
}
