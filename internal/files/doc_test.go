package files_test

import (
	"fmt"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"halfwater/book"
	"halfwater/husbandry"
	"halfwater/internal/files"
	"halfwater/quantity"
)

// now is the clock of these tests.
var now = time.Date(2026, 8, 1, 12, 0, 0, 0, time.UTC)

// options are those of a fresh book in UTC with ids 1, 2, 3.
func options(have ...book.Line) files.Options {
	n := len(have)
	return files.Options{Now: now, Have: have, NewID: func() book.ID { n++; return book.ID(fmt.Sprintf("t%05d", n)) }}
}

// examples are the fenced blocks of doc/files.md in one language.
func examples(t *testing.T, language string) []string {
	t.Helper()
	data, err := os.ReadFile("../../doc/files.md")
	if err != nil {
		t.Fatal(err)
	}
	var out []string
	for _, part := range strings.Split(string(data), "\n```"+language+"\n")[1:] {
		block, _, ok := strings.Cut(part, "\n```")
		if !ok {
			t.Fatalf("a block of %s in doc/files.md never ends", language)
		}
		out = append(out, block+"\n")
	}
	if len(out) == 0 {
		t.Fatalf("doc/files.md has no example in %s", language)
	}
	return out
}

// What the page shows works: the enclosure file, the second file after it, and every book file on top.
func TestExamplesOfThePage(t *testing.T) {
	tomls := examples(t, "toml")
	im, err := files.ReadEnclosure(strings.NewReader(tomls[0]), options())
	if err != nil || im.Err() != nil {
		t.Fatal(err, im.Err())
	}
	// about, basin, 2 waters, 2 fittings, 2 stages, stock, 3 kits, range, vessel, neutraliser, routine
	if len(im.Lines) != 16 {
		t.Fatalf("%d facts", len(im.Lines))
	}
	facts := im.Lines
	more, err := files.ReadEnclosure(strings.NewReader(tomls[1]), options(facts...))
	if err != nil || more.Err() != nil {
		t.Fatal(err, more.Err())
	}
	if len(more.Lines) != 2 {
		t.Fatalf("%d facts in the second file", len(more.Lines))
	}
	f := book.FactsAt(append(facts, more.Lines...), book.MainWater, now, now)
	if len(f.Stages) != 1 || f.Basin.Length != 1000 || f.Basin.LandShare != 0.35 {
		t.Errorf("facts after both files: %+v", f)
	}
	if tub := book.FactsAt(append(facts, more.Lines...), "tub", now, now); tub.Basin.Length != 400 || len(tub.Kits) != 3 || len(tub.Stages) != 0 {
		t.Errorf("facts of the tub: %+v", tub)
	}
	wantRows := []int{10, 3, 2, 2}
	csvs := examples(t, "csv")
	if len(csvs) != len(wantRows) {
		t.Fatalf("%d examples in CSV", len(csvs))
	}
	for i, text := range csvs {
		im, err := files.ReadBook(strings.NewReader(text), options(facts...))
		if err != nil || im.Err() != nil {
			t.Fatalf("example %d: %v %v", i+1, err, im.Err())
		}
		if len(im.Lines) != wantRows[i] {
			t.Errorf("example %d has %d lines", i+1, len(im.Lines))
		}
	}
}

// Every kind stands in the page's table of columns, and every column it names is one of that kind.
func TestColumnsOfThePage(t *testing.T) {
	page, err := os.ReadFile("../../doc/files.md")
	if err != nil {
		t.Fatal(err)
	}
	_, table, ok := strings.Cut(string(page), "| kind | columns |\n|---|---|\n")
	if !ok {
		t.Fatal("the page has no table of columns")
	}
	table, _, _ = strings.Cut(table, "\n\n")
	seen := map[string]bool{}
	name := regexp.MustCompile("`([a-z_0-9]+)`")
	for _, row := range strings.Split(table, "\n") {
		cells := strings.Split(row, "|")
		for _, kind := range strings.Split(cells[1], ",") {
			kind = strings.TrimSpace(kind)
			seen[kind] = true
			if kind == "facts" {
				for _, k := range strings.Split(strings.TrimSpace(cells[2][strings.Index(cells[2], "kinds ")+len("kinds "):]), ",") {
					seen[strings.TrimSpace(k)] = true
				}
				continue
			}
			for _, hit := range name.FindAllStringSubmatch(cells[2], -1) {
				if n := hit[1]; n != "body" && n != "batch" && !slices.Contains(files.Columns(kind), n) {
					t.Errorf("the page says that a %s has a column %s; it has %v", kind, n, files.Columns(kind))
				}
			}
		}
	}
	for _, k := range book.Kinds() {
		if !seen[k] {
			t.Errorf("the page does not name the kind %s", k)
		}
	}
}

// Every key that the page names for an enclosure file is one.
func TestKeysOfThePage(t *testing.T) {
	page, err := os.ReadFile("../../doc/files.md")
	if err != nil {
		t.Fatal(err)
	}
	_, part, _ := strings.Cut(string(page), "- **Source water keys.**")
	part, _, _ = strings.Cut(part, "- **Measurands**")
	keys := regexp.MustCompile("`([a-z0-9]+(?:_[a-z0-9]+)+|ph|origin)`").FindAllStringSubmatch(part, -1)
	if len(keys) < 15 {
		t.Fatalf("only %d keys were seen", len(keys))
	}
	for _, k := range keys {
		if !slices.Contains(files.Columns("source water"), k[1]) {
			t.Errorf("a source water has no key %s", k[1])
		}
	}
	_, part, _ = strings.Cut(string(page), "- **Measurands** (`of`):")
	part, _, _ = strings.Cut(part, ".\n")
	for _, m := range strings.Split(strings.Join(strings.Fields(part), " "), ", ") {
		if !quantity.Measurand(m).Known() {
			t.Errorf("%q is no measurand", m)
		}
	}
}

// The page of names holds every name of the table of species.
func TestSpeciesOfThePage(t *testing.T) {
	page, err := os.ReadFile("../../doc/species.md")
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range husbandry.All() {
		if want := "- *" + s.Scientific + "*, " + s.Common; !strings.Contains(string(page), want) {
			t.Errorf("doc/species.md lacks %q", want)
		}
	}
}
