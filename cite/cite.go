package cite

import (
	_ "embed"
	"fmt"
	"strconv"
	"strings"
)

//go:embed works.txt
var worksText string

// Status says how far a work was seen by those who typed its number.
type Status string

// The five ways of knowing a number.
const (
	Seen      Status = "seen"      // seen in the work itself
	Carrier   Status = "carrier"   // seen in a file or abstract that repeats the work
	Memory    Status = "memory"    // cited from memory
	Practice  Status = "practice"  // common practice, no source
	Judgement Status = "judgement" // ours
)

// Work is one source.
type Work struct {
	Key       string
	Status    Status
	Reference string
}

var works = mustWorks(worksText)

func mustWorks(text string) map[string]Work {
	out := map[string]Work{}
	for n, f := range rows(text) {
		if len(f.cells) != 3 {
			panic(fmt.Sprintf("cite: works.txt row %d has %d cells, not 3", n+1, len(f.cells)))
		}
		if _, twice := out[f.cells[0]]; twice {
			panic("cite: works.txt has " + f.cells[0] + " twice")
		}
		out[f.cells[0]] = Work{f.cells[0], Status(f.cells[1]), f.cells[2]}
	}
	return out
}

// Lookup gives the work behind a key.
func Lookup(key string) (Work, bool) { w, ok := works[key]; return w, ok }

// Works gives all works, by key.
func Works() map[string]Work {
	out := make(map[string]Work, len(works))
	for k, w := range works {
		out[k] = w
	}
	return out
}

// Constant is a number with its unit, the span in which it holds, its doubt, and its work.
type Constant struct {
	Name  string
	Value float64
	Unit  string // "1" when it has none
	Span  string // where it holds, in words: "0-90 C, I = 0"
	Doubt string // in words: "5-95 %: 0.1-1.0", "+-0.004"; "" when none is stated
	Work  string // a key of works.txt
	Place string // table, equation, page, or a remark
}

// Parse reads a table of constants: one a line, cells parted by "|":
//
//	name | value | unit | span | doubt | work | place
//
// Blank lines and lines that begin with # are passed over. It refuses a row that is not seven
// cells, a value that is no number, a name given twice, or a work that is not in works.txt.
func Parse(table string) ([]Constant, error) {
	var out []Constant
	seen := map[string]bool{}
	for _, r := range rows(table) {
		if len(r.cells) != 7 {
			return nil, fmt.Errorf("line %d: %d cells, not 7", r.line, len(r.cells))
		}
		v, err := strconv.ParseFloat(r.cells[1], 64)
		if err != nil {
			return nil, fmt.Errorf("line %d: value %q is not a number", r.line, r.cells[1])
		}
		c := Constant{r.cells[0], v, r.cells[2], r.cells[3], r.cells[4], r.cells[5], r.cells[6]}
		if seen[c.Name] {
			return nil, fmt.Errorf("line %d: %s given twice", r.line, c.Name)
		}
		seen[c.Name] = true
		if _, ok := Lookup(c.Work); !ok {
			return nil, fmt.Errorf("line %d: work %q is not in works.txt", r.line, c.Work)
		}
		out = append(out, c)
	}
	return out, nil
}

// Table is a parsed table, to be asked by name.
type Table struct {
	List   []Constant
	byName map[string]float64
}

// MustParse is [Parse] for a table embedded in the program; a fault in it is a fault of the
// program, so it panics at start.
func MustParse(table string) Table {
	list, err := Parse(table)
	if err != nil {
		panic("cite: " + err.Error())
	}
	t := Table{list, make(map[string]float64, len(list))}
	for _, c := range list {
		t.byName[c.Name] = c.Value
	}
	return t
}

// Value gives the number by name; a name that is not in the table is a fault of the program.
func (t Table) Value(name string) float64 {
	v, ok := t.byName[name]
	if !ok {
		panic("cite: no constant " + name)
	}
	return v
}

type row struct {
	line  int
	cells []string
}

func rows(text string) []row {
	var out []row
	for i, l := range strings.Split(text, "\n") {
		l = strings.TrimSpace(l)
		if l == "" || strings.HasPrefix(l, "#") {
			continue
		}
		cells := strings.Split(l, "|")
		for j := range cells {
			cells[j] = strings.TrimSpace(cells[j])
		}
		out = append(out, row{i + 1, cells})
	}
	return out
}
