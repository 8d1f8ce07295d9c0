package files_test

import (
	"math"
	"strings"
	"testing"

	"halfwater/book"
	"halfwater/internal/files"
	"halfwater/quantity"
)

// TestABasisNobodyKnows: a reading is not refused because nobody can tell what its mg/L count; it is kept as
// shown, with an interval that spans both.
func TestABasisNobodyKnows(t *testing.T) {
	const rows = "at,kind,of,shown,unit,basis,lo,hi\n" +
		"2026-03-02 09:00,reading,no3,10,mg/L,not stated,,\n" +
		"2026-03-03 09:00,reading,no3,10,mg/L,not stated,7,15\n"
	im, err := files.ReadBook(strings.NewReader(rows), files.Options{Now: day(9)})
	if err != nil || im.Err() != nil || len(im.Lines) != 2 {
		t.Fatalf("%v, %v, %+v", err, im.Err(), im.Lines)
	}
	for i, want := range [][2]float64{{9.5 / 4.4268, 10.5}, {7 / 4.4268, 15}} {
		r := im.Lines[i].Body.(book.Reading)
		if r.Basis != quantity.NotStated || r.Shown != "10" || math.Abs(r.Lo-want[0]) > 1e-3 || math.Abs(r.Hi-want[1]) > 1e-3 {
			t.Errorf("%+v, want %v", r, want)
		}
		if err := im.Lines[i].Check(day(9)); err != nil {
			t.Error(err)
		}
	}
	im, err = files.ReadBook(strings.NewReader(strings.ReplaceAll(rows, "not stated", "")), files.Options{Now: day(9)})
	if err == nil && im.Err() == nil {
		t.Error("nobody was asked for the basis")
	}
}

// TestACardThatDoesNotSay: the card of an enclosure file may leave its basis open, in so many words, and what it
// shows is read so.
func TestACardThatDoesNotSay(t *testing.T) {
	const card = "[[kit]]\nfrom = 2026-03-01\nname = \"nitrate card\"\nof = \"no3\"\nform = \"card\"\nunit = \"mg/L\"\nbasis = \"not stated\"\nsteps = [0, 5, 10, 25, 50, 100]\n"
	im, err := files.ReadEnclosure(strings.NewReader(card), options())
	if err != nil || im.Err() != nil || len(im.Lines) != 1 {
		t.Fatalf("%v, %v", err, im.Err())
	}
	const row = "at,kind,kit,shown\n2026-03-02 09:00,reading,nitrate card,10\n"
	im, err = files.ReadBook(strings.NewReader(row), options(im.Lines...))
	if err != nil || im.Err() != nil || len(im.Lines) != 1 {
		t.Fatalf("%v, %v", err, im.Err())
	}
	if r := im.Lines[0].Body.(book.Reading); r.Basis != quantity.NotStated || math.Abs(r.Lo-math.Sqrt(50)/4.4268) > 1e-3 || math.Abs(r.Hi-math.Sqrt(250)) > 1e-6 {
		t.Errorf("%+v", r)
	}
}
