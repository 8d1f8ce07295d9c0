package files_test

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
	"time"

	"halfwater/book"
	"halfwater/enclosure"
	"halfwater/internal/files"
	"halfwater/kit"
	"halfwater/quantity"
)

func exportBook(t *testing.T, lines []book.Line) string {
	t.Helper()
	var out strings.Builder
	if err := files.WriteBook(&out, lines); err != nil {
		t.Fatal(err)
	}
	return out.String()
}

func importBook(t *testing.T, text string, have ...book.Line) *files.Import {
	t.Helper()
	im, err := files.ReadBook(strings.NewReader(text), options(have...))
	if err != nil {
		t.Fatal(err)
	}
	return im
}

func good(t *testing.T, im *files.Import) *files.Import {
	t.Helper()
	if err := im.Err(); err != nil {
		t.Fatal(err)
	}
	return im
}

// Export then import gives the same book: ids, times, facts, unread kinds, all of it.
func TestBookThereAndBack(t *testing.T) {
	want := wholeBook()
	text := exportBook(t, want)
	for name, text := range map[string]string{
		"as written":    text,
		"CRLF":          strings.ReplaceAll(text, "\n2", "\r\n2"), // at row ends; ids follow in the next test
		"with a BOM":    "\xef\xbb\xbf" + text,
		"no last break": strings.TrimSuffix(text, "\n"),
	} {
		got := good(t, importBook(t, text)).Lines
		if len(got) != len(want) {
			t.Fatalf("%s: %d lines of %d", name, len(got), len(want))
		}
		for i := range want {
			if !reflect.DeepEqual(got[i], want[i]) {
				t.Errorf("%s: line %d came back as\n%+v, not\n%+v", name, i, got[i], want[i])
			}
		}
	}
	again := good(t, importBook(t, text, want...))
	if len(again.Lines) != 0 || again.Known != len(want) {
		t.Errorf("the same file again: %d new, %d known", len(again.Lines), again.Known)
	}
}

func TestSemicolonsAndCRLF(t *testing.T) {
	have := wholeBook()
	im := good(t, importBook(t, "\xef\xbb\xbfat;Kind;Kit;Shown;Source;Litres\r\n24.05.2026 18:00;reading;pH pen;6,9;;\r\n\r\n;;;;;\r\n26.05.2026;top-up;;;RO;1,5\r\n", have...))
	if len(im.Lines) != 2 {
		t.Fatalf("%d lines", len(im.Lines))
	}
	if u, ok := im.Lines[1].Body.(book.TopUp); !ok || u.Litres != 1.5 || !im.Lines[1].At.Equal(time.Date(2026, 5, 26, 0, 0, 0, 0, time.UTC)) {
		t.Errorf("%+v", im.Lines[1])
	}
	if r, ok := im.Lines[0].Body.(book.Reading); !ok || !(r.Lo < 6.9 && 6.9 < r.Hi) || r.Of != quantity.OfPH || r.Unit != "pH" {
		t.Errorf("%+v", im.Lines[0])
	}
}

func TestLocalTime(t *testing.T) {
	zone := time.FixedZone("summer", 2*3600)
	o := options()
	o.Zone = zone
	im, err := files.ReadBook(strings.NewReader("at,kind,text\n2026-05-24 18:00,note,a\n2026-05-24T18:00:00Z,note,b\n"), o)
	if err != nil || im.Err() != nil {
		t.Fatal(err, im.Err())
	}
	for i, hour := range []int{16, 18} {
		if at := im.Lines[i].At; at.Hour() != hour || at.Location() != time.UTC {
			t.Errorf("row %d is at %v", i+1, at)
		}
	}
}

// What a kit showed is read by the kit as it was on that day: a new lot has other steps.
func TestReadingsByTheKitOfTheDay(t *testing.T) {
	steps := func(at int, steps ...float64) book.Line {
		k := kit.Kit{Name: "nitrate card", Of: quantity.OfNO3, Form: kit.Card, Unit: "mg/L", Basis: quantity.AsNO3, Steps: steps}
		return book.Line{ID: book.ID(fmt.Sprint("k", at)), At: day(at), Recorded: day(at), By: book.Keeper, Body: k}
	}
	have := []book.Line{steps(0, 0, 5, 10, 25), steps(10, 0, 5, 10, 20, 40)}
	im := good(t, importBook(t, "at,kind,kit,shown\n2026-03-06,reading,nitrate card,10\n2026-03-16,reading,nitrate card,10\n", have...))
	for i, at := range []int{5, 15} {
		k, _ := book.FactsAt(have, book.MainWater, day(at), now).Kit("nitrate card")
		want, err := k.Read("10", day(at))
		if err != nil {
			t.Fatal(err)
		}
		r := im.Lines[i].Body.(book.Reading)
		if r.Lo != want.Lo || r.Hi != want.Hi || r.Basis != quantity.AsNO3 {
			t.Errorf("on day %d: %g to %g, not %g to %g", at, r.Lo, r.Hi, want.Lo, want.Hi)
		}
	}
	if a, b := im.Lines[0].Body.(book.Reading), im.Lines[1].Body.(book.Reading); a.Hi == b.Hi {
		t.Error("both lots read the same, so this test sees nothing")
	}
}

// A kit that comes in the same file, further down, serves the rows above it.
func TestFactsInTheSameFile(t *testing.T) {
	im := good(t, importBook(t, `at,kind,kit,shown,name,of,form,unit,per_drop,source,litres
2026-03-02,reading,KH drops,4,,,,,,,
2026-03-02,top-up,,,,,,,,rain,2
2026-03-01,kit,,,KH drops,kh,drops,dKH,1,,
2026-03-01,source water,,,rain,,,,,,
`))
	if r := im.Lines[0].Body.(book.Reading); r.Lo != 3 || r.Hi != 4 {
		t.Errorf("%+v", r)
	}
	if im.Lines[2].Water != book.AllWaters || im.Lines[1].Water != book.MainWater {
		t.Errorf("water bodies %q and %q", im.Lines[2].Water, im.Lines[1].Water)
	}
}

// Rows written by hand, without ids, in a file that grows and is imported again and again.
func TestTheSameFileTwice(t *testing.T) {
	have := wholeBook()
	text := "at,kind,kit,shown,what,grams\n2026-05-24,reading,KH drops,4,,\n2026-05-24,reading,KH drops,4,,\n2026-05-25,feed,,,dry,0.3\n"
	first := good(t, importBook(t, text, have...))
	if len(first.Lines) != 3 { // the two readings are two
		t.Fatalf("%d lines", len(first.Lines))
	}
	have = append(have, first.Lines...)
	second := good(t, importBook(t, text+"2026-05-26,feed,,,dry,0.3\n", have...))
	if len(second.Lines) != 1 || second.Known != 3 {
		t.Errorf("%d new, %d known", len(second.Lines), second.Known)
	}
	third := good(t, importBook(t, text+"2026-05-24,reading,KH drops,4,,\n", have...))
	if len(third.Lines) != 1 || third.Known != 3 {
		t.Errorf("a third reading of the same: %d new, %d known", len(third.Lines), third.Known)
	}
}

func TestSameIDOtherContent(t *testing.T) {
	have := wholeBook()
	text := exportBook(t, have)
	changed := strings.Replace(text, "a friend", "a foe", 1)
	if changed == text {
		t.Fatal("nothing was changed")
	}
	im := importBook(t, changed, have...)
	if len(im.Faults) != 1 || !strings.Contains(im.Err().Error(), "is the name of another line") || im.Known != len(have)-1 {
		t.Errorf("%v, %d known", im.Err(), im.Known)
	}
	twice := importBook(t, "id,at,kind,text\nx,2026-05-24,note,one\nx,2026-05-24,note,one\nx,2026-05-24,note,two\n")
	if len(twice.Lines) != 1 || twice.Known != 1 || len(twice.Faults) != 1 || twice.Faults[0].Line != 4 {
		t.Errorf("%d new, %d known, %v", len(twice.Lines), twice.Known, twice.Err())
	}
}

// Each bad row is named with its line, its column or field, and what to do.
func TestBadRows(t *testing.T) {
	have := wholeBook()
	const header = "at,kind,kit,of,shown,unit,basis,source,litres,out_litres,in,stage,note,level_before_cm,level_after_cm,batch,id,body,what,grams,text,line,count,red_flag,off_since"
	columns := strings.Split(header, ",")
	rowOf := func(cells map[string]string) string {
		var out []string
		for _, c := range columns {
			out = append(out, `"`+strings.ReplaceAll(cells[c], `"`, `""`)+`"`)
		}
		return strings.Join(out, ",")
	}
	for _, c := range []struct {
		row  map[string]string
		want []string // words of the sentence
	}{
		{map[string]string{"kind": "note", "text": "x"}, []string{"at", "is empty", "2026-05-24 18:30"}},
		{map[string]string{"at": "yesterday", "kind": "note", "text": "x"}, []string{`"yesterday" is no time`, "write it like"}},
		{map[string]string{"at": "5/24/2026", "kind": "note", "text": "x"}, []string{"is no time"}},
		{map[string]string{"at": "2027-01-01", "kind": "note", "text": "x"}, []string{"time is 2027-01-01", "future"}},
		{map[string]string{"at": "0026-01-01", "kind": "note", "text": "x"}, []string{"look at the year"}},
		{map[string]string{"kind": ""}, []string{"is empty"}},
		{map[string]string{"kind": "redding"}, []string{`"redding" is not known`, "did you mean reading"}},
		{map[string]string{"kind": "reading", "shown": "4"}, []string{"kit", "write the kit"}},
		{map[string]string{"kind": "reading", "kit": "GH drops", "shown": "4"}, []string{`no kit "GH drops"`, "there is KH drops, nitrate card, pH pen"}},
		{map[string]string{"kind": "reading", "kit": "KH drops"}, []string{"shown"}},
		{map[string]string{"kind": "reading", "kit": "KH drops", "shown": "3.5"}, []string{"shown", "drops"}},
		{map[string]string{"kind": "reading", "kit": "nitrate card", "shown": "12"}, []string{"shown", "nitrate card"}},
		{map[string]string{"kind": "reading", "kit": "pH pen", "shown": "14.5"}, []string{"pH 14.5", "cannot be"}},
		{map[string]string{"kind": "reading", "kit": "KH drops", "shown": "4", "unit": "fH"}, []string{"unit", "the kit says it"}},
		{map[string]string{"kind": "reading", "of": "ph", "shown": "14.5", "unit": "pH"}, []string{"pH 14.5", "cannot be"}},
		{map[string]string{"kind": "reading", "of": "kh", "shown": "-1", "unit": "dKH"}, []string{"KH -1", "cannot be"}},
		{map[string]string{"kind": "reading", "of": "lead", "shown": "1", "unit": "mg/L"}, []string{"lead", "gh, kh"}},
		{map[string]string{"kind": "reading", "of": "gh", "shown": "7", "unit": "gpg"}, []string{"unit", `"gpg"`, "dGH"}},
		{map[string]string{"kind": "reading", "of": "gh", "shown": "7"}, []string{"unit is missing", "dGH"}},
		{map[string]string{"kind": "reading", "of": "no3", "shown": "10", "unit": "mg/L"}, []string{"as NO3", "as N"}},
		{map[string]string{"kind": "reading", "of": "no3", "shown": "10", "unit": "mg/L", "basis": "as P"}, []string{"as NO3", "as N"}},
		{map[string]string{"kind": "top-up", "source": "river", "litres": "1"}, []string{`no source water "river"`, "RO, tap"}},
		{map[string]string{"kind": "top-up", "source": "RO", "litres": "1,5"}, []string{"litres", "comma", "decimal point"}},
		{map[string]string{"kind": "top-up", "source": "RO", "litres": "much"}, []string{"litres", `"much" is not a number`}},
		{map[string]string{"kind": "top-up", "source": "RO", "litres": "-1"}, []string{"litres is -1", "less than nothing"}},
		{map[string]string{"kind": "change", "out_litres": "15", "in": "RO 9; river 6"}, []string{`no source water "river"`}},
		{map[string]string{"kind": "change", "out_litres": "15", "in": "RO"}, []string{"in", "a name and a number"}},
		{map[string]string{"kind": "change", "level_before_cm": "20", "level_after_cm": "24"}, []string{"level after is 24 cm", "siphon mark"}},
		{map[string]string{"kind": "change"}, []string{"out", "write the litres"}},
		{map[string]string{"kind": "change", "level_before_cm": "95", "out_litres": "9"}, []string{"level before is 95 cm", "above the glass", "was it 9.5 cm?"}},
		{map[string]string{"kind": "top-up", "source": "RO", "litres": "1500"}, []string{"litres is 1500 L", "was it 150 L?"}},
		{map[string]string{"kind": "feed", "what": "dry", "grams": "9000"}, []string{"grams is 9000 g"}},
		{map[string]string{"kind": "service", "stage": "fine sponge"}, []string{`no stage "fine sponge"`, "coarse sponge"}},
		{map[string]string{"kind": "note", "text": "x", "litres": "3"}, []string{`litres says "3"`, "a note has no such thing", "text"}},
		{map[string]string{"kind": "feed", "what": "dry", "batch": "toads"}, []string{`no stock "toads"`, "ricefish"}},
		{map[string]string{"kind": "feed", "what": "dry", "body": `{"gram": 3}`}, []string{"gram is not known", "write grams"}},
		{map[string]string{"kind": "feed", "what": "dry", "body": `{"what": "dry"}`}, []string{"what", "in the JSON of body too"}},
		{map[string]string{"kind": "feed", "what": "dry", "body": `{"grams": "3"}`}, []string{"grams", `"3"`, "write a number"}},
		{map[string]string{"kind": "feed", "what": "dry", "body": `{"grams": 3`}, []string{"no JSON"}},
		{map[string]string{"kind": "animal", "red_flag": "perhaps"}, []string{"red_flag", "true or false"}},
		{map[string]string{"kind": "stock", "count": "2.5"}, []string{"count", "whole number"}},
		{map[string]string{"kind": "switched on", "off_since": "noon"}, []string{"off_since", "is no time"}},
		{map[string]string{"kind": "withdraw", "line": "nobody"}, []string{`no line of the book is called "nobody"`}},
		{map[string]string{"kind": "comet seen", "body": `{}`, "text": "x"}, []string{"text", "update the program"}},
		{map[string]string{"kind": "note", "text": "x", "id": "a b"}, []string{"id", "letters, digits"}},
	} {
		if _, ok := c.row["at"]; !ok && !strings.Contains(c.want[0], "at") {
			c.row["at"] = "2026-05-24 18:00"
		}
		if _, ok := c.row["at"]; !ok && c.want[0] != "at" {
			c.row["at"] = "2026-05-24 18:00"
		}
		text := header + "\n" + rowOf(map[string]string{"at": "2026-05-23", "kind": "note", "text": "a good row"}) + "\n" + rowOf(c.row) + "\n"
		im := importBook(t, text, have...)
		if len(im.Faults) != 1 || im.Faults[0].Line != 3 || len(im.Lines) != 1 {
			t.Errorf("%v: %d faults, %d lines: %v", c.row, len(im.Faults), len(im.Lines), im.Err())
			continue
		}
		said := im.Err().Error()
		for _, w := range append(c.want, "line 3") {
			if !strings.Contains(said, w) {
				t.Errorf("%v: %q does not say %q", c.row, said, w)
			}
		}
		if strings.Contains(said, "%!") {
			t.Errorf("%q is no sentence", said)
		}
	}
}

// What makes a whole file unreadable is said in one sentence.
func TestBadFiles(t *testing.T) {
	for text, want := range map[string]string{
		"":                             "the file is empty",
		"\n\n":                         "the file is empty",
		"at,kind,shwon\n":              `line 1: there is no column "shwon": did you mean shown?`,
		"at,kind,at\n":                 `line 1: the column "at" is there twice`,
		"at,kind,,shown\n":             "line 1: column 3 has no name",
		"kind,text\n":                  `line 1: there is no column "at"`,
		"at,text\n":                    `line 1: there is no column "kind"`,
		"\"at,kind\n":                  "line 1: the line of column names does not read",
		"\xff\xfea\x00t\x00":           "no plain text",
		"at,kind\x00,text\n":           "no plain text",
		"{\"at\": 1}\n":                "the line of column names does not read",
		"PK\x03\x04\x00 spreadsheet\n": "no plain text",
	} {
		_, err := files.ReadBook(strings.NewReader(text), options())
		var bad files.BadFile
		if !errors.As(err, &bad) || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v, not %q", text, err, want)
		}
	}
}

// A truncated file is named by its last line; the rows before it are good.
func TestTruncated(t *testing.T) {
	have := wholeBook()
	whole := exportBook(t, have)
	rows := 0
	for cut := len(whole) - 1; cut > len(whole)-400; cut -= 7 {
		im := importBook(t, whole[:cut])
		if strings.HasSuffix(whole[:cut], "\n") || len(im.Faults) == 0 {
			continue
		}
		rows++
		last := im.Faults[len(im.Faults)-1]
		if last.Line < strings.Count(whole[:cut], "\n")-3 {
			t.Errorf("cut at %d of %d: line %d is named: %v", cut, len(whole), last.Line, last)
		}
	}
	if rows < 20 {
		t.Errorf("only %d cuts were seen", rows)
	}
	for text, want := range map[string]string{
		"at,kind,text\n2026-05-24,note,a\n2026-05-25,note,\"b": "line 3: a quotation mark opens here and never closes",
		"at,kind,text\n2026-05-24,note,a\n2026-05-25,no":       "line 3: is cut off: the file ends within this row, after 2 of 3 cells",
		"at,kind,text\n2026-05-24,note\n2026-05-25,note,b\n":   "line 2: has 2 cells where the first line names 3 columns",
		"at,kind,text\n2026-05-24,note,a\"b\n":                 "line 2: the quotation marks do not fit",
		"at,kind,text\n2026-05-24,note,a,b\n":                  "line 2: has 4 cells",
		"at,kind,text\n2026-05-24,note,caf\xe9\n":              "line 2: column text is not UTF-8",
	} {
		im := importBook(t, text)
		if len(im.Faults) != 1 || !strings.Contains(im.Err().Error(), want) {
			t.Errorf("%q: %v, not %q", text, im.Err(), want)
		}
	}
}

// Bad rows set aside, mended and imported again give what the whole file would have given.
func TestSetAside(t *testing.T) {
	have := wholeBook()
	text := "at;kind;kit;shown;text\n" +
		"24.05.2026;reading;KH drops;4;\n" +
		"24.05.2026;reading;KH drips;5;\n" +
		"25.05.2026;note;;;=1+1; and more\n" + // one cell too many
		"26.05.2026;note;;;fine\n" +
		"27.05.2026;note;;;\"no end\n"
	im := importBook(t, text, have...)
	if len(im.Lines) != 2 || len(im.Faults) != 3 {
		t.Fatalf("%d lines, %v", len(im.Lines), im.Err())
	}
	var aside bytes.Buffer
	if err := im.WriteSetAside(&aside); err != nil {
		t.Fatal(err)
	}
	got := aside.String()
	for _, want := range []string{
		"at;kind;kit;shown;text;fault\n",
		"24.05.2026;reading;KH drips;5;;", `"line 3, kit: there is no kit ""KH drips""`,
		"25.05.2026;note;;;=1+1; and more", "27.05.2026;note;;;\"\"no end",
	} {
		if !strings.Contains(got, want) {
			t.Errorf("set aside:\n%s\ndoes not hold %q", got, want)
		}
	}
	mended := strings.NewReplacer("KH drips", "KH drops").Replace(got)
	again := importBook(t, mended, append(have, im.Lines...)...)
	if len(again.Lines) != 1 || len(again.Faults) != 2 {
		t.Errorf("mended: %d lines, %v", len(again.Lines), again.Err())
	}
	if r := again.Lines[0].Body.(book.Reading); r.Kit != "KH drops" {
		t.Errorf("%+v", r)
	}
}

// A bad fact takes the rows that lean on it along.
func TestBadFactTakesItsRows(t *testing.T) {
	im := importBook(t, `at,kind,kit,shown,name,of,form,unit,per_drop
2026-03-02,reading,KH drops,4,,,,,
2026-03-01,kit,,,KH drops,kh,drops,dKH,0
2026-03-03,reading,,4,,kh,,dKH,
`)
	if len(im.Lines) != 1 || len(im.Faults) != 2 || !strings.Contains(im.Err().Error(), "per drop") {
		t.Errorf("%d lines, %v", len(im.Lines), im.Err())
	}
}

// endless is a file of so many bytes that says how much of it was read.
type endless struct{ left, read int64 }

func (e *endless) Read(p []byte) (int, error) {
	if e.left <= 0 {
		return 0, io.EOF
	}
	n := int(min(int64(len(p)), e.left))
	for i := range p[:n] {
		p[i] = 'x'
	}
	e.left -= int64(n)
	e.read += int64(n)
	return n, nil
}

func TestHugeFile(t *testing.T) {
	path := filepath.Join(t.TempDir(), "huge.csv")
	f, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if err := f.Truncate(200 << 20); err != nil { // 200 MB that take no room
		t.Fatal(err)
	}
	_, err = files.ReadBook(f, options())
	var large files.TooLarge
	if !errors.As(err, &large) || large.Size != 200<<20 || !strings.Contains(err.Error(), "200 MB, more than 64 MB") {
		t.Errorf("a file of 200 MB: %v", err)
	}
	if at, err := f.Seek(0, io.SeekCurrent); at != 0 || err != nil {
		t.Errorf("%d bytes were read (%v)", at, err)
	}
	// A pipe does not tell its size; it is left when the limit is passed.
	e := &endless{left: 200 << 20}
	_, err = files.ReadBook(io.MultiReader(strings.NewReader("at,kind,text\n2026-03-01,note,"), e), options())
	if !errors.As(err, &large) || e.read > 65<<20 {
		t.Errorf("a pipe of 200 MB: %v after %d bytes", err, e.read)
	}
	// Just under the limit is read.
	o := options()
	row := "2026-03-01,note,a\n"
	text := "at,kind,text\n" + strings.Repeat(row, 10)
	o.Limit = int64(len(text))
	if im, err := files.ReadBook(strings.NewReader(text), o); err != nil || len(im.Lines) != 10 {
		t.Errorf("a file of just the limit: %v", err)
	}
	o.Limit--
	if _, err := files.ReadBook(strings.NewReader(text), o); !errors.As(err, &large) {
		t.Errorf("a file of one byte over the limit: %v", err)
	}
}

// A reader that fails half-way is no end of the file.
func TestReaderFails(t *testing.T) {
	broken := errors.New("the stick was pulled")
	_, err := files.ReadBook(io.MultiReader(strings.NewReader("at,kind,text\n2026-03-01,note,a\n"), failing{broken}), options())
	if !errors.Is(err, broken) {
		t.Errorf("got %v", err)
	}
}

type failing struct{ err error }

func (f failing) Read([]byte) (int, error) { return 0, f.err }

// A long list of faults is cut short for reading, and whole for a program.
func TestManyFaults(t *testing.T) {
	im := importBook(t, "at,kind,text\n"+strings.Repeat("2026-03-01,note,\n", 50))
	said := im.Err().Error()
	if len(im.Faults) != 50 || strings.Count(said, "\n") != 20 || !strings.HasSuffix(said, "and 30 more") {
		t.Errorf("%d faults: %s", len(im.Faults), said)
	}
	var one files.RowFault
	if !errors.As(im.Err(), &one) || one.Line != 2 {
		t.Errorf("first fault %+v", one)
	}
}

// Rows that came from a book are taken even when what they name is gone from the facts.
func TestExportOfABookWithWithdrawnFacts(t *testing.T) {
	at := day(1)
	lines := []book.Line{
		{ID: "1", At: at, Recorded: at, By: book.Keeper, Body: enclosure.SourceWater{Name: "tapp"}},
		{ID: "2", At: at, Recorded: at, By: book.Keeper, Water: book.MainWater, Body: book.TopUp{Source: "tapp", Litres: 1}},
		{ID: "3", At: at, Recorded: at, By: book.Keeper, Water: book.MainWater, Body: book.Withdraw{Line: "1"}},
	}
	im := good(t, importBook(t, exportBook(t, lines)))
	if !reflect.DeepEqual(im.Lines, lines) {
		t.Errorf("%+v", im.Lines)
	}
}
