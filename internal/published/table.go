package published

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// Table is one table of a published work.
type Table struct {
	Name    string            // file name without .txt
	Head    map[string]string // every "# key: value", keys in lower case
	Columns []string          // empty when the file names none
	Rows    []Row
}

// Work is the key of the work in cite/works.txt.
func (t Table) Work() string { return t.Head["work"] }

// Row is one line of a table, each cell as it was printed.
type Row struct {
	Table string
	Line  int
	Cells []string
}

// Read reads testdata/published/<name>.txt; a table that cannot be read ends the test.
func Read(t testing.TB, name string) Table {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(Root(t), "testdata", "published", name+".txt"))
	if err != nil {
		t.Fatalf("published: %v", err)
	}
	table, err := parse(name, string(text))
	if err != nil {
		t.Fatal(err)
	}
	return table
}

// ReadAll reads every table whose name fits the pattern ("emerson1975-*"). It ends the test when
// none does.
func ReadAll(t testing.TB, pattern string) []Table {
	t.Helper()
	var out []Table
	for _, f := range Files(t, "testdata/published/"+pattern+".txt") {
		out = append(out, Read(t, strings.TrimSuffix(filepath.Base(f), ".txt")))
	}
	return out
}

func parse(name, text string) (Table, error) {
	t := Table{Name: name, Head: map[string]string{}}
	for i, line := range strings.Split(text, "\n") {
		line = strings.TrimSpace(line)
		if remark, ok := strings.CutPrefix(line, "#"); ok {
			key, value, ok := strings.Cut(remark, ":")
			key = strings.ToLower(strings.TrimSpace(key))
			if _, twice := t.Head[key]; ok && !twice && key != "" && !strings.Contains(key, " ") {
				t.Head[key] = strings.TrimSpace(value)
			}
			continue
		}
		if line != "" {
			t.Rows = append(t.Rows, Row{name, i + 1, cut(line)})
		}
	}
	for _, key := range []string{"work", "place", "units", "digits"} {
		if t.Head[key] == "" {
			return t, fmt.Errorf("published: %s.txt does not say its %s; add a line \"# %s: ...\"", name, key, key)
		}
	}
	if len(t.Rows) == 0 {
		return t, fmt.Errorf("published: %s.txt has no rows", name)
	}
	if c := t.Head["columns"]; c != "" {
		t.Columns = cut(c)
		for _, r := range t.Rows {
			if len(r.Cells) != len(t.Columns) {
				return t, fmt.Errorf("published: %s.txt line %d has %d cells for %d columns", name, r.Line, len(r.Cells), len(t.Columns))
			}
		}
	}
	return t, nil
}

func cut(line string) []string {
	if !strings.Contains(line, "|") {
		return strings.Fields(line)
	}
	cells := strings.Split(line, "|")
	for i := range cells {
		cells[i] = strings.TrimSpace(cells[i])
	}
	return cells
}

// Number is the cell in column i (from 0); a cell that is no number ends the test.
func (r Row) Number(t testing.TB, i int) float64 {
	t.Helper()
	if i >= len(r.Cells) {
		t.Fatalf("published: %s.txt line %d has no cell %d", r.Table, r.Line, i)
	}
	x, err := strconv.ParseFloat(r.Cells[i], 64)
	if err != nil {
		t.Fatalf("published: %s.txt line %d: %q is not a number", r.Table, r.Line, r.Cells[i])
	}
	return x
}

// HalfDigit is half of the last printed digit of the cell in column i: 0.05 for "12.3", 5 for
// "1.2e2". What lies nearer than that, the work cannot tell apart.
func (r Row) HalfDigit(t testing.TB, i int) float64 {
	t.Helper()
	r.Number(t, i)
	return halfDigit(r.Cells[i])
}

func halfDigit(printed string) float64 {
	mantissa, power, _ := strings.Cut(strings.ToLower(printed), "e")
	exponent, _ := strconv.Atoi(power)
	_, decimals, _ := strings.Cut(mantissa, ".")
	return 0.5 * math.Pow10(exponent-len(decimals))
}
