package cite_test

import (
	"fmt"
	"strings"
	"testing"

	"halfwater/cite"
)

func ExampleMustParse() {
	table := cite.MustParse(`
		# name | value | unit | span | doubt | work | place
		molar mass of N | 14.007 | g/mol | any | +-0.001 | iupac2021 | abridged table
	`)
	fmt.Println(table.Value("molar mass of N"), table.List[0].Unit)
	// Output: 14.007 g/mol
}

func TestParseRefuses(t *testing.T) {
	const row = "a | 1 | g | any | | practice | \n"
	for table, want := range map[string]string{
		"a | 1 | g": "line 1: 3 cells, not 7",
		"\n# note\na | one | g | any | | practice | ": `line 3: value "one" is not a number`,
		row + row:                           "line 2: a given twice",
		"a | 1 | g | any | | nobody1900 | ": `line 1: work "nobody1900" is not in works.txt`,
	} {
		if _, err := cite.Parse(table); err == nil || err.Error() != want {
			t.Errorf("%q: %v, want %s", table, err, want)
		}
	}
}

func TestEveryWorkSaysHowFarItWasSeen(t *testing.T) {
	known := []cite.Status{cite.Seen, cite.Carrier, cite.Memory, cite.Practice, cite.Judgement}
	for key, w := range cite.Works() {
		ok := false
		for _, s := range known {
			ok = ok || w.Status == s
		}
		if !ok || strings.TrimSpace(w.Reference) == "" || key != w.Key {
			t.Errorf("works.txt: %s: status %q, reference %q", key, w.Status, w.Reference)
		}
	}
}

func FuzzParse(f *testing.F) {
	f.Add("a | 1 | g | any | | practice | ")
	f.Add("| | | | | | |\n#\n||||||")
	f.Fuzz(func(t *testing.T, table string) {
		rows, err := cite.Parse(table)
		if err != nil {
			return
		}
		for _, c := range rows {
			if _, ok := cite.Lookup(c.Work); !ok {
				t.Fatalf("%q: the work %q is unknown and passed", table, c.Work)
			}
		}
	})
}
