package keeper

import (
	"context"
	"sync"
	"time"

	"github.com/google/uuid"

	"halfwater/book"
	"halfwater/internal/say"
)

// Book is where lines are kept. Append is all or nothing and returns only after the lines are
// safe on disk.
type Book interface {
	Append(ctx context.Context, enclosure string, lines ...book.Line) error
	Lines(ctx context.Context, enclosure string) ([]book.Line, error)
}

// Keeper does what a keeper can do with one store of books.
type Keeper struct {
	book Book
	now  func() time.Time

	mu    sync.Mutex
	seen  map[string]Look  // by enclosure and water body, the last one
	ahead map[string]ahead // by enclosure and weeks, the last outlook

	jobs *jobs // what is being worked out
}

// New gives a keeper of the books in b. now is the clock; the demo's stands still.
func New(b Book, now func() time.Time) *Keeper {
	return &Keeper{book: b, now: now, seen: map[string]Look{}, ahead: map[string]ahead{}, jobs: newJobs()}
}

// Now is the moment by the keeper's clock.
func (k *Keeper) Now() time.Time { return k.now() }

// known is the moment of knowledge of a book: now, or when a line was recorded by a clock that was ahead of
// now's. What stands in the book is known, whatever the clock says.
func known(lines []book.Line, now time.Time) time.Time {
	for i := range lines {
		if lines[i].Recorded.After(now) {
			now = lines[i].Recorded
		}
	}
	return now
}

// NewID makes the name of a line: opaque, and in the order of making (UUID version 7, RFC 9562).
func NewID() book.ID { return book.ID(uuid.Must(uuid.NewV7()).String()) }

// Lines are all lines of an enclosure, in the order of the book.
func (k *Keeper) Lines(ctx context.Context, enclosure string) ([]book.Line, error) {
	lines, err := k.book.Lines(ctx, enclosure)
	if err != nil {
		return nil, storeFault(err)
	}
	book.Sort(lines)
	return lines, nil
}

// Append writes lines that are already checked and named, all or none.
func (k *Keeper) Append(ctx context.Context, enclosure string, lines ...book.Line) error {
	if err := k.book.Append(ctx, enclosure, lines...); err != nil {
		return storeFault(err)
	}
	return nil
}

func storeFault(err error) *Fault { return &Fault{Kind: Store, Say: say.Error(err), Err: err} }
