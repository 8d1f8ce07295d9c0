//go:build linux && (amd64 || arm64)

package store

import (
	"fmt"
	"path/filepath"
	"sync/atomic"
	"syscall"
	"testing"
	"unsafe"

	"modernc.org/libc"
	sqlite3 "modernc.org/sqlite/lib"

	"halfwater/book"
	"halfwater/internal/store/storetest"
)

// A disk that fills up: SQLite's own file layer lets its system calls be replaced
// (sqlite3_vfs.xSetSystemCall), and here write(2) at an offset fails with ENOSPC once so many bytes
// were written, as it would on a full disk. A call that does not fit any more writes the part that
// does, as the kernel would.

type pwrite = func(tls *libc.TLS, fd int32, buf uintptr, n uint64, offset int64) int64

var (
	realPwrite pwrite
	room       atomic.Int64 // bytes left on the disk
	limited    atomic.Bool
)

func fullPwrite(tls *libc.TLS, fd int32, buf uintptr, n uint64, offset int64) int64 {
	if !limited.Load() {
		return realPwrite(tls, fd, buf, n, offset)
	}
	left := room.Load()
	if left <= 0 {
		errno := libc.X__errno_location(tls)
		**(**int32)(unsafe.Pointer(&errno)) = int32(syscall.ENOSPC)
		return -1
	}
	n = min(n, uint64(left))
	room.Add(-int64(n))
	return realPwrite(tls, fd, buf, n, offset)
}

// replacement keeps the function alive for as long as SQLite may call it.
var replacement pwrite = fullPwrite

func fillableDisk(t *testing.T) {
	t.Helper()
	tls := libc.NewTLS()
	t.Cleanup(tls.Close)
	vfsAddress := sqlite3.Xsqlite3_vfs_find(tls, 0)
	vfs := *(**sqlite3.Tsqlite3_vfs)(unsafe.Pointer(&vfsAddress))
	name, err := libc.CString("pwrite")
	must(t, err)
	t.Cleanup(func() { libc.Xfree(tls, name) })
	get := *(*func(*libc.TLS, uintptr, uintptr) uintptr)(unsafe.Pointer(&vfs.FxGetSystemCall))
	set := *(*func(*libc.TLS, uintptr, uintptr, uintptr) int32)(unsafe.Pointer(&vfs.FxSetSystemCall))
	if realPwrite == nil {
		address := get(tls, vfsAddress, name)
		if address == 0 {
			t.Fatal("SQLite writes by another system call than pwrite here")
		}
		realPwrite = *(*pwrite)(unsafe.Pointer(&address))
		if rc := set(tls, vfsAddress, name, *(*uintptr)(unsafe.Pointer(&replacement))); rc != sqlite3.SQLITE_OK {
			t.Fatalf("the system call could not be replaced: %d", rc)
		}
	}
	t.Cleanup(func() { limited.Store(false) })
}

// fill leaves so many bytes of room.
func fill(bytes int64) { room.Store(bytes); limited.Store(true) }

func TestFullDisk(t *testing.T) {
	fillableDisk(t)
	for _, left := range []int64{0, 1, 100, 4096, 5000, 20_000, 60_000} {
		t.Run(fmt.Sprint(left), func(t *testing.T) {
			limited.Store(false)
			path := filepath.Join(t.TempDir(), "book.sqlite")
			s, err := Open(path, Options{})
			must(t, err)
			acknowledged := 0
			for ; acknowledged < 3; acknowledged++ {
				must(t, s.Append(ctx, "e", storetest.NoteAt(fmt.Sprint(acknowledged), storetest.Day(0), storetest.Day(0))))
			}
			fill(left)
			for {
				err = s.Append(ctx, "e", storetest.NoteAt(fmt.Sprint(acknowledged), storetest.Day(0), storetest.Day(0)))
				if err != nil {
					break
				}
				if acknowledged++; acknowledged > 1000 {
					t.Fatal("the disk never filled up")
				}
			}
			if !isKind(err, Full) {
				t.Fatalf("a full disk gives: %v", err)
			}
			// What was acknowledged can be read while the disk is full.
			if got, err := s.Lines(ctx, "e"); err != nil || len(got) != acknowledged {
				t.Errorf("%d lines of %d (%v)", len(got), acknowledged, err)
			}
			// A large batch fails as a whole.
			var many []book.Line
			for i := range 2000 {
				many = append(many, storetest.NoteAt(fmt.Sprint("batch", i), storetest.Day(0), storetest.Day(0)))
			}
			if err := s.Append(ctx, "e", many...); !isKind(err, Full) {
				t.Errorf("a batch on a full disk gives: %v", err)
			}
			// Room again: the same line goes in, nothing else has appeared.
			limited.Store(false)
			must(t, s.Append(ctx, "e", storetest.NoteAt("after", storetest.Day(1), storetest.Day(1))))
			must(t, s.Close())
			s, err = Open(path, Options{})
			must(t, err)
			defer s.Close()
			if got, err := s.Lines(ctx, "e"); err != nil || len(got) != acknowledged+1 {
				t.Errorf("%d lines of %d after reopening (%v)", len(got), acknowledged+1, err)
			}
		})
	}
}

func TestFullDiskAtTheFirstOpening(t *testing.T) {
	fillableDisk(t)
	path := filepath.Join(t.TempDir(), "book.sqlite")
	fill(10_000)
	s, err := Open(path, Options{})
	if err == nil {
		_ = s.Close()
	}
	if !isKind(err, Full) {
		t.Errorf("opening on a full disk gives: %v", err)
	}
	limited.Store(false)
	s, err = Open(path, Options{})
	must(t, err)
	must(t, s.Append(ctx, "e", storetest.NoteAt("a", storetest.Day(0), storetest.Day(0))))
	must(t, s.Close())
}
