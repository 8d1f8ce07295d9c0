package waterfile

import (
	"encoding/csv"
	"encoding/json"
	"errors"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"halfwater/internal/published"
	"halfwater/water"
)

func answered(t testing.TB, text string) *Answers {
	t.Helper()
	table, err := Read(strings.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	return Answer(table, water.Model{})
}

// TestTableOfWaters reads the 300 waters as they stand, writes them, and finds the published
// outputs under the same names: the tolerances of the chemistry (package water).
func TestTableOfWaters(t *testing.T) {
	text, err := os.ReadFile(filepath.Join(published.Root(t), "testdata/published/phreeqc.csv"))
	if err != nil {
		t.Fatal(err)
	}
	a := answered(t, string(text))
	if len(a.Faults) > 0 {
		t.Fatal(a.Faults)
	}
	var b strings.Builder
	if err := a.CSV(&b); err != nil {
		t.Fatal(err)
	}
	read := func(s string) (head map[string]int, rows [][]string) {
		rows, err := csv.NewReader(strings.NewReader(s)).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		head = map[string]int{}
		for i, h := range rows[0] {
			head[h] = i
		}
		return head, rows[1:]
	}
	wantHead, want := read(string(text))
	gotHead, got := read(b.String())
	if len(got) != 300 || len(got) != len(want) || len(gotHead) != len(wantHead) {
		t.Fatalf("%d rows of %d columns, want %d of %d", len(got), len(gotHead), len(want), len(wantHead))
	}
	num := func(row []string, head map[string]int, name string) float64 {
		x, err := strconv.ParseFloat(row[head[name]], 64)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		return x
	}
	for i := range want {
		for name, tolerance := range map[string]float64{
			"out_ph": 0.002, "si_aragonite": 0.005, "si_calcite": 0.018, "si_gypsum": 0.006, "log_pco2": 0.005,
			"lg_h": 0.001, "lg_hco3": 0.001, "lg_co3": 0.002, "lg_ca": 0.002, "lg_nh4": 0.001, "out_temp_c": 1e-9,
		} {
			if d := math.Abs(num(got[i], gotHead, name) - num(want[i], wantHead, name)); !(d <= tolerance) {
				t.Errorf("water %s: %s off by %g", want[i][0], name, d)
			}
		}
		for name, tolerance := range map[string]float64{
			"dic": 0.01, "m_nh3": 0.012, "m_hco3": 0.01, "m_ca": 0.005, "m_mg": 0.005, "ionic_strength": 0.002,
			"alk_eq": 1e-4, "ca_total": 1e-4, "m_caso4": 0.02, "m_nh4": 0.005, "m_h2po4": 0.02, "m_hpo4": 0.02,
		} {
			g, w := num(got[i], gotHead, name), num(want[i], wantHead, name)
			if w == 0 && g != 0 || w != 0 && !(math.Abs(g/w-1) <= tolerance) {
				t.Errorf("water %s: %s is %g, table %g", want[i][0], name, g, w)
			}
		}
		if x := num(got[i], gotHead, "pct_err"); math.Abs(x) > 0.02 { // our atomic weights differ in the fourth digit
			t.Errorf("water %s: pct_err %g", want[i][0], x)
		}
	}
}

const (
	header = "id,temp_c,ca_mg_l,mg_mg_l,na_mg_l,k_mg_l,cl_mg_l,so4_mg_l,alk_mg_l_caco3,ph_in,remark\n"
	good   = "tap,20,80,12,23,2,54.4,57.6,165,7.5,\"kitchen, cold\"\n"
)

func TestFaultsNameTheRow(t *testing.T) {
	for name, c := range map[string]struct{ row, says string }{
		"text":       {"x,20,eighty,12,23,2,54.4,57.6,165,7.5,\n", `line 3, water x, column ca_mg_l: "eighty" is not a number`},
		"negative":   {"x,20,80,12,-23,2,54.4,57.6,165,7.5,\n", "line 3, water x, column na_mg_l: -23 is negative"},
		"empty":      {"x,20,80,12,23,2,,57.6,165,7.5,\n", "line 3, water x, column cl_mg_l: is empty"},
		"duplicate":  {"tap,20,80,12,23,2,54.4,57.6,165,7.5,\n", "line 3, water tap, column id: the same id stands in line 2"},
		"short":      {"x,20,80\n", "line 3, water x: has 3 cells, the header 11"},
		"no carbon":  {"x,20,80,12,23,2,54.4,57.6,165,,\n", "line 3, water x: neither ph_in nor log_pco2_in"},
		"pH":         {"x,20,80,12,23,2,54.4,57.6,165,75,\n", "line 3, water x: pH 75"},
		"hot":        {"x,200,80,12,23,2,54.4,57.6,165,7.5,\n", "line 3, water x: temperature 200 C cannot be"},
		"unbalanced": {"x,20,200,12,23,2,54.4,57.6,165,7.5,\n", "too many cations; look at calcium (as mg/L CaCO3 instead of Ca)"},
		"quotes":     {"x,20,8\"0,12,23,2,54.4,57.6,165,7.5,\n", "line 3: does not read as CSV"},
	} {
		a := answered(t, header+good+c.row+strings.Replace(good, "tap", "other", 1))
		if len(a.Faults) != 1 || !strings.Contains(a.Faults.Error(), c.says) {
			t.Errorf("%s: %v, want %q", name, a.Faults, c.says)
		}
		// Good rows still come out, with their remark.
		var b strings.Builder
		if err := a.CSV(&b); err != nil {
			t.Fatal(err)
		}
		if lines := strings.Split(strings.TrimSpace(b.String()), "\n"); len(lines) != 3 || !strings.Contains(lines[1], `"kitchen, cold"`) {
			t.Errorf("%s: wrote\n%s", name, b.String())
		}
	}
}

func TestHeaderFaults(t *testing.T) {
	var m MissingColumns
	if _, err := Read(strings.NewReader("id,temp_c,ca_mg_l\n")); !errors.As(err, &m) || len(m.Names) != 7 {
		t.Errorf("missing columns: %v", err)
	}
	for _, text := range []string{"", "a,a\n", "\"\n"} {
		if _, err := Read(strings.NewReader(text)); err == nil {
			t.Errorf("%q was taken as a table", text)
		}
	}
}

// TestSemicolonsAndCommas: the way spreadsheets write in much of Europe.
func TestSemicolonsAndCommas(t *testing.T) {
	a := answered(t, "ID;Temp_C;ca_mg_l;mg_mg_l;na_mg_l;k_mg_l;cl_mg_l;so4_mg_l;alk_mg_l_caco3;log_pco2_in\r\ntap;20,5;80;12;23;2;54,4;57,6;165;-3,0\r\n")
	b := answered(t, "id,temp_c,ca_mg_l,mg_mg_l,na_mg_l,k_mg_l,cl_mg_l,so4_mg_l,alk_mg_l_caco3,log_pco2_in\ntap,20.5,80,12,23,2,54.4,57.6,165,-3.0\n")
	if len(a.Faults)+len(b.Faults) > 0 {
		t.Fatal(a.Faults, b.Faults)
	}
	if *a.Of[0] != *b.Of[0] {
		t.Error("the two ways of writing give two waters")
	}
}

func TestJSON(t *testing.T) {
	a := answered(t, header+good+"none,20,0,0,0,0,0,0,0,,\n")
	var b strings.Builder
	if err := a.JSON(&b); err != nil {
		t.Fatal(err)
	}
	var got []map[string]any
	if err := json.Unmarshal([]byte(b.String()), &got); err != nil {
		t.Fatal(err)
	}
	if len(got) != 1 || got[0]["id"] != "tap" || got[0]["out_ph"] != 7.5 || got[0]["remark"] != "kitchen, cold" {
		t.Errorf("%v", got)
	}
}

func FuzzRead(f *testing.F) {
	f.Add(header + good)
	f.Add("id;temp_c\n1;2\n")
	f.Add(header + "\"\n\",,,\n" + good + good)
	f.Add("\ufeff" + header + "1,1e309,NaN,-0,1,1,1,1,1,1,1\n")
	f.Fuzz(func(t *testing.T, text string) {
		table, err := Read(strings.NewReader(text))
		if err != nil {
			return
		}
		a := Answer(table, water.Model{})
		var b strings.Builder
		if err := a.CSV(&b); err != nil {
			t.Fatal(err)
		}
		if err := a.JSON(&b); err != nil {
			t.Fatal(err)
		}
		answered := 0
		for _, s := range a.Of {
			if s != nil {
				answered++
			}
		}
		if answered+len(a.Faults) != len(table.Rows) {
			t.Fatalf("%d answered and %d faults of %d rows", answered, len(a.Faults), len(table.Rows))
		}
	})
}
