package files

import (
	"encoding/csv"
	"fmt"
	"io"
	"reflect"
	"slices"
	"strings"
	"time"
	"unicode"

	"halfwater/book"
)

// friendly are the columns of an export besides those of every row: what one looks for in a
// spreadsheet. Everything else goes into the JSON of body.
var friendly = []string{
	"of", "kit", "shown", "unit", "basis", "source", "litres", "out_litres", "in", "what", "grams", "stage",
	"name", "species", "count", "note", "text",
}

// exported are all columns of an export.
var exported = slices.Concat([]string{"id", "at", "recorded", "kind", "water", "batch", "by"}, friendly, []string{"body"})

// WriteBook writes lines as a book file (CSV), in the order given. Reading it into an empty book
// gives the same lines.
func WriteBook(w io.Writer, lines []book.Line) error {
	out := csv.NewWriter(w)
	if err := out.Write(exported); err != nil {
		return err
	}
	for _, l := range lines {
		record, err := record(l)
		if err != nil {
			return fmt.Errorf("write line %s: %w", l.ID, err)
		}
		if err := out.Write(record); err != nil {
			return err
		}
	}
	out.Flush()
	return out.Error()
}

func record(l book.Line) ([]string, error) {
	cells := map[string]string{
		"id":       string(l.ID),
		"at":       stamp(l.At),
		"recorded": stamp(l.Recorded),
		"kind":     l.Body.Kind(),
		"water":    l.Water,
		"batch":    l.Batch,
		"by":       string(l.By),
	}
	if l.Water == book.AllWaters {
		cells["water"] = "all"
	}
	var err error
	if cells["body"], err = spread(l.Body, cells); err != nil {
		return nil, err
	}
	record := make([]string, len(exported))
	for i, c := range exported {
		record[i] = guard(cells[c])
		if back := unguard(strings.TrimSpace(record[i])); back != cells[c] && c != "body" {
			return nil, fmt.Errorf("%s %q begins or ends with a blank, which a file of cells does not keep", c, cells[c])
		}
	}
	return record, nil
}

func stamp(t time.Time) string {
	return t.UTC().Truncate(time.Microsecond).Format(time.RFC3339Nano)
}

// spread puts what has a column into cells and gives the JSON of the rest.
func spread(b book.Body, cells map[string]string) (rest string, err error) {
	if _, unread := b.(book.Unread); unread {
		return EncodeBody(b)
	}
	s, ok := shapeOf(b.Kind())
	if !ok {
		return "", fmt.Errorf("the kind %q is not registered", b.Kind())
	}
	body := reflect.ValueOf(b)
	var inCells [][]int
	for _, f := range s.fields {
		if name, text, ok := f.friendly(body); ok {
			cells[name] = text
			inCells = append(inCells, f.path)
		}
	}
	rest, err = encodeOmitting(b, func(path []int) bool {
		return slices.ContainsFunc(inCells, func(p []int) bool { return slices.Equal(p, path) })
	})
	if err != nil {
		return "", err
	}
	return bare(b, rest), nil
}

// friendly is a field as a cell, when it has a friendly column and the cell reads back the same.
func (f *field) friendly(body reflect.Value) (name, cell string, ok bool) {
	name, raw, ok := f.take(body)
	if !ok || !slices.Contains(friendly, name) {
		return "", "", false
	}
	cell = text(raw)
	if cell == "" || cell != strings.TrimSpace(cell) || strings.ContainsFunc(cell, unicode.IsControl) {
		return "", "", false
	}
	again := reflect.New(body.Type()).Elem()
	s, _ := shapeOf(body.Interface().(book.Body).Kind())
	back, err := f.cell(cell, dialect{zone: time.UTC})
	if err != nil || s.names[name].put(again, back) != nil ||
		!reflect.DeepEqual(again.FieldByIndex(f.path).Interface(), body.FieldByIndex(f.path).Interface()) {
		return "", "", false
	}
	return name, cell, true
}

// bare is the JSON of a body's rest: empty when nothing is left. A reading always says what it
// stands for, zero too, so that it is not worked out again.
func bare(b book.Body, rest string) string {
	r, reading := b.(book.Reading)
	switch {
	case reading && r.Lo == 0 && r.Hi == 0:
		if rest == "{}" {
			return `{"hi":0}`
		}
		return strings.TrimSuffix(rest, "}") + `,"hi":0}`
	case rest == "{}":
		return ""
	}
	return rest
}

// setAside is what WriteSetAside needs of the rows with faults.
type setAside struct {
	header, names []string
	sep           rune
	rows          []row
	faults        []RowFault
}

// WriteSetAside writes the rows with faults as they stood, with the same columns and one more, fault.
// A row that is none (its quotation marks do not fit) stands in the first cell as it was.
func (im *Import) WriteSetAside(w io.Writer) error {
	a := im.setAside
	out := csv.NewWriter(w)
	if a.sep != 0 {
		out.Comma = a.sep
	}
	var names, header []string // without an older fault column
	for i, n := range a.names {
		if n != "fault" {
			names, header = append(names, n), append(header, a.header[i])
		}
	}
	if err := out.Write(append(header, "fault")); err != nil {
		return err
	}
	for i, r := range a.rows {
		record := make([]string, len(names)+1)
		if r.err != nil && len(names) > 0 {
			record[0] = r.raw
		} else {
			for j, n := range names {
				record[j] = guard(r.cells[n])
			}
		}
		record[len(names)] = guard(a.faults[i].Error())
		if err := out.Write(record); err != nil {
			return err
		}
	}
	out.Flush()
	return out.Error()
}
