package waterfile

import (
	"fmt"
	"strings"
)

// Fault is a row that cannot be answered: where, what, and what to do.
type Fault struct {
	Line   int    // of the file, the header being 1
	ID     string // of the row, when it has one
	Column string // when one is at fault
	Says   string
}

func (f Fault) Error() string {
	var b strings.Builder
	fmt.Fprintf(&b, "line %d", f.Line)
	if f.ID != "" {
		fmt.Fprintf(&b, ", water %s", f.ID)
	}
	if f.Column != "" {
		fmt.Fprintf(&b, ", column %s", f.Column)
	}
	b.WriteString(": ")
	b.WriteString(f.Says)
	return b.String()
}

// Faults are all faulty rows of a file, in order.
type Faults []Fault

func (f Faults) Error() string {
	lines := make([]string, len(f))
	for i, x := range f {
		lines[i] = x.Error()
	}
	return strings.Join(lines, "\n")
}

// MissingColumns is a header without columns that every water needs.
type MissingColumns struct{ Names []string }

func (e MissingColumns) Error() string {
	return fmt.Sprintf("the header lacks %s: add the columns, with 0 where a water has none of it", strings.Join(e.Names, ", "))
}

// BadTable is a file that is no table.
type BadTable struct{ Says string }

func (e BadTable) Error() string { return e.Says }
