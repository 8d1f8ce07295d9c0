package files_test

import (
	"errors"
	"strings"
	"testing"
	"time"

	"halfwater/book"
	"halfwater/enclosure"
	"halfwater/internal/files"
)

func TestReadRow(t *testing.T) {
	now := time.Date(2026, 5, 24, 18, 0, 0, 0, time.UTC)
	n := 0
	o := files.Options{Now: now, NewID: func() book.ID { n++; return book.ID(rune('a' + n)) }}
	im, err := files.ReadRow([][2]string{{"kind", "note"}, {"text", "two lines,\nand a comma"}, {"place", ""}}, o)
	if err != nil || im.Err() != nil {
		t.Fatal(err, im)
	}
	if got := im.Lines[0]; !got.At.Equal(now) || got.Body != (book.Note{Text: "two lines,\nand a comma"}) {
		t.Errorf("read %+v", got)
	}
	im, err = files.ReadRow([][2]string{{"kind", "note"}, {"at", "2026-05-23 08:00"}, {"text", "earlier"}}, o)
	if err != nil || im.Err() != nil || im.Lines[0].At.Hour() != 8 {
		t.Errorf("the time of the row is not kept: %v, %+v", err, im)
	}
	im, err = files.ReadRow([][2]string{{"kind", "change"}, {"out_litres", "15,5"}, {"level_before_cm", "24.5"}}, o)
	if err != nil || im.Err() != nil || im.Lines[0].Body.(book.Change).OutLitres != 15.5 || im.Lines[0].Body.(book.Change).LevelBefore != 245 {
		t.Errorf("a decimal comma is not taken: %v, %+v", err, im)
	}
	o.Have = []book.Line{{ID: "tap", At: now, Recorded: now, Water: book.AllWaters, By: book.Keeper, Body: enclosure.SourceWater{Name: "RO"}}}
	im, err = files.ReadRow([][2]string{{"kind", "change"}, {"out_litres", "9"}, {"in", "RO 9,5; RO 1"}}, o)
	if err != nil || im.Err() != nil || im.Lines[0].Body.(book.Change).In[0].Litres != 9.5 {
		t.Errorf("a decimal comma among parts is not taken: %v, %+v", err, im)
	}
	im, err = files.ReadRow([][2]string{{"kind", "change"}, {"out_litres", "-3"}}, o)
	var fault book.Fault
	if err != nil || len(im.Faults) != 1 || !errors.As(im.Faults[0].Err, &fault) || fault.Field != "out" {
		t.Errorf("what is wrong is not named: %v, %+v", err, im.Faults)
	}
	for _, c := range []struct{ kind, column, want string }{
		{"note", "wibble", "wibble is no column: doc/files.md names them all"},
		{"note", "txt", "txt is no column: did you mean text?"},
		{"wibble", "wibble", `kind "wibble" is not known`},
	} {
		im, err = files.ReadRow([][2]string{{"kind", c.kind}, {"text", "x"}, {c.column, "y"}}, o)
		if err != nil || len(im.Faults) != 1 || len(im.Lines) > 0 || !strings.Contains(im.Faults[0].Err.Error(), c.want) {
			t.Errorf("%s with %s: %v, %+v, not %q", c.kind, c.column, err, im, c.want)
		}
	}
}
