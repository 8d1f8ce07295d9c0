package main

import (
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"slices"
	"testing"

	"halfwater/cite"
	"halfwater/infer"
	"halfwater/infer/blame"
)

// TestConstantsOfAllPackages: what has a table of constants is listed, and named in the help.
func TestConstantsOfAllPackages(t *testing.T) {
	var listed []string
	for _, c := range constants {
		listed = append(listed, c.of)
	}
	slices.Sort(listed)
	var there []string
	files, err := filepath.Glob("../../*/*.go")
	if err != nil {
		t.Fatal(err)
	}
	has := regexp.MustCompile(`(?m)^func Constants\(\) \[\]cite\.Constant`)
	for _, f := range files {
		text, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		if has.Match(text) {
			there = append(there, filepath.Base(filepath.Dir(f)))
		}
	}
	slices.Sort(there)
	if !slices.Equal(listed, there) {
		t.Errorf("listed are %q, there are %q", listed, there)
	}
	within := infer.Constants()
	for _, c := range blame.Constants() { // a room within another is listed by it
		if !slices.ContainsFunc(within, func(x cite.Constant) bool { return x.Name == "blame: "+c.Name && x.Value == c.Value }) {
			t.Errorf("%s of infer/blame is not listed", c.Name)
		}
	}
	arg, _ := reflect.TypeFor[constantsCmd]().FieldByName("Of")
	for _, of := range listed {
		if !regexp.MustCompile(`\b` + of + `\b`).MatchString(arg.Tag.Get("help")) {
			t.Errorf("the help does not name %s", of)
		}
	}
}
