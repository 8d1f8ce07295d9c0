package files

import (
	"math"
	"reflect"
	"testing"
	"time"

	"pgregory.net/rapid"

	"halfwater/book"
)

// anyBody draws a body of a kind with anything in its fields, sensible or not, by its shape alone.
func anyBody(t *rapid.T, kind string) book.Body {
	p, ok := book.New(kind)
	if !ok {
		t.Fatalf("kind %q is not registered", kind)
	}
	fillAny(t, reflect.ValueOf(p).Elem(), kind)
	b, _ := book.Deref(p)
	return b
}

func fillAny(t *rapid.T, v reflect.Value, name string) {
	switch {
	case v.Type() == timeType:
		v.Set(reflect.ValueOf(anyTime(t, name)))
		return
	case isKnown(v.Type()):
		if rapid.Bool().Draw(t, name+" is known") {
			v.Field(1).SetBool(true)
			fillAny(t, v.Field(0), name)
		}
		return
	}
	switch v.Kind() {
	case reflect.String:
		v.SetString(anyText(t, name))
	case reflect.Bool:
		v.SetBool(rapid.Bool().Draw(t, name))
	case reflect.Int, reflect.Int64:
		v.SetInt(rapid.Int64().Draw(t, name))
	case reflect.Float64:
		v.SetFloat(rapid.OneOf(
			rapid.Float64(), rapid.Float64Range(0, 1000), rapid.SampledFrom([]float64{0, 0.1, 23.7, math.Inf(1), math.Inf(-1), 1e-300, math.MaxFloat64}),
		).Draw(t, name))
	case reflect.Struct:
		for i := range v.NumField() {
			fillAny(t, v.Field(i), name+"."+v.Type().Field(i).Name)
		}
	case reflect.Slice:
		n := rapid.IntRange(0, 3).Draw(t, name+" length")
		if n == 0 {
			return // an empty list comes back as none
		}
		v.Set(reflect.MakeSlice(v.Type(), n, n))
		for i := range n {
			fillAny(t, v.Index(i), name)
		}
	default:
		t.Fatalf("%s: %s is no plain field; see the package comment of book", name, v.Type())
	}
}

func anyText(t *rapid.T, name string) string {
	return rapid.OneOf(
		rapid.String(),
		rapid.SampledFrom([]string{"", "=1+1", "'quoted", "''-5", "a; b", "RO 9", "ends in blank ", "two\nlines", "a\r\nb", "\t", "😀,\"x\"", "0", "inf", "@cmd", "+4"}),
	).Draw(t, name)
}

func anyTime(t *rapid.T, name string) time.Time {
	if !rapid.Bool().Draw(t, name+" is set") {
		return time.Time{}
	}
	from := time.Date(1900, 1, 1, 0, 0, 0, 0, time.UTC).UnixMicro()
	to := time.Date(2200, 1, 1, 0, 0, 0, 0, time.UTC).UnixMicro()
	return time.UnixMicro(rapid.Int64Range(from, to).Draw(t, name)).UTC()
}

// What is written down reads back the same, for every kind and anything in it, and one body has one
// text.
func TestBodyRoundTrip(t *testing.T) {
	for _, kind := range book.Kinds() {
		t.Run(kind, rapid.MakeCheck(func(t *rapid.T) {
			want := anyBody(t, kind)
			text, err := EncodeBody(want)
			if err != nil {
				t.Fatal(err)
			}
			got, err := DecodeBody(kind, text)
			if err != nil {
				t.Fatalf("%v\n%s", err, text)
			}
			if !reflect.DeepEqual(got, want) {
				t.Fatalf("came back as\n%+v, not\n%+v\n%s", got, want, text)
			}
			if again, err := EncodeBody(got); err != nil || again != text {
				t.Fatalf("written again it is\n%s, not\n%s (%v)", again, text, err)
			}
		}))
	}
}

// A row of the CSV says what its line says, for every kind and anything in it.
func TestRowRoundTrip(t *testing.T) {
	for _, kind := range book.Kinds() {
		t.Run(kind, rapid.MakeCheck(func(t *rapid.T) {
			want := book.Line{
				ID: "x", At: time.UnixMicro(1).UTC(), Recorded: time.UnixMicro(2).UTC(), By: book.Keeper,
				Water: rapid.SampledFrom([]string{"", "main", "tub", "=tub"}).Draw(t, "water"),
				Batch: rapid.SampledFrom([]string{"", "frogs", "-frogs"}).Draw(t, "batch"),
				Body:  anyBody(t, kind),
			}
			cells, err := record(want)
			if err != nil {
				t.Fatal(err)
			}
			rr := &rowReader{names: exported, sep: ','}
			var r row
			if err := rr.fill(&r, cells); err != nil {
				t.Fatal(err)
			}
			d := newDraft(r, dialect{zone: time.UTC}, Options{})
			if d.fault != nil {
				t.Fatalf("%v\n%q", d.fault, cells)
			}
			if !reflect.DeepEqual(d.Line, want) {
				t.Fatalf("came back as\n%+v, not\n%+v\n%q", d.Line, want, cells)
			}
		}))
	}
}

func TestGuard(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anyText(t, "text")
		g := guard(s)
		if unguard(g) != s {
			t.Fatalf("%q became %q and %q", s, g, unguard(g))
		}
		if dangerous(g) {
			t.Fatalf("%q is still a formula", g)
		}
	})
	for s, want := range map[string]string{
		"=1+1": "'=1+1", "-3": "'-3", "@a": "'@a", "+4": "'+4", "'=1": "''=1", "'tis": "'tis", "plain": "plain", "": "", "\tx": "'\tx",
	} {
		if got := guard(s); got != want {
			t.Errorf("guard(%q) is %q, not %q", s, got, want)
		}
	}
}
