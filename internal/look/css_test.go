package look_test

import (
	"os"
	"regexp"
	"strings"
	"testing"

	"halfwater/internal/look"
)

func TestSheetIsWhole(t *testing.T) {
	css := look.CSS()
	if open, shut := strings.Count(css, "{"), strings.Count(css, "}"); open != shut || open == 0 {
		t.Errorf("%d opened, %d closed", open, shut)
	}
	entries, err := os.ReadDir("css")
	if err != nil || len(entries) == 0 {
		t.Fatalf("no sheets: %v", err)
	}
	for _, e := range entries {
		text, err := os.ReadFile("css/" + e.Name())
		if err != nil {
			t.Fatal(err)
		}
		if !strings.Contains(css, string(text)) {
			t.Errorf("css/%s is not part of the sheet", e.Name())
		}
	}
	for _, bad := range []string{"url(", "@import", "expression", "javascript:"} {
		if strings.Contains(css, bad) {
			t.Errorf("the sheet has %s: nothing in it may load anything", bad)
		}
	}
}

// TestOneTruthForColours holds that colours are said in the tokens alone, that each is used, and
// that each that is used is there.
func TestOneTruthForColours(t *testing.T) {
	css := look.CSS()
	used := map[string]bool{}
	for _, m := range regexp.MustCompile(`var\(--([\w-]+)`).FindAllStringSubmatch(css, -1) {
		used[m[1]] = true
	}
	for _, k := range look.Tokens() {
		if !used[k.Name] {
			t.Errorf("token %s is used nowhere", k.Name)
		}
		for _, c := range []string{k.Light, k.Dark, k.Print} {
			if !regexp.MustCompile(`^#[0-9a-f]{6}$`).MatchString(c) {
				t.Errorf("%s: %q is not #rrggbb", k.Name, c)
			}
		}
	}
	for name := range used {
		if !strings.Contains(css, "--"+name+":") {
			t.Errorf("--%s is used and never set", name)
		}
	}
	entries, err := os.ReadDir("css")
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		text, err := os.ReadFile("css/" + e.Name())
		if err != nil {
			t.Fatal(err)
		}
		if c := regexp.MustCompile(`#[0-9a-fA-F]{3,8}\b|rgba?\(|hsl`).FindString(string(text)); c != "" {
			t.Errorf("css/%s has a colour of its own: %s", e.Name(), c)
		}
	}
}
