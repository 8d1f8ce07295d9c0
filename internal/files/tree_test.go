package files

import (
	"encoding/json"
	"reflect"
	"strings"
	"testing"
	"unicode/utf8"
)

// The tree takes just what the standard library takes for JSON (RFC 8259), but for a key given twice,
// a great depth and text that is not UTF-8, and it holds the same.
func FuzzReadTree(f *testing.F) {
	for _, text := range []string{
		`{"a":1.50,"b":[true,false,null,{"c":"d\n\u00e9\ud83d\udc38"}]}`, ` [ ] `, `{}`, `"x`, `{"a":1,}`, `[1,]`, `-`, `01`, `1e5`, `nul`, `{"a" 1}`,
		"\"\t\"", `"\x"`, `{"a":1}}`, ``, `[[[[1]]]]`, `"\ud800"`, "\u2028", `tru`, `1.`, `.5`, `+1`, `{"a":{"a":1}}`, `truex`, `[1 2]`, `{,}`,
	} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		got, err := readTree(text)
		if err != nil {
			if said := err.Error(); json.Valid([]byte(text)) && !strings.Contains(said, "given twice") && !strings.Contains(said, "too deep") {
				t.Fatalf("%q is JSON, but: %v", text, err)
			}
			return
		}
		if !utf8.ValidString(text) {
			return
		}
		d := json.NewDecoder(strings.NewReader(text))
		d.UseNumber()
		var want any
		if err := d.Decode(&want); err != nil || !json.Valid([]byte(text)) {
			t.Fatalf("%q is no JSON, but it is taken: %v (%v)", text, got, err)
		}
		if !reflect.DeepEqual(asMaps(got), want) {
			t.Fatalf("%q is %v, not %v", text, got, want)
		}
	})
}

func asMaps(v any) any {
	switch v := v.(type) {
	case object:
		out := map[string]any{}
		for _, m := range v {
			out[m.key] = asMaps(m.value)
		}
		return out
	case []any:
		out := []any{}
		for _, one := range v {
			out = append(out, asMaps(one))
		}
		return out
	}
	return v
}
