package files

import (
	"bufio"
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode/utf8"

	"halfwater/book"
)

// The CSV as rows of named cells, before they mean anything.

// own are the columns that every row has, whatever its kind.
var own = []string{"id", "at", "recorded", "kind", "water", "batch", "by", "body", "fault"}

// row is one row: its cells by column, trimmed.
type row struct {
	line  int
	cells map[string]string
	raw   string // as it stood in the file
	err   error  // when it is no row
}

func (r row) cell(column string) string { return r.cells[column] }

// empty is a row that says nothing, as spreadsheets leave them behind.
func (r row) empty() bool {
	for c, text := range r.cells {
		if c != "fault" && text != "" {
			return false
		}
	}
	return r.err == nil
}

// rowReader gives the rows of a CSV one after the other.
type rowReader struct {
	csv    *csv.Reader
	tee    *tee
	sep    rune
	header []string // as written
	names  []string // as meant
	whole  bool     // the row just read ends in a line end
}

// tee keeps what was read since the last row, so that a bad row can be set aside as it stood.
type tee struct {
	r    io.Reader
	buf  bytes.Buffer
	base int64 // offset in the file of the first byte of buf
}

func (t *tee) Read(p []byte) (int, error) {
	n, err := t.r.Read(p)
	t.buf.Write(p[:n])
	return n, err
}

func (t *tee) upTo(offset int64) string {
	n := offset - t.base
	t.base = offset
	return string(t.buf.Next(int(n)))
}

var bom = []byte("\xef\xbb\xbf")

// newRowReader reads the header: byte order mark, separator and column names.
func newRowReader(r io.Reader) (*rowReader, error) {
	b := bufio.NewReader(r)
	start, err := b.Peek(4096)
	if err != nil && !errors.Is(err, io.EOF) && !errors.Is(err, bufio.ErrBufferFull) {
		return nil, err
	}
	if bytes.HasPrefix(start, bom) {
		start = start[len(bom):]
		if _, err := b.Discard(len(bom)); err != nil {
			return nil, err
		}
	}
	if bytes.HasPrefix(start, []byte{0xff, 0xfe}) || bytes.HasPrefix(start, []byte{0xfe, 0xff}) || bytes.IndexByte(start, 0) >= 0 {
		return nil, BadFile{Is: "this is no plain text", Do: "save it as CSV in UTF-8"}
	}
	first, _, _ := bytes.Cut(start, []byte("\n"))
	if len(bytes.TrimSpace(start)) == 0 {
		return nil, BadFile{Is: "the file is empty", Do: "begin with a line of column names: at,kind,kit,shown"}
	}
	rr := &rowReader{tee: &tee{r: b}, sep: ','}
	if bytes.Count(first, []byte(";")) > bytes.Count(first, []byte(",")) { // [ReadRow] leans on this too
		rr.sep = ';'
	}
	rr.csv = csv.NewReader(rr.tee)
	rr.csv.Comma = rr.sep
	rr.csv.FieldsPerRecord = -1
	header, err := rr.csv.Read()
	if err != nil {
		var tooLarge TooLarge
		if errors.As(err, &tooLarge) {
			return nil, err
		}
		return nil, BadFile{1, "the line of column names does not read", "write names with " + sepWord(rr.sep) + " between them", err}
	}
	rr.tee.upTo(rr.csv.InputOffset())
	rr.header = header
	return rr, rr.readHeader()
}

func (rr *rowReader) readHeader() error {
	known := columns()
	for i, h := range rr.header {
		name := columnName(h)
		rr.names = append(rr.names, name)
		switch {
		case name == "":
			return BadFile{1, fmt.Sprintf("column %d has no name", i+1), "name it, or take it out", nil}
		case slices.Contains(rr.names[:i], name):
			return BadFile{1, fmt.Sprintf("the column %q is there twice", name), "keep one of the two", nil}
		case !slices.Contains(known, name):
			return BadFile{1, fmt.Sprintf("there is no column %q", h), columnMeant(name, known), nil}
		}
	}
	for _, need := range []string{"at", "kind"} {
		if !slices.Contains(rr.names, need) {
			return BadFile{1, fmt.Sprintf("there is no column %q", need), "the first line names the columns; at and kind are always needed", nil}
		}
	}
	return nil
}

// columnName is the name of a column as it is kept, of one as it is written.
func columnName(written string) string {
	return strings.Join(strings.Fields(strings.ToLower(written)), "_")
}

// columnMeant says what to do about a name that no column has.
func columnMeant(name string, known []string) string {
	if n := near(name, known); len(n) > 0 {
		return "did you mean " + strings.Join(n, " or ") + "?"
	}
	return "doc/files.md names them all"
}

// columns are all names that a column may have.
func columns() []string {
	out := slices.Clone(own)
	for _, kind := range book.Kinds() {
		s, _ := shapeOf(kind)
		out = append(out, s.known()...)
		out = append(out, besides[kind]...)
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// next gives the next row that says something; io.EOF after the last. A row that is none has err
// set; any other error ends the reading.
func (rr *rowReader) next() (row, error) {
	for {
		record, err := rr.csv.Read()
		if errors.Is(err, io.EOF) {
			return row{}, io.EOF
		}
		raw := rr.tee.upTo(rr.csv.InputOffset())
		r := row{raw: strings.TrimRight(raw, "\r\n")}
		rr.whole = strings.HasSuffix(raw, "\n")
		var bad *csv.ParseError
		switch {
		case errors.As(err, &bad):
			r.line, r.err = bad.StartLine, broken(bad, r.raw)
			return r, nil
		case err != nil:
			return row{}, err
		}
		r.line, _ = rr.csv.FieldPos(0)
		if r.err = rr.fill(&r, record); !r.empty() {
			return r, nil
		}
	}
}

func broken(e *csv.ParseError, raw string) error {
	if errors.Is(e.Err, csv.ErrQuote) && strings.Count(raw, `"`)%2 == 1 {
		return fmt.Errorf("a quotation mark opens here and never closes (looked as far as line %d): close it; if the file was cut off, get it whole", e.Line)
	}
	return fmt.Errorf("the quotation marks do not fit (column %d): put a cell that holds one in quotation marks and write it twice", e.Column)
}

func (rr *rowReader) fill(r *row, record []string) error {
	r.cells = map[string]string{}
	for i, text := range record {
		if i < len(rr.names) {
			if trimmed := strings.TrimSpace(text); trimmed == "" || rr.names[i] != "body" {
				text = unguard(trimmed)
			}
			r.cells[rr.names[i]] = text
		}
	}
	if len(record) < len(rr.names) && !rr.whole {
		return fmt.Errorf("is cut off: the file ends within this row, after %d of %d cells and with no line end: get the file whole, or write the rest of the row",
			len(record), len(rr.names))
	}
	if len(record) != len(rr.names) {
		return fmt.Errorf("has %d cells where the first line names %d columns: put %s between all cells, and quotation marks around a cell that holds one",
			len(record), len(rr.names), sepWord(rr.sep))
	}
	for i, text := range record {
		if !utf8.ValidString(text) {
			return fmt.Errorf("column %s is not UTF-8: save the file as CSV in UTF-8", rr.names[i])
		}
		if strings.ContainsRune(text, 0) {
			return fmt.Errorf("column %s holds a zero byte: save the file as plain text", rr.names[i])
		}
	}
	return nil
}

func sepWord(sep rune) string {
	if sep == ';' {
		return "a semicolon"
	}
	return "a comma"
}

// guard keeps a spreadsheet from running a text as a formula: it puts an apostrophe before it.
// [unguard] takes it off again, and neither touches any other text.
func guard(s string) string {
	if dangerous(strings.TrimLeft(s, "'")) {
		return "'" + s
	}
	return s
}

func unguard(s string) string {
	if strings.HasPrefix(s, "'") && dangerous(strings.TrimLeft(s, "'")) {
		return s[1:]
	}
	return s
}

func dangerous(s string) bool {
	for _, p := range []string{"=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠"} {
		if strings.HasPrefix(s, p) {
			return true
		}
	}
	return false
}
