package files

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"reflect"
	"slices"
	"strings"
	"time"

	"halfwater/book"
	"halfwater/enclosure"
)

// draft is a row on its way to a line.
type draft struct {
	row
	book.Line
	given   map[string]bool // field names that have a cell
	checked bool
	kept    bool // it came from a book: id and recorded are its own
	known   bool // the book has it already
	fault   *RowFault
}

func (d *draft) bad(column string, err error) {
	if d.fault == nil {
		d.fault = &RowFault{d.line, column, err}
	}
}

// ReadBook reads a book file (CSV). What is wrong with a row is in Import.Faults, and then
// Import.Lines are the other rows; the error is about the file as a whole: [TooLarge], [BadFile] or
// what the reader says.
func ReadBook(r io.Reader, o Options) (*Import, error) {
	limited, err := limited(r, o.limit())
	if err != nil {
		return nil, err
	}
	rows, err := newRowReader(limited)
	if err != nil {
		return nil, err
	}
	var drafts []*draft
	dialect := dialect{zone: o.zone(), comma: rows.sep == ';'}
	for {
		row, err := rows.next()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return nil, err
		}
		drafts = append(drafts, newDraft(row, dialect, o))
	}
	finish(drafts, o)
	im := &Import{setAside: setAside{header: rows.header, sep: rows.sep}}
	for _, d := range drafts {
		switch {
		case d.fault != nil:
			im.Faults = append(im.Faults, *d.fault)
			im.setAside.rows = append(im.setAside.rows, d.row)
			im.setAside.faults = append(im.setAside.faults, *d.fault)
		case d.known:
			im.Known++
		default:
			im.Lines = append(im.Lines, d.Line)
		}
	}
	im.setAside.names = rows.names
	return im, nil
}

// newDraft reads what a row says by itself.
func newDraft(r row, in dialect, o Options) *draft {
	d := &draft{row: r, given: map[string]bool{}}
	if r.err != nil {
		d.bad("", r.err)
		return d
	}
	d.Line = book.Line{
		ID: book.ID(r.cell("id")), Recorded: o.Now.UTC().Truncate(time.Microsecond),
		Batch: r.cell("batch"), By: book.By(r.cell("by")),
	}
	if d.By == "" {
		d.By = book.Keeper
	}
	d.kept = d.ID != "" && r.cell("recorded") != ""
	for _, t := range []struct {
		column string
		to     *time.Time
	}{{"at", &d.At}, {"recorded", &d.Recorded}} {
		text := r.cell(t.column)
		if text == "" {
			if t.column == "at" {
				d.bad("at", errors.New("is empty: write when it was, like 2026-05-24 18:30"))
			}
			continue
		}
		when, err := in.time(text)
		if err != nil {
			d.bad(t.column, err)
		}
		*t.to = when
	}
	if err := d.readBody(in); err != nil {
		d.bad("", err)
	}
	if d.Body == nil {
		return d
	}
	switch w := r.cell("water"); w {
	case "":
		d.Water = book.WaterOf(d.Body)
	case "all":
		d.Water = book.AllWaters
	default:
		d.Water = w
	}
	return d
}

// readBody reads the JSON of the column body first, and then the cells.
func (d *draft) readBody(in dialect) error {
	kind := strings.Join(strings.Fields(strings.ReplaceAll(d.cell("kind"), "_", " ")), " ")
	if kind == "" {
		return KeyFault{"kind", "is empty", "say what sort of line it is: reading, change, top-up, feed, note, ..."}
	}
	s, known := shapeOf(kind)
	if !known {
		return d.readUnread(d.cell("kind"))
	}
	text := d.cell("body")
	if text == "" {
		text = "{}"
	}
	decoded, err := DecodeBody(kind, text)
	if err != nil {
		return err
	}
	if _, later := decoded.(book.Unread); later {
		d.Body = decoded
		return d.onlyOwnCells(kind)
	}
	body := reflect.New(s.typ).Elem()
	body.Set(reflect.ValueOf(decoded))
	beside, err := d.fill(body, s, in)
	if err != nil {
		return err
	}
	if err := settle(body, d.given, beside); err != nil {
		return err
	}
	d.Body = body.Interface().(book.Body)
	return nil
}

// readUnread keeps a row of a kind that this program does not know. Only a row that came from a book,
// or at least carries a JSON body, can be that; otherwise the kind is a slip of the pen.
func (d *draft) readUnread(kind string) error {
	text := d.cell("body")
	if text == "" || !json.Valid([]byte(text)) {
		do := "write one of " + strings.Join(book.Kinds(), ", ")
		if n := near(strings.ToLower(kind), book.Kinds()); len(n) > 0 {
			do = "did you mean " + strings.Join(n, " or ") + "?"
		}
		return KeyFault{"kind", fmt.Sprintf("%q is not known", kind), do}
	}
	d.Body = book.Unread{Named: kind, Text: text}
	return d.onlyOwnCells(kind)
}

func (d *draft) onlyOwnCells(kind string) error {
	for column, text := range d.cells {
		if text != "" && !slices.Contains(own, column) {
			return KeyFault{column, fmt.Sprintf("says %q", text), fmt.Sprintf("this program does not know what a %s makes of it: update the program, or move it into the JSON of body", kind)}
		}
	}
	return nil
}

// fill puts the cells of the row into the body.
func (d *draft) fill(body reflect.Value, s *shape, in dialect) (beside map[string]string, err error) {
	beside = map[string]string{}
	paths := map[string]string{} // field -> the column that set it
	for _, column := range sortedColumns(d.cells) {
		text := d.cells[column]
		if text == "" || slices.Contains(own, column) {
			continue
		}
		if slices.Contains(besides[s.kind], column) {
			beside[column] = text
			continue
		}
		sp, ok := s.names[column]
		if !ok {
			do := fmt.Sprintf("a %s has no such thing; it has %s", s.kind, strings.Join(slices.Concat(s.known(), besides[s.kind]), ", "))
			if n := near(column, s.known()); len(n) > 0 {
				do = fmt.Sprintf("for a %s write %s", s.kind, strings.Join(n, " or "))
			}
			return nil, KeyFault{column, fmt.Sprintf("says %q", text), do}
		}
		place := fmt.Sprint(sp.path)
		if other, twice := paths[place]; twice {
			return nil, KeyFault{column, "says the same as " + other, "keep one of the two"}
		}
		if !nothing(body.FieldByIndex(sp.path)) {
			return nil, KeyFault{column, "is in the JSON of body too", "keep one of the two"}
		}
		raw, err := sp.cell(text, in)
		if err == nil {
			err = sp.put(body, raw)
		}
		if err != nil {
			return nil, cellFault{column, text, err}
		}
		paths[place] = column
		d.given[column] = true
	}
	return beside, nil
}

// cellFault is a cell that does not read.
type cellFault struct {
	column, text string
	err          error
}

func (f cellFault) Error() string { return fmt.Sprintf("%s says %q: %v", f.column, f.text, f.err) }
func (f cellFault) Unwrap() error { return f.err }

func sortedColumns(cells map[string]string) []string {
	out := make([]string, 0, len(cells))
	for c := range cells {
		out = append(out, c)
	}
	slices.Sort(out)
	return out
}

// finish looks at the rows together: first the facts, so that the others can lean on them; then what
// readings mean, what lines refer to, and which of them the book has already.
func finish(drafts []*draft, o Options) {
	names := namer(o)
	for _, d := range drafts {
		if d.fault == nil && d.ID == "" {
			d.ID = names()
		}
	}
	inOrder := slices.Clone(drafts)
	slices.SortStableFunc(inOrder, func(a, b *draft) int { return book.Compare(a.Line, b.Line) })

	all := slices.Clone(o.Have)
	ids := map[book.ID]bool{}
	for _, l := range o.Have {
		ids[l.ID] = true
	}
	for _, d := range drafts {
		if d.fault == nil {
			ids[d.ID] = true
		}
	}
	has := func(id book.ID) bool { return ids[id] }

	for _, d := range inOrder {
		if d.fault != nil {
			continue
		}
		_, fact := d.Body.(enclosure.Fact)
		_, withdraw := d.Body.(book.Withdraw)
		if fact || withdraw {
			d.check(o)
			if d.fault == nil {
				all = append(all, d.Line)
			}
		}
	}
	ground := groundOf(all, o.Now)
	for _, d := range inOrder {
		if d.fault != nil {
			continue
		}
		inForce := ground.under(d.Line)
		if r, ok := d.Body.(book.Reading); ok {
			d.meaning(r, inForce)
		}
		if !d.kept && d.fault == nil {
			if err := d.Refers(inForce, has); err != nil {
				d.bad("", err)
			} else if err := d.Fits(inForce); err != nil {
				d.bad("", err)
			}
		}
		d.check(o)
	}
	recognise(drafts, o.Have)
}

// check looks at the line by itself, once.
func (d *draft) check(o Options) {
	if d.checked || d.fault != nil {
		return
	}
	d.checked = true
	if err := d.Line.Check(o.Now); err != nil {
		d.bad("", err)
	}
}

func namer(o Options) func() book.ID {
	if o.NewID != nil {
		return o.NewID
	}
	n := 0
	return func() book.ID { n++; return book.ID(fmt.Sprintf("line-%06d", n)) }
}
