package files

import (
	"bytes"
	"encoding/csv"
	"errors"
	"slices"
)

// ReadRow reads one row of a book file, given as columns and their cells: what a form or a command
// line says of one line. A number may have a decimal comma, for a keypad may offer nothing else. Empty
// cells say nothing. Without one for at it happened at o.Now. A column that there is not is a fault of the row, unless its
// kind is one. Other faults and errors are those of [ReadBook].
func ReadRow(cells [][2]string, o Options) (*Import, error) {
	known := columns()
	var head, row []string
	var strange *RowFault
	hasAt := false
	for _, c := range cells {
		if c[1] == "" {
			continue
		}
		if name := columnName(c[0]); !slices.Contains(known, name) {
			strange = &RowFault{Line: 1, Err: KeyFault{c[0], "is no column", columnMeant(name, known)}}
			continue
		}
		head, row = append(head, c[0]), append(row, c[1])
		hasAt = hasAt || c[0] == "at"
	}
	if !hasAt {
		head, row = append(head, "at"), append(row, stamp(o.Now))
	}
	var text bytes.Buffer
	w := csv.NewWriter(&text)
	w.Comma = ';' // between the cells, so that one within a number is a decimal comma
	if err := w.WriteAll([][]string{head, row}); err != nil {
		return nil, err
	}
	im, err := ReadBook(&text, o)
	if err == nil && strange != nil && !im.ofNoKind() {
		im.Lines, im.Faults = nil, []RowFault{*strange}
	}
	return im, err
}

// ofNoKind reports whether what a row says is of no kind that there is.
func (im *Import) ofNoKind() bool {
	return slices.ContainsFunc(im.Faults, func(f RowFault) bool {
		var k KeyFault
		return errors.As(f.Err, &k) && k.Key == "kind"
	})
}
