package husbandry_test

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"halfwater/husbandry"
	"halfwater/internal/published"
	"halfwater/internal/say"
	"halfwater/quantity"
)

// Each code of the package has one sentence that takes its facts, and no sentence belongs to a
// code that is gone, calms, praises or scolds.
func TestSentences(t *testing.T) {
	root := published.Root(t)
	codes := map[string]bool{}
	for _, name := range published.Files(t, "husbandry/*.go") {
		source, err := os.ReadFile(filepath.Join(root, name))
		if err != nil {
			t.Fatal(err)
		}
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		for _, m := range regexp.MustCompile(`"((?:need|line|meet)\.[a-z-]+)"`).FindAllStringSubmatch(string(source), -1) {
			codes[m[1]] = true
		}
	}
	if len(codes) < 30 {
		t.Fatalf("only %d codes found", len(codes))
	}
	for code := range codes {
		var facts any
		switch kind, _, _ := strings.Cut(code, "."); kind {
		case "need":
			facts = husbandry.Need{Of: quantity.OfGH, Who: "guppy"}
		case "line":
			facts = husbandry.Because{Who: "guppy"}
		default:
			facts = husbandry.Meets{Who: "guppy", Whom: "molly", Of: quantity.OfPH}
		}
		if s := say.Sentence(code, facts); strings.HasPrefix(s, "[") || !strings.HasSuffix(s, ".") {
			t.Errorf("%s reads %q", code, s)
		}
	}
	text, err := os.ReadFile(filepath.Join(root, "internal", "say", "catalogue", "husbandry.txt"))
	if err != nil {
		t.Fatal(err)
	}
	for _, line := range strings.Split(string(text), "\n") {
		if code, _, ok := strings.Cut(line, ": "); ok && !strings.HasPrefix(line, "#") && !codes[code] {
			t.Errorf("the sentence %s belongs to no code", code)
		}
	}
	for _, word := range regexp.MustCompile(`(?i)\b(un)?safe(ly)?\b|\bwell done\b|\bgreat\b|\bcareless\b|\bdose\b`).FindAllString(string(text), -1) {
		t.Errorf("the sentences say %q", word)
	}
}
