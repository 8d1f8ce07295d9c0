package files_test

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"halfwater/book"
	"halfwater/enclosure"
	"halfwater/internal/files"
	"halfwater/kit"
	"halfwater/quantity"
)

func importEnclosure(t testing.TB, text string, o files.Options) *files.Import {
	t.Helper()
	im, err := files.ReadEnclosure(strings.NewReader(text), o)
	if err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	return im
}

// Export then import gives the same facts at every moment, in an empty book; in the same book it
// changes nothing. zone is where the keeper lives.
func thereAndBack(t rapidOrTesting, lines []book.Line, zone *time.Location) {
	text := exportEnclosure(t, lines, zone)
	o := options()
	o.Zone = zone
	im, err := files.ReadEnclosure(strings.NewReader(text), o)
	if err != nil || im.Err() != nil {
		t.Fatalf("%v %v\n%s", err, im.Err(), text)
	}
	moments := []time.Time{now}
	for _, l := range lines {
		moments = append(moments, l.At, l.At.Add(-time.Microsecond))
	}
	for _, water := range []string{book.MainWater, "tub", "sump"} {
		for _, m := range moments {
			want, got := byName(book.FactsAt(lines, water, m, now)), byName(book.FactsAt(im.Lines, water, m, now))
			if !reflect.DeepEqual(got, want) {
				t.Fatalf("facts of %s at %v are\n%+v, not\n%+v\n%s", water, m, got, want, text)
			}
		}
	}
	o = options(lines...)
	o.Zone = zone
	same, err := files.ReadEnclosure(strings.NewReader(text), o)
	if err != nil || same.Err() != nil || len(same.Lines) != 0 {
		t.Fatalf("into the same book: %v %v, new %+v\n%s", err, same.Err(), same.Lines, text)
	}
}

// byName puts the lists into the order of their names: in which order things were first named is not
// kept for those that end and begin at one moment.
func byName(f enclosure.Facts) enclosure.Facts {
	slices.SortFunc(f.Stages, func(a, b enclosure.Stage) int { return strings.Compare(a.Name, b.Name) })
	slices.SortFunc(f.Stock, func(a, b enclosure.Batch) int { return strings.Compare(a.Name, b.Name) })
	return f
}

type rapidOrTesting interface {
	Helper()
	Fatalf(format string, args ...any)
}

func exportEnclosure(t rapidOrTesting, lines []book.Line, zone *time.Location) string {
	t.Helper()
	var out strings.Builder
	if err := files.WriteEnclosure(&out, lines, now, zone); err != nil {
		t.Fatalf("%v", err)
	}
	return out.String()
}

func zones(t testing.TB) []*time.Location {
	berlin, err := time.LoadLocation("Europe/Berlin")
	if err != nil {
		t.Skip("no time zones here")
	}
	return []*time.Location{time.UTC, berlin, time.FixedZone("half", -9*3600-1800)}
}

func TestEnclosureThereAndBack(t *testing.T) {
	for _, zone := range zones(t) {
		thereAndBack(t, wholeBook(), zone)
	}
}

// Any course of facts: changed, ended, begun again, in three water bodies and for all, late or in time,
// some withdrawn.
func TestEnclosureThereAndBackAnyway(t *testing.T) {
	berlin := zones(t)[1]
	rapid.Check(t, func(t *rapid.T) {
		var lines []book.Line
		known := map[string]bool{}
		n := rapid.IntRange(1, 12).Draw(t, "facts")
		for i := range n {
			var b book.Body
			name := rapid.SampledFrom([]string{"a", "b"}).Draw(t, "name")
			size := float64(rapid.IntRange(0, 3).Draw(t, "size"))
			switch rapid.IntRange(0, 4).Draw(t, "fact") {
			case 0:
				b = enclosure.Stage{Name: name, Order: int(size)}
			case 1:
				b = enclosure.Basin{Length: quantity.Millimetres(1000 + size), Width: 500, Height: 400, FullMark: 300}
			case 2:
				b = enclosure.RangeWanted{Of: quantity.OfKH, Range: quantity.Range[float64]{Lo: size, Hi: 10}}
			case 3:
				b = enclosure.Batch{Name: name, Count: int(size)}
			case 4:
				b = enclosure.Retired{OfKind: "stage", OfKey: name}
				if !known["stage"+name] {
					continue
				}
			}
			if s, ok := b.(enclosure.Stage); ok {
				known["stage"+s.Name] = true
			}
			at := day(i / 2).Add(time.Duration(rapid.IntRange(0, 1).Draw(t, "hour")) * time.Hour)
			lines = append(lines, book.Line{
				ID: id("f", i), At: at, Recorded: at.AddDate(0, 0, rapid.IntRange(0, 2).Draw(t, "late")),
				Water: rapid.SampledFrom([]string{book.MainWater, "tub", book.AllWaters}).Draw(t, "water"), By: book.Keeper, Body: b,
			})
		}
		thereAndBack(t, lines, berlin)
	})
}

// Importing appends only what differs from what is in force on its day.
func TestOnlyWhatDiffers(t *testing.T) {
	first := importEnclosure(t, "from = 2026-03-01\n[[stage]]\nname = \"sponge\"\norder = 1\n[[stage]]\nname = \"carbon\"\n", options())
	if len(first.Lines) != 2 || first.Err() != nil {
		t.Fatal(first.Err())
	}
	for _, c := range []struct {
		text       string
		new, known int
	}{
		{"from = 2026-03-01\n[[stage]]\nname = \"sponge\"\norder = 1\n", 0, 1},
		{"from = 2026-05-01\n[[stage]]\nname = \"sponge\"\norder = 1\n", 0, 1}, // still so
		{"from = 2026-05-01\n[[stage]]\nname = \"sponge\"\norder = 2\n", 1, 0}, // changed
		{"from = 2026-03-01\n[[stage]]\nname = \"sponge\"\norder = 2\n", 1, 0}, // mended
		{"from = 2026-02-01\n[[stage]]\nname = \"sponge\"\norder = 1\n", 1, 0}, // from earlier on
		{"from = 2026-05-01\n[[retired]]\nof_kind = \"stage\"\nof_key = \"carbon\"\n", 1, 0},
		{"from = 2026-05-01\nwater = \"tub\"\n[[stage]]\nname = \"sponge\"\norder = 1\n", 1, 0}, // another body
		{"[[stage]]\nfrom = 2026-05-01\nname = \"sponge\"\norder = 2\n[[stage]]\nfrom = 2026-06-01\nname = \"sponge\"\norder = 1\n" +
			"[[stage]]\nfrom = 2026-07-01\nname = \"sponge\"\norder = 1\n", 2, 1},
	} {
		im := importEnclosure(t, c.text, options(first.Lines...))
		if im.Err() != nil || len(im.Lines) != c.new || im.Known != c.known {
			t.Errorf("%s\n%d new, %d known: %v", c.text, len(im.Lines), im.Known, im.Err())
		}
	}
	mended := importEnclosure(t, "from = 2026-03-01\n[[stage]]\nname = \"sponge\"\norder = 2\n", options(first.Lines...))
	f := book.FactsAt(append(first.Lines, mended.Lines...), book.MainWater, now, now)
	if f.Stages[0].Order != 2 {
		t.Errorf("the mended fact does not hold: %+v", f.Stages)
	}
}

func TestUnitsInKeys(t *testing.T) {
	im := importEnclosure(t, `
from = 2026-03-01
[basin]
length_mm = 1000
width_cm = 50
height_in = 20
full_mark_cm = 24.1
land_share = 0.35
filter_us_gallons = 1
[[fitting]]
name = "x"
what = "heater"
rated_temp_f = 77
[[stock]]
name = "frogs"
mass_kg = 0.012
[[stage]]
name = "sponge"
clean_jug_minutes = 0.5
jug_litres = 2
[routine]
change_share = 0.2
[[source_water]]
name = "well"
gh_mg_l_caco3 = 178.48
ec_ms_cm = 0.5
no3_mg_l = 10
basis = "as N"
`, options())
	if im.Err() != nil {
		t.Fatal(im.Err())
	}
	f := book.FactsAt(im.Lines, book.MainWater, now, now)
	b := f.Basin
	if b.Length != 1000 || b.Width != 500 || b.Height != 508 || b.FullMark != 241 || b.LandShare != 0.35 || b.FilterLitres != 3.785411784 {
		t.Errorf("basin %+v", b)
	}
	if f.Fittings[0].RatedTemp < 24.99 || f.Fittings[0].RatedTemp > 25.01 || f.Stock[0].Mass != 12 || f.Stages[0].CleanJug != 30*time.Second || f.Routine.ChangeShare != 0.2 {
		t.Errorf("%+v", f)
	}
	// 1 dGH is 17.848 mg CaCO3/L (DIN 38409-6 and the molar masses; see quantity).
	a := f.Sources[0].Analysis
	if a.GH.Value < 9.99 || a.GH.Value > 10.01 || a.EC.Value != 500 || a.NO3.Value != 10 || !a.NO3.Is || a.KH.Is {
		t.Errorf("analysis %+v", a)
	}
}

// The basis of a water report. NO3 over N is 4.427, NH4 over N 1.288, PO4 over P 3.066 (molar masses,
// IUPAC 2021).
func TestBasisOfAReport(t *testing.T) {
	read := func(keys string) (enclosure.SourceWater, error) {
		im := importEnclosure(t, "from = 2026-03-01\n[[source_water]]\nname = \"tap\"\n"+keys, options())
		if im.Err() != nil {
			return enclosure.SourceWater{}, im.Err()
		}
		return im.Lines[0].Body.(enclosure.SourceWater), nil
	}
	near := func(x, want float64) bool { return x > want*0.999 && x < want*1.001 }
	w, err := read("no3_mg_l = 44.27\ntan_mg_l = 1.288\npo4_mg_l = 3.066\nbasis = \"as ions\"\n")
	if err != nil || !near(float64(w.Analysis.NO3.Value), 10) || !near(float64(w.Analysis.TAN.Value), 1) || !near(float64(w.Analysis.PO4.Value), 1) {
		t.Errorf("as ions: %+v (%v)", w.Analysis, err)
	}
	w, err = read("no3_mg_l = 44.27\nbasis = \"as NO3\"\n")
	if err != nil || !near(float64(w.Analysis.NO3.Value), 10) {
		t.Errorf("as NO3: %+v (%v)", w.Analysis, err)
	}
	w, err = read("no3_mg_l = 10\npo4_mg_l = 1\nbasis = \"as N\"\n")
	if err != nil || w.Analysis.NO3.Value != 10 || w.Analysis.PO4.Value != 1 {
		t.Errorf("as N: %+v (%v)", w.Analysis, err)
	}
	for keys, want := range map[string]string{
		"no3_mg_l = 10\n": `basis is missing: say what no3_mg_l counts`,
		"no3_mg_l = 10\ntan_mg_l = 1\nbasis = \"as NO3\"\n": `that does not fit tan_mg_l`,
		"no3_mg_l = 10\nbasis = \"nitrogen\"\n":             `basis is "nitrogen"`,
		"gh_dgh = 3\nbasis = \"as N\"\n":                    `nothing here needs one`,
		"ph = 14.5\n":                                       `pH`,
		"gh_dgh = -1\n":                                     `GH`,
	} {
		if _, err := read(keys); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v, not %q", keys, err, want)
		}
	}
}

// Each bad table or key is named with its line and what to do.
func TestBadTables(t *testing.T) {
	for _, c := range []struct {
		text string
		line int
		want []string
	}{
		{"[basin]\nlength_cm = 1\n", 1, []string{"has no from", "2026-05-24"}},
		{"from = 2026-03-01\n[basins]\n", 2, []string{"[basins]", "not known", "basin"}},
		{"from = 2026-03-01\n[[stage]]\nname = \"a\"\nmedia = \"sponge\"\n", 4, []string{"media", "medium"}},
		{"from = 2026-03-01\n[basin]\nlength = 100\n", 3, []string{"length", "length_cm"}},
		{"from = 2026-03-01\n[basin]\nlength_cm = 100\nlength_mm = 1000\n", 4, []string{"the same as length_cm"}},
		{"from = 2026-03-01\n[basin]\nlength_cm = \"100\"\n", 3, []string{"write a number"}},
		{"from = 2026-03-01\n[[stage]]\nname = 7\n", 3, []string{"write a text"}},
		{"from = 2026-03-01\n[[stage]]\nname = \"a\"\nbiological = \"yes\"\n", 4, []string{"true or false"}},
		{"from = 2026-03-01\n[[stock]]\nname = \"a\"\ncount = 2.5\n", 4, []string{"whole number"}},
		{"from = 2026-03-01\n[routine]\nsalts = \"NaHCO3\"\n", 3, []string{"write a list"}},
		{"from = 2026-03-01\n[basin]\nprofile_cm = [[1, 2, 3]]\n", 3, []string{"pair"}},
		{"from = 2026-03-01\n[[kit]]\nname = \"x\"\nopened = \"May\"\n", 4, []string{"write a day"}},
		{"from = \"2026-03-01\"\n[[stage]]\nname = \"a\"\n", 2, []string{"without quotation marks"}},
		{"from = 2027-03-01\n[[stage]]\nname = \"a\"\n", 2, []string{"future"}},
		{"from = 2026-03-01\nname = \"Riverbank\"\n[[stage]]\nname = \"a\"\n", 2, []string{"name", "at the top"}},
		{"from = 2026-03-01\n[[stage]]\nname = \"a\"\nwater = 3\n", 2, []string{"water that is no name"}},
		{"from = 2026-03-01\n[[stage]]\norder = 1\n", 2, []string{"name is empty"}},
		{"from = 2026-03-01\n[[source_water]]\nname = \"RO\"\nmade_by = \"still\"\n", 2, []string{`no fitting "still"`}},
		{"from = 2026-03-01\n[routine]\ntop_up_with = \"RO\"\n", 2, []string{`no source water "RO"`}},
		{"from = 2026-03-01\n[[retired]]\nof_kind = \"stage\"\nof_key = \"a\"\n[[stage]]\nname = \"b\"\n", 0, nil}, // ended before it began: nothing to do
		{"from = 2026-03-01\n[[range]]\nof = \"no3\"\nhi = 25\n", 2, []string{"unit is missing", "mg/L"}},
		{"from = 2026-03-01\n[[range]]\nof = \"no3\"\nhi = 25\nunit = \"mg/L\"\n", 2, []string{"basis is missing", "as NO3"}},
		{"from = 2026-03-01\n[[range]]\nof = \"no3\"\nhi = 25\nunit = \"mg/L\"\nbasis = \"as P\"\n", 6, []string{`basis is "as P"`}},
		{"from = 2026-03-01\n[[range]]\nof = \"ph\"\nhi = 14.5\nunit = \"pH\"\n", 4, []string{"hi cannot be", "14.5"}},
		{"from = 2026-03-01\n[[range]]\nof = \"lead\"\nhi = 1\nunit = \"mg/L\"\n", 3, []string{"lead", "gh, kh"}},
		{"from = 2026-03-01\n[[kit]]\nname = \"KH\"\nof = \"kh\"\nform = \"drops\"\nunit = \"dKH\"\n", 2, []string{"per drop", "one drop counts"}},
		{"from = 2026-03-01\n[basin]\nlength_cm = 100\nwidth_cm = 50\nheight_cm = 40\nfull_mark_cm = 50\n", 2, []string{"full mark"}},
	} {
		im := importEnclosure(t, c.text, options())
		if c.line == 0 {
			if im.Err() != nil {
				t.Errorf("%s: %v", c.text, im.Err())
			}
			continue
		}
		if len(im.Faults) != 1 || im.Faults[0].Line != c.line {
			t.Errorf("%s\nfaults %v, not one in line %d", c.text, im.Err(), c.line)
			continue
		}
		for _, w := range c.want {
			if said := im.Err().Error(); !strings.Contains(said, w) || strings.Contains(said, "%!") {
				t.Errorf("%s\n%q does not say %q", c.text, said, w)
			}
		}
	}
}

// An analysis that contradicts itself is refused by either door, with the ion to look at; the same one
// in other units, or in part, is taken.
func TestAnalysisThatCannotBe(t *testing.T) {
	const ions = "ca_mg_l = 80.2\nmg_mg_l = 12.2\nna_mg_l = 23\nk_mg_l = 2\ncl_mg_l = 42.5\nso4_mg_l = 57.6\nno3_mg_l = 21.7\nbasis = \"as ions\"\n"
	for keys, want := range map[string]string{
		ions + "kh_dkh = 9.3": "", ions + "kh_dkh = 93": "look at alkalinity", ions + "kh_dkh = 9.3\nec_us_cm = 50": "EC 50",
		"gh_dgh = 8\nkh_dkh = 8": "", "ph = 7.5": "", "kh_dkh = 8": "",
	} {
		im := importEnclosure(t, "from = 2026-03-01\n[[source_water]]\nname = \"tap\"\n"+keys, options())
		if err := im.Err(); (err == nil) != (want == "") || err != nil && !(strings.Contains(err.Error(), want) && strings.Contains(err.Error(), "leave the ions out")) {
			t.Errorf("%s: %v", keys, err)
		}
	}
	im := importBook(t, "at,kind,name,gh_dgh,kh_dkh,ca_mg_l,mg_mg_l,ec_us_cm\n2026-03-01,source water,tap,,80,60,8,450\n2026-03-01,source water,well,8,6,,,\n")
	if len(im.Lines) != 1 || len(im.Faults) != 1 || im.Faults[0].Line != 2 {
		t.Errorf("lines %v, faults %v", im.Lines, im.Faults)
	}
}

func TestBadEnclosureFiles(t *testing.T) {
	for text, want := range map[string]string{
		"from = 2026-03-01\n[basin\n":                      "line 2: this does not read",
		"from = 2026-13-01\n":                              "line 1: this does not read",
		"[basin]\na = 1\n[basin]\nb = 2\n":                 "this does not read",
		"[basin]\nlength_cm = 1\nlength_cm = 2\n":          "this does not read",
		"[a.b]\nc = 1\n":                                   `line 1: the name "a.b" has dots`,
		"from = 2026-03-01\n[basin]\nsize.length_cm = 1\n": `line 3: the name "size.length_cm" has dots`,
		"\xff\xfe[\x00b\x00":                               "no plain text",
	} {
		_, err := files.ReadEnclosure(strings.NewReader(text), options())
		var bad files.BadFile
		if !errors.As(err, &bad) || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v, not %q", text, err, want)
		}
	}
	var large files.TooLarge
	if _, err := files.ReadEnclosure(strings.NewReader(strings.Repeat("# nothing\n", 1<<20)), options()); !errors.As(err, &large) {
		t.Errorf("10 MB of TOML: %v", err)
	}
	if im := importEnclosure(t, "\xef\xbb\xbffrom = 2026-03-01\r\n[[stage]]\r\nname = \"a\"\r\n", options()); len(im.Lines) != 1 {
		t.Errorf("with BOM and CRLF: %v", im.Err())
	}
	if im := importEnclosure(t, "", options()); len(im.Lines) != 0 || im.Err() != nil {
		t.Errorf("an empty file: %v", im.Err())
	}
}

// The new lot of a kit: from its day on it reads otherwise.
func TestNewLot(t *testing.T) {
	im := importEnclosure(t, `
[[kit]]
from = 2026-03-01
name = "KH drops"
of = "kh"
form = "drops"
unit = "dKH"
per_drop = 1
[[kit]]
from = 2026-05-01
name = "KH drops"
of = "kh"
form = "drops"
unit = "dKH"
per_drop = 0.5
`, options())
	if im.Err() != nil {
		t.Fatal(im.Err())
	}
	for at, want := range map[int]float64{10: 1, 61: 0.5} {
		if k, _ := book.FactsAt(im.Lines, "tub", day(at), now).Kit("KH drops"); k.PerDrop != want || k.Form != kit.Drops {
			t.Errorf("on day %d %+v", at, k)
		}
	}
}

// The demo's own files import when they are there.
func TestDemoFiles(t *testing.T) {
	tomls, err := filepath.Glob("../../demo/*.toml")
	if err != nil {
		t.Fatal(err)
	}
	if len(tomls) == 0 {
		t.Skip("no demo yet")
	}
	for _, name := range tomls {
		f, err := os.Open(name)
		if err != nil {
			t.Fatal(err)
		}
		o := files.Options{Now: time.Date(2100, 1, 1, 0, 0, 0, 0, time.UTC), Zone: time.UTC}
		im, err := files.ReadEnclosure(f, o)
		_ = f.Close()
		if err != nil || im.Err() != nil {
			t.Errorf("%s: %v %v", name, err, im.Err())
			continue
		}
		rows, err := os.Open(strings.TrimSuffix(name, ".toml") + ".csv")
		if err != nil {
			t.Error(err)
			continue
		}
		o.Have, o.NewID = im.Lines, func() book.ID { n++; return book.ID(fmt.Sprint("d", n)) }
		csv, err := files.ReadBook(rows, o)
		_ = rows.Close()
		if err != nil || csv.Err() != nil {
			t.Errorf("%s: %v %v", name, err, csv.Err())
		}
	}
}

var n int
