package files

import (
	"errors"
	"fmt"
	"io"
	"os"
	"strings"
	"time"

	"halfwater/book"
)

// Options of reading a file.
type Options struct {
	Now   time.Time      // nothing may have happened later; what is read is recorded then
	Zone  *time.Location // of times without a zone; UTC when nil
	NewID func() book.ID // names a line that has no name yet, in rising order
	Have  []book.Line    // the book that the lines are to join
	Limit int64          // the largest file in bytes; 64 MB when zero
}

const usualLimit = 64 << 20

func (o Options) limit() int64 {
	if o.Limit == 0 {
		return usualLimit
	}
	return o.Limit
}

func (o Options) zone() *time.Location {
	if o.Zone == nil {
		return time.UTC
	}
	return o.Zone
}

// Import is what a file brings.
type Import struct {
	Lines  []book.Line // new lines, checked, ready to be appended in one go
	Known  int         // rows or tables that the book says already
	Faults []RowFault  // what is wrong, by line number; then nothing should be appended

	setAside setAside
}

// Err is nil when all is well, else a [*Refused].
func (im *Import) Err() error {
	if len(im.Faults) == 0 {
		return nil
	}
	return &Refused{im.Faults}
}

// RowFault is what is wrong with one row of a CSV or one key of a TOML.
type RowFault struct {
	Line   int    // in the file, counted from 1
	Column string // or key; "" when it is about the whole row
	Err    error
}

func (f RowFault) Error() string {
	if f.Column != "" {
		return fmt.Sprintf("line %d, %s: %v", f.Line, f.Column, f.Err)
	}
	return fmt.Sprintf("line %d: %v", f.Line, f.Err)
}

func (f RowFault) Unwrap() error { return f.Err }

// Refused is a file of which nothing is taken because of its faults.
type Refused struct{ Faults []RowFault }

func (r *Refused) Error() string {
	const most = 20
	var out []string
	for _, f := range r.Faults[:min(most, len(r.Faults))] {
		out = append(out, f.Error())
	}
	if n := len(r.Faults) - most; n > 0 {
		out = append(out, fmt.Sprintf("and %d more", n))
	}
	return strings.Join(out, "\n")
}

// Unwrap gives the single faults.
func (r *Refused) Unwrap() []error {
	var out []error
	for _, f := range r.Faults {
		out = append(out, f)
	}
	return out
}

// TooLarge is a file over the limit; it was not read.
type TooLarge struct {
	Size  int64 // 0 when only known to be over
	Limit int64
}

func (e TooLarge) Error() string {
	mb := func(n int64) string { return fmt.Sprintf("%.0f MB", float64(n)/(1<<20)) }
	s := "the file is larger than " + mb(e.Limit)
	if e.Size > 0 {
		s = fmt.Sprintf("the file has %s, more than %s", mb(e.Size), mb(e.Limit))
	}
	return s + ": a book of ten years has less; is it the right file? Else split it"
}

// BadFile is a file that cannot be read as what it should be.
type BadFile struct {
	Line   int // 0 when it is about the whole file
	Is, Do string
	Err    error
}

func (e BadFile) Error() string {
	s := e.Is + ": " + e.Do
	if e.Line > 0 {
		s = fmt.Sprintf("line %d: %s", e.Line, s)
	}
	return s
}

func (e BadFile) Unwrap() error { return e.Err }

// limited refuses a file over the limit: at once when its size can be known, else when the limit is
// passed.
func limited(r io.Reader, limit int64) (io.Reader, error) {
	if f, ok := r.(interface{ Stat() (os.FileInfo, error) }); ok {
		if info, err := f.Stat(); err == nil && info.Mode().IsRegular() && info.Size() > limit {
			return nil, TooLarge{info.Size(), limit}
		}
	}
	return &limitReader{r, limit, limit}, nil
}

type limitReader struct {
	r           io.Reader
	left, limit int64
}

func (l *limitReader) Read(p []byte) (int, error) {
	if l.left <= 0 {
		var one [1]byte
		if n, err := io.ReadFull(l.r, one[:]); n == 0 {
			if errors.Is(err, io.EOF) {
				return 0, io.EOF
			}
			return 0, err
		}
		return 0, TooLarge{0, l.limit}
	}
	n, err := l.r.Read(p[:min(int64(len(p)), l.left)])
	l.left -= int64(n)
	return n, err
}
