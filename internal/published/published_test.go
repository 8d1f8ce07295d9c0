package published

import (
	"math"
	"strings"
	"testing"
)

func TestEveryCheckValueIsWithinItsOwnTolerance(t *testing.T) {
	n := map[Basis]int{}
	for _, v := range Values(t, "") {
		n[v.Basis]++
		if off := v.Off(v.Expected); off != "" {
			t.Error(off)
		}
		allow, _ := v.allow()
		if v.Off(v.Expected+1.01*allow+1e-9) == "" || v.Off(v.Expected-1.01*allow-1e-9) == "" || v.Off(math.NaN()) == "" {
			t.Errorf("%s: the tolerance %s lets everything pass", v.ID, v.Tolerance)
		}
	}
	if n[Independent] != 138 || n[SelfComputed] != 133 {
		t.Errorf("%d independent and %d self-computed rows; testdata/published/README.md says 138 and 133", n[Independent], n[SelfComputed])
	}
}

func TestTableKeepsWhatWasPrinted(t *testing.T) {
	table, err := parse("x-1", "# work: x\n# place: p. 1\n# units: C; 1\n# digits: 2 decimals\n# columns: temperature | pK\n# A remark: kept out\n\n20 | 9.40\n25 | 9.2e1\n")
	if err != nil {
		t.Fatal(err)
	}
	if table.Work() != "x" || len(table.Rows) != 2 || table.Columns[1] != "pK" {
		t.Fatalf("read %+v", table)
	}
	if got := table.Rows[0].Number(t, 1); got != 9.4 {
		t.Errorf("number %v, not 9.4", got)
	}
	for row, want := range []float64{0.005, 0.5} {
		if got := table.Rows[row].HalfDigit(t, 1); math.Abs(got-want) > 1e-12 {
			t.Errorf("%s: half a digit is %v, not %v", table.Rows[row].Cells[1], got, want)
		}
	}
	if got := halfDigit("120"); got != 0.5 {
		t.Errorf("120: half a digit is %v, not 0.5", got)
	}
}

func TestTableSaysWhatItLacks(t *testing.T) {
	head := "# work: x\n# place: p. 1\n# units: C\n# digits: 1\n"
	for text, want := range map[string]string{
		strings.Replace(head, "place", "page", 1) + "1 2\n": "does not say its place",
		head:                              "has no rows",
		head + "# columns: a b\n1 2\n3\n": "line 7 has 1 cells for 2 columns",
	} {
		if _, err := parse("x-1", text); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v, want %q", text, err, want)
		}
	}
}
