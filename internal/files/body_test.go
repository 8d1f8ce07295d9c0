package files_test

import (
	"math"
	"strings"
	"testing"
	"time"

	"halfwater/book"
	"halfwater/enclosure"
	"halfwater/internal/files"
	"halfwater/quantity"
	"halfwater/water"
)

// The text of a body is a promise: what stands in a book today must read tomorrow.
func TestTextOfABody(t *testing.T) {
	for want, b := range map[string]book.Body{
		`{}`: book.Feed{},
		`{"of":"kh","kit":"KH drops","shown":"4","unit":"dKH","lo":3,"hi":4}`: book.Reading{Of: quantity.OfKH, Kit: "KH drops", Shown: "4", Unit: "dKH", Lo: 3, Hi: 4},
		`{"out_litres":15,"level_before":241.5,"in":[{"source":"RO","litres":9}],"mix_ec":240}`: book.Change{
			OutLitres: 15, LevelBefore: 241.5, In: []book.Poured{{Source: "RO", Litres: 9}}, MixEC: 240,
		},
		`{"off_since":"2026-03-01T07:00:00.5Z"}`: book.SwitchedOn{
			OffSince: time.Date(2026, 3, 1, 9, 0, 0, 500_000_000, time.FixedZone("", 2*3600)),
		},
		`{"name":"sponge","clean_jug":"14.5s"}`: enclosure.Stage{Name: "sponge", CleanJug: 14500 * time.Millisecond},
		`{"of":"no3","range":{"lo":"-inf","hi":5.6}}`: enclosure.RangeWanted{
			Of: quantity.OfNO3, Range: quantity.Range[float64]{Lo: math.Inf(-1), Hi: 5.6},
		},
		`{"name":"RO","analysis":{"kind":"ro","gh":0,"ec":12}}`: enclosure.SourceWater{
			Name: "RO", Analysis: water.Analysis{
				Kind: water.RO, GH: water.Stated(quantity.Hardness(0)), EC: water.Stated(quantity.Conductivity(12)),
				KH: water.Known[quantity.Alkalinity]{Value: 7}, // a number that is not known is none
			},
		},
		`{"text":"<b> & \"quotes\" ü 🐸"}`: book.Note{Text: `<b> & "quotes" ü 🐸`},
		`{"file":"a.jpg","sha256":"00"}`:  book.Photo{File: "a.jpg", SHA256: "00"},
	} {
		got, err := files.EncodeBody(b)
		if err != nil || got != want {
			t.Errorf("%+v is\n%s, not\n%s (%v)", b, got, want, err)
		}
	}
	if got, err := files.EncodeBody(book.Price{Amount: math.NaN()}); err == nil || !strings.Contains(err.Error(), "price: amount: is not a number") {
		t.Errorf("NaN is written as %s (%v)", got, err)
	}
}

// A body that does not fit names the field and says what to do.
func TestBadBodies(t *testing.T) {
	for text, want := range map[string]string{
		``:                        "is no JSON",
		`nonsense`:                "is no JSON",
		`[1]`:                     "is no JSON object",
		`{"grams":1} {"grams":2}`: "goes on behind its end",
		`{"grams":1,"grams":2}`:   `"grams" is given twice`,
		`{"gramms":1}`:            "feed, body, gramms is not known: write grams",
		`{"Grams":1}`:             "Grams is not known",
		`{"grams":"1"}`:           `feed, body, grams is "1": write a number`,
		`{"grams":null}`:          "grams is null: write a number",
		`{"grams":[1]}`:           "grams is a list",
		`{"what":{}}`:             "what is an object: write a text",
		`{"in_water":1}`:          "in_water is 1: write true or false",
		`{"v":"two"}`:             "v is two: leave the version out",
		`{"v":0}`:                 "leave the version out",
		`{"grams":1e999}`:         "grams is 1e999",
		`{"grams":1`:              "is no JSON",
	} {
		if b, err := files.DecodeBody("feed", text); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %+v, %v, not %q", text, b, err, want)
		}
	}
	for text, want := range map[string]string{
		`{"in":[{"source":"RO","liters":1}]}`: "change, body, in[0].liters is not known: write litres",
		`{"in":{"RO":1}}`:                     "in is an object: write a list",
		`{"in":["RO"]}`:                       `in[0] is "RO": write an object`,
	} {
		if _, err := files.DecodeBody("change", text); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v, not %q", text, err, want)
		}
	}
	if _, err := files.DecodeBody("feed", strings.Repeat("[", 1e6)); err == nil || !strings.Contains(err.Error(), "nested too deep") {
		t.Errorf("a million brackets: %v", err)
	}
	for kind, text := range map[string]string{"switched on": `{"off_since":"noon"}`, "stage": `{"clean_jug":14}`, "animal": `{"seen":2.5}`} {
		if _, err := files.DecodeBody(kind, text); err == nil {
			t.Errorf("%s took %s", kind, text)
		}
	}
}

// What a later version wrote is kept as it came.
func TestUnreadBodies(t *testing.T) {
	for _, c := range []struct{ kind, text string }{
		{"comet seen", `{ "tail" : 1.50 }`},
		{"comet seen", `not even JSON`},
		{"feed", `{"v":2,"gramms":1}`},
	} {
		b, err := files.DecodeBody(c.kind, c.text)
		if err != nil || b != (book.Unread{Named: c.kind, Text: c.text}) {
			t.Errorf("%s %s: %+v (%v)", c.kind, c.text, b, err)
			continue
		}
		if text, err := files.EncodeBody(b); err != nil || text != c.text {
			t.Errorf("written again it is %s (%v)", text, err)
		}
	}
	if b, err := files.DecodeBody("feed", `{"v":1,"what":"dry"}`); err != nil || b != (book.Feed{What: "dry"}) {
		t.Errorf("version 1 said aloud: %+v (%v)", b, err)
	}
}

// No kind has a field whose column would be one of every row, or the version of a body.
func TestNamesThatAreTaken(t *testing.T) {
	for _, k := range book.Kinds() {
		for _, taken := range []string{"id", "at", "recorded", "kind", "water", "batch", "by", "body", "fault", "v", "from", "water"} {
			names := files.Columns(k)
			for _, n := range names {
				if n == taken {
					t.Errorf("%s has a column %q", k, n)
				}
			}
		}
	}
}
