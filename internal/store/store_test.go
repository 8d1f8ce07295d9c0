package store

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"testing"

	"halfwater/internal/store/storetest"
)

var ctx = context.Background()

func must(t testing.TB, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

// isKind reports whether err is a Fault of a kind.
func isKind(err error, k FaultKind) bool {
	var f *Fault
	return errors.As(err, &f) && f.Kind == k
}

func TestConformance(t *testing.T) {
	storetest.Run(t, func(t *testing.T) func() storetest.Store {
		path := filepath.Join(t.TempDir(), "a ?#% folder's book.sqlite")
		return func() storetest.Store {
			s, err := Open(path, Options{})
			must(t, err)
			return s
		}
	}, func(err error) bool { return isKind(err, Duplicate) })
}

// Every connection of both pools has the settings that durability rests on.
func TestPragmasOfEveryConnection(t *testing.T) {
	s, err := Open(filepath.Join(t.TempDir(), "book.sqlite"), Options{Readers: 5})
	must(t, err)
	defer s.Close()
	const full = 2
	for i := range 6 {
		db, name := s.read, fmt.Sprintf("reader %d", i)
		if i == 5 {
			db, name = s.write, "writer"
		}
		conn, err := db.Conn(ctx) // held until the end, so that the pool must open another
		must(t, err)
		defer conn.Close()
		for pragma, want := range map[string]any{
			"synchronous": int64(full), "journal_mode": "wal", "foreign_keys": int64(1), "busy_timeout": int64(5000),
		} {
			var got any
			must(t, conn.QueryRowContext(ctx, "PRAGMA "+pragma).Scan(&got))
			if got != want {
				t.Errorf("%s: %s is %v, not %v", name, pragma, got, want)
			}
		}
		var queryOnly int64
		must(t, conn.QueryRowContext(ctx, "PRAGMA query_only").Scan(&queryOnly))
		if (queryOnly == 1) != (db == s.read) {
			t.Errorf("%s: query_only is %d", name, queryOnly)
		}
	}
	if open := s.read.Stats().OpenConnections; open != 5 {
		t.Errorf("%d connections were read, not 5", open)
	}
	if open := s.write.Stats().MaxOpenConnections; open != 1 {
		t.Errorf("%d connections may write", open)
	}
}
