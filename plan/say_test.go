package plan_test

import (
	"os"
	"path/filepath"
	"regexp"
	"testing"

	"halfwater/internal/say"
)

// Every code of this package has its sentence in the catalogue.
func TestEveryCodeHasASentence(t *testing.T) {
	quoted := regexp.MustCompile(`"(plan\.[a-z-]+)"`)
	files, err := filepath.Glob("*.go")
	if err != nil || len(files) == 0 {
		t.Fatalf("no source files: %v", err)
	}
	n := 0
	for _, f := range files {
		if f == "say_test.go" {
			continue
		}
		text, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range quoted.FindAllStringSubmatch(string(text), -1) {
			code := m[1]
			if code[len(code)-1] == '-' || regexp.MustCompile(`"`+regexp.QuoteMeta(code)+`" \+ `).Match(text) {
				continue // made of parts: held below
			}
			n++
			if !say.Has(code) && !(say.Has(code+"-watch") && say.Has(code+"-act")) {
				t.Errorf("%s: no sentence for %s", f, code)
			}
		}
	}
	if n < 50 {
		t.Errorf("only %d codes found", n)
	}
	for _, pair := range []string{"bio-bio", "bio-bed", "bio-carbon", "bio-change", "bed-carbon", "bed-change", "carbon-change"} {
		if !say.Has("plan.stacked-" + pair) {
			t.Errorf("no sentence for plan.stacked-%s", pair)
		}
	}
}

// The sentences never call anything safe, never praise and never scold.
func TestSentencesKeepTheVoice(t *testing.T) {
	text, err := os.ReadFile(filepath.Join("..", "internal", "say", "catalogue", "plan.txt"))
	if err != nil {
		t.Fatal(err)
	}
	if bad := regexp.MustCompile(`(?i)\b(safe|safely|perfect|great|well done|oops|sorry|please|must have|should have)\b`).FindAll(text, -1); len(bad) > 0 {
		t.Errorf("plan.txt says %q", bad)
	}
}
