package published

import (
	"encoding/csv"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"testing"
)

// Value is one row of check_values.csv.
type Value struct {
	ID        string
	Quantity  string
	Inputs    string
	Expected  float64
	Unit      string
	Tolerance string // "abs:0.004", "rel:0.02", or "0" for exactly
	Source    string
	Basis     Basis
}

// Basis says what a match with a value proves.
type Basis string

const (
	// Independent values do not come from a program of ours: a match is evidence.
	Independent Basis = "independent"
	// SelfComputed values pin an equation down for a second writing of it. A match proves that the
	// same equation was written twice, and nothing about the equation.
	SelfComputed Basis = "self-computed"
)

// Off says how far got is from the expected value, in a sentence; it is empty within the tolerance.
func (v Value) Off(got float64) string {
	allow, err := v.allow()
	if err != nil {
		return err.Error()
	}
	if math.Abs(got-v.Expected) <= allow { // false for NaN too
		return ""
	}
	return fmt.Sprintf("%s %s (%s): got %v, expected %v %s within %s; %s, %s",
		v.ID, v.Quantity, v.Inputs, got, v.Expected, v.Unit, v.Tolerance, v.Basis, v.Source)
}

func (v Value) allow() (float64, error) {
	kind, digits, _ := strings.Cut(v.Tolerance, ":")
	x, err := strconv.ParseFloat(digits, 64)
	switch {
	case v.Tolerance == "0":
		return 0, nil
	case err == nil && kind == "abs":
		return x, nil
	case err == nil && kind == "rel":
		return x * math.Abs(v.Expected), nil
	}
	return 0, fmt.Errorf("published: %s: tolerance %q is none of abs:, rel:, 0", v.ID, v.Tolerance)
}

// Check compares got with the value of that id, in the value's unit. An id that is not in the list
// ends the test.
func Check(t testing.TB, id string, got float64) {
	t.Helper()
	if off := Expect(t, id).Off(got); off != "" {
		t.Error(off)
	}
}

// Expect gives the value of that id.
func Expect(t testing.TB, id string) Value {
	t.Helper()
	v, ok := byID(t)[id]
	if !ok {
		t.Fatalf("published: no value %s in testdata/published/check_values.csv", id)
	}
	return v
}

// Values gives the values whose id begins with prefix, in the order of the list. It ends the test
// when there are none.
func Values(t testing.TB, prefix string) []Value {
	t.Helper()
	var out []Value
	for _, v := range list(t) {
		if strings.HasPrefix(v.ID, prefix) {
			out = append(out, v)
		}
	}
	if len(out) == 0 {
		t.Fatalf("published: no value in check_values.csv begins with %q", prefix)
	}
	return out
}

var kept struct {
	once   sync.Once
	list   []Value
	byID   map[string]Value
	failed error
}

func list(t testing.TB) []Value          { load(t); return kept.list }
func byID(t testing.TB) map[string]Value { load(t); return kept.byID }

func load(t testing.TB) {
	t.Helper()
	path := filepath.Join(Root(t), "testdata", "published", "check_values.csv")
	kept.once.Do(func() { kept.list, kept.failed = readValues(path) })
	if kept.failed != nil {
		t.Fatal(kept.failed)
	}
	if kept.byID == nil {
		kept.byID = make(map[string]Value, len(kept.list))
		for _, v := range kept.list {
			kept.byID[v.ID] = v
		}
	}
}

func readValues(path string) ([]Value, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, fmt.Errorf("published: %w", err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		return nil, fmt.Errorf("published: check_values.csv: %w", err)
	}
	var out []Value
	column := map[string]int{}
	seen := map[string]bool{}
	for i, r := range rows {
		if i == 0 {
			for j, name := range r {
				column[name] = j
			}
			for _, name := range []string{"id", "quantity", "inputs", "expected value", "unit", "tolerance", "source", "expected_basis"} {
				if _, ok := column[name]; !ok {
					return nil, fmt.Errorf("published: check_values.csv has no column %q", name)
				}
			}
			continue
		}
		cell := func(name string) string { return r[column[name]] }
		v := Value{
			ID: cell("id"), Quantity: cell("quantity"), Inputs: cell("inputs"), Unit: cell("unit"),
			Tolerance: cell("tolerance"), Source: cell("source"), Basis: Basis(cell("expected_basis")),
		}
		if v.Expected, err = strconv.ParseFloat(cell("expected value"), 64); err != nil {
			return nil, fmt.Errorf("published: %s: expected value %q is not a number", v.ID, cell("expected value"))
		}
		if _, err = v.allow(); err != nil {
			return nil, err
		}
		if v.Basis != Independent && v.Basis != SelfComputed {
			return nil, fmt.Errorf("published: %s: basis %q is none of %s, %s", v.ID, v.Basis, Independent, SelfComputed)
		}
		if seen[v.ID] {
			return nil, fmt.Errorf("published: %s stands twice", v.ID)
		}
		seen[v.ID] = true
		out = append(out, v)
	}
	if len(out) == 0 {
		return nil, fmt.Errorf("published: check_values.csv has no rows")
	}
	return out, nil
}
