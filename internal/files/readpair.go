package files

import (
	"io"

	"halfwater/book"
)

// ReadPair reads an enclosure file and then the book file that goes with it, all or nothing: the lines of both. Errors:
// those of [ReadEnclosure] and [ReadBook], and of the first of the two that has a row which cannot be.
func ReadPair(enclosureFile, bookFile io.Reader, o Options) ([]book.Line, error) {
	facts, err := ReadEnclosure(enclosureFile, o)
	if err != nil {
		return nil, err
	}
	if err := facts.Err(); err != nil {
		return nil, err
	}
	o.Have = append(o.Have[:len(o.Have):len(o.Have)], facts.Lines...)
	rows, err := ReadBook(bookFile, o)
	if err != nil {
		return nil, err
	}
	return append(facts.Lines, rows.Lines...), rows.Err()
}
