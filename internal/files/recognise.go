package files

import (
	"fmt"
	"time"

	"halfwater/book"
)

// recognise finds the rows that the book, or an earlier row, says already: by id when the row has
// one, else by what it says. A row that uses an id for something else is refused. A file that holds
// the same row without id twice means it twice: two of it match two lines of the book.
func recognise(drafts []*draft, have []book.Line) {
	byID := map[book.ID]book.Line{}
	same := map[string]int{}
	for _, l := range have {
		byID[l.ID] = l
		same[saying(l)]++
	}
	for _, d := range drafts {
		if d.fault != nil {
			continue
		}
		if d.cell("id") == "" {
			if k := saying(d.Line); same[k] > 0 {
				same[k]--
				d.known = true
			}
			continue
		}
		old, taken := byID[d.ID]
		if !taken {
			byID[d.ID] = d.Line
			continue
		}
		if !d.kept {
			old.Recorded = d.Recorded
		}
		if content(old) != content(d.Line) {
			d.bad("id", fmt.Errorf("%q is the name of another line (%s, %s): a line is never altered; to correct it, withdraw it and write a new row without id",
				d.ID, old.Body.Kind(), old.At.Format(time.RFC3339)))
			continue
		}
		d.known = true
	}
}

// content is all that a line says, but for its id.
func content(l book.Line) string {
	return fmt.Sprintf("%d|%s", l.Recorded.UnixMicro(), says(l))
}

// saying is what a line says, whatever its id and whenever it was written down. What a reading stands
// for is left out: it follows from what was shown.
func saying(l book.Line) string {
	if r, ok := l.Body.(book.Reading); ok {
		r.Lo, r.Hi = 0, 0
		l.Body = r
	}
	return says(l)
}

func says(l book.Line) string {
	body, err := EncodeBody(l.Body)
	if err != nil {
		body = fmt.Sprintf("%#v", l.Body) // such a body is refused elsewhere; here it only has to differ
	}
	return fmt.Sprintf("%d|%q|%q|%q|%q|%s", l.At.UnixMicro(), l.Body.Kind(), l.Water, l.Batch, l.By, body)
}
