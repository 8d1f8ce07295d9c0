package files

import (
	"bytes"
	"encoding/csv"
)

// ReadRow reads one row of a book file, given as columns and their cells: what a form or a command
// line says of one line. A number may have a decimal comma, for a keypad may offer nothing else. Empty
// cells say nothing. Without one for at it happened at o.Now. Faults and errors are those of
// [ReadBook].
func ReadRow(cells [][2]string, o Options) (*Import, error) {
	var head, row []string
	hasAt := false
	for _, c := range cells {
		if c[1] == "" {
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
	return ReadBook(&text, o)
}
