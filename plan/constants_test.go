package plan

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// Every rule of the table is used: a row that nobody reads would be printed and mean nothing.
func TestEveryRuleIsUsed(t *testing.T) {
	files, err := filepath.Glob("*.go")
	if err != nil || len(files) == 0 {
		t.Fatalf("no source files: %v", err)
	}
	var all strings.Builder
	for _, f := range files {
		text, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		if !strings.HasSuffix(f, "_test.go") {
			all.Write(text)
		}
	}
	for _, c := range Constants() {
		if !strings.Contains(all.String(), `"`+c.Name+`"`) {
			t.Errorf("nothing reads %q", c.Name)
		}
	}
}
