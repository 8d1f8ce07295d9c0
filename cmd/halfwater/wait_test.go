package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"testing"
	"time"

	"halfwater/demo"
	"halfwater/internal/say"
)

// A command that is stopped before it began, or when it has opened the book and looks at the clock, says so in one
// sentence and answers nothing; afterwards it answers as if nothing had been.
func TestStopped(t *testing.T) {
	dir := t.TempDir()
	facts, rows, book := filepath.Join(dir, "facts.toml"), filepath.Join(dir, "rows.csv"), "--book="+filepath.Join(dir, "book.sqlite")
	for name, data := range map[string][]byte{facts: demo.Enclosure, rows: demo.Book} {
		if err := os.WriteFile(name, data, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	var out, errOut bytes.Buffer
	if code := run(t.Context(), []string{"import", facts, rows, book}, nil, &out, &errOut, demo.Clock); code != exitDone {
		t.Fatal(code, errOut.String())
	}
	for _, command := range []string{"now", "outlook", "learnt", "sheet"} {
		for _, begun := range []bool{false, true} {
			ctx, stop := context.WithCancel(t.Context())
			if !begun {
				stop()
			}
			out.Reset()
			errOut.Reset()
			code := run(ctx, []string{command, book}, nil, &out, &errOut, func() time.Time { stop(); return demo.Clock() })
			if want := "halfwater: " + say.Sentence("door.stopped", nil) + "\n"; code != 130 || errOut.String() != want || out.Len() > 0 {
				t.Errorf("%s, begun %v: %d, %q, %q", command, begun, code, errOut.String(), out.String())
			}
		}
	}
	errOut.Reset()
	if code := run(t.Context(), []string{"now", book}, nil, &out, &errOut, demo.Clock); code != exitDone || errOut.Len() > 0 || out.Len() == 0 {
		t.Errorf("after it was stopped: %d, %q", code, errOut.String())
	}
}

// Each fifth is told once, from when the work is late on, and the end is not.
func TestInFifths(t *testing.T) {
	var out bytes.Buffer
	late := false
	told := inFifths(&out, func() bool { return late })
	told(0.3)
	late = true
	for _, share := range []float64{0.41, 0.5, 0.9, 1} {
		told(share)
	}
	if out.String() != "40 % done\n80 % done\n" {
		t.Errorf("told %q", out.String())
	}
}
