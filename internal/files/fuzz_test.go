package files_test

import (
	"os"
	"reflect"
	"strings"
	"testing"

	"halfwater/book"
	"halfwater/internal/files"
)

// Any text is read or refused; what is read can be written, and reads the same again.

func FuzzReadBook(f *testing.F) {
	page, err := os.ReadFile("../../doc/files.md")
	if err != nil {
		f.Fatal(err)
	}
	for _, part := range strings.Split(string(page), "\n```csv\n")[1:] {
		block, _, _ := strings.Cut(part, "\n```")
		f.Add(block)
	}
	var whole strings.Builder
	if err := files.WriteBook(&whole, wholeBook()); err != nil {
		f.Fatal(err)
	}
	f.Add(whole.String())
	f.Add("at;kind;text\n2026-05-24;note;\"'=1\"\n")
	have := wholeBook()
	f.Fuzz(func(t *testing.T, text string) {
		o := options(have...)
		o.Limit = 1 << 16
		im, err := files.ReadBook(strings.NewReader(text), o)
		if err != nil {
			return
		}
		var aside strings.Builder
		if err := im.WriteSetAside(&aside); err != nil {
			t.Fatal(err)
		}
		for _, l := range im.Lines {
			if err := l.Check(now); err != nil {
				t.Fatalf("a line was taken that cannot be: %v", err)
			}
		}
		var out strings.Builder
		if err := files.WriteBook(&out, im.Lines); err != nil {
			t.Fatal(err)
		}
		again, err := files.ReadBook(strings.NewReader(out.String()), options())
		if err != nil || again.Err() != nil {
			t.Fatalf("%v %v\n%s", err, again.Err(), out.String())
		}
		if len(im.Lines) > 0 && !reflect.DeepEqual(again.Lines, im.Lines) {
			t.Fatalf("came back as\n%+v, not\n%+v\n%s", again.Lines, im.Lines, out.String())
		}
	})
}

func FuzzReadEnclosure(f *testing.F) {
	page, err := os.ReadFile("../../doc/files.md")
	if err != nil {
		f.Fatal(err)
	}
	for _, part := range strings.Split(string(page), "\n```toml\n")[1:] {
		block, _, _ := strings.Cut(part, "\n```")
		f.Add(block)
	}
	f.Add("from = 2026-03-01\n[[range]]\nof = \"kh\"\nlo = -inf\nunit = \"dKH\"\n")
	f.Fuzz(func(t *testing.T, text string) {
		im, err := files.ReadEnclosure(strings.NewReader(text), options())
		if err != nil || im.Err() != nil {
			return
		}
		var out strings.Builder
		if err := files.WriteEnclosure(&out, im.Lines, now, nil); err != nil {
			t.Fatal(err)
		}
		again, err := files.ReadEnclosure(strings.NewReader(out.String()), options(im.Lines...))
		if err != nil || again.Err() != nil || len(again.Lines) != 0 {
			t.Fatalf("%v %v, new %+v\n%s", err, again.Err(), again.Lines, out.String())
		}
	})
}

func FuzzDecodeBody(f *testing.F) {
	for _, l := range wholeBook() {
		text, err := files.EncodeBody(l.Body)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(l.Body.Kind(), text)
	}
	f.Add("note", `{"v":2,"text":"later"}`)
	f.Fuzz(func(t *testing.T, kind, text string) {
		b, err := files.DecodeBody(kind, text)
		if err != nil {
			return
		}
		if b.Kind() != kind {
			t.Fatalf("%q became %q", kind, b.Kind())
		}
		out, err := files.EncodeBody(b)
		if err != nil {
			t.Fatal(err)
		}
		if _, unread := b.(book.Unread); unread && out != text {
			t.Fatalf("an unread body became %q", out)
		}
		if again, err := files.DecodeBody(kind, out); err != nil || !reflect.DeepEqual(again, b) {
			t.Fatalf("came back as %+v, not %+v (%v)", again, b, err)
		}
	})
}
