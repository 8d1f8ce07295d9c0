package draw_test

import (
	"fmt"
	"html"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"halfwater/internal/draw"
	"halfwater/internal/look"
)

// TestStorybook writes one page with every drawing, for a person to look at:
//
//	STORYBOOK=/tmp/draw go test -run Storybook ./internal/draw
//
// Without the variable it writes to a folder that is thrown away, and only holds that every
// drawing is there, once for each form.
func TestStorybook(t *testing.T) {
	dir := os.Getenv("STORYBOOK")
	if dir == "" {
		dir = t.TempDir()
	}
	var b strings.Builder
	b.WriteString(`<!doctype html><html lang="en-GB"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width,initial-scale=1"><title>Drawings</title><link rel="stylesheet" href="halfwater.css"></head><body><main><h1>Drawings</h1><p class="key">`)
	for _, m := range look.Marks() {
		b.WriteString("<span>" + string(draw.Tier(m)) + "</span>")
	}
	b.WriteString("</p><p>")
	for _, p := range []float64{1. / 12, 1. / 6, .5, .8, .9} {
		b.WriteString(string(draw.Odds(look.OddsOf(p))) + " ")
	}
	b.WriteString("</p>")
	for i, s := range stories() {
		fmt.Fprintf(&b, "<h2>%s</h2><div>%s</div>", html.EscapeString(s.about), draw.Both(s.drawing, fmt.Sprintf("s%d", i)))
	}
	b.WriteString("</main></body></html>")
	page := b.String()
	if got, want := strings.Count(page, `role="img"`)+2, 2*len(stories()); got != want { // before and after is hidden
		t.Errorf("%d drawings on the page, want %d", got, want)
	}
	write(t, filepath.Join(dir, "index.html"), page)
	write(t, filepath.Join(dir, "halfwater.css"), look.CSS())
}

func write(t *testing.T, path, text string) {
	t.Helper()
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
}
