package book_test

import (
	"context"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"halfwater/book"
	"halfwater/internal/files"
	"halfwater/internal/store"
)

// The kind of newkind_test.go through the codec, the CSV in both directions and the store, none of
// which was told of it.
func TestNewKindOnEveryRoad(t *testing.T) {
	body := book.Inoculation{
		What: "springtails", Grams: 12, Warmth: 21.5, Depth: 35, Share: 0.25,
		Counted: []book.Colony{{Sort: "white", Heads: 200}, {Sort: "grey one", Heads: 50}}, Wild: true, Until: day(3),
	}
	want := line("x", 1, 2, body)

	text, err := files.EncodeBody(body)
	if err != nil {
		t.Fatal(err)
	}
	if back, err := files.DecodeBody("inoculation", text); err != nil || !reflect.DeepEqual(back, book.Body(body)) {
		t.Errorf("the codec gives %+v (%v)", back, err)
	}

	s, err := store.Open(filepath.Join(t.TempDir(), "book.sqlite"), store.Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	if err := s.Append(context.Background(), "e", want); err != nil {
		t.Fatal(err)
	}
	kept, err := s.Lines(context.Background(), "e")
	if err != nil || len(kept) != 1 || !reflect.DeepEqual(kept[0], want) {
		t.Errorf("the store gives %+v (%v)", kept, err)
	}

	var csv strings.Builder
	if err := files.WriteBook(&csv, kept); err != nil {
		t.Fatal(err)
	}
	im, err := files.ReadBook(strings.NewReader(csv.String()), files.Options{Now: day(9)})
	if err != nil || im.Err() != nil || len(im.Lines) != 1 || !reflect.DeepEqual(im.Lines[0], want) {
		t.Errorf("the CSV gives %+v (%v, %v)\n%s", im.Lines, err, im.Err(), csv.String())
	}

	const hand = "at,kind,what,grams,warmth_c,depth_cm,percent,counted,wild,until\n" +
		"2026-03-02 09:00,inoculation,springtails,12,21.5,3.5,25,white 200; grey one 50,yes,2026-03-04 09:00\n"
	im, err = files.ReadBook(strings.NewReader(hand), files.Options{Now: day(9)})
	if err != nil || im.Err() != nil || len(im.Lines) != 1 || !reflect.DeepEqual(im.Lines[0].Body, want.Body) {
		t.Errorf("by hand it gives %+v (%v, %v)", im.Lines, err, im.Err())
	}
}
