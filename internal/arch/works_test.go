package arch

import (
	"path"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

	"halfwater/cite"
	"halfwater/internal/published"
)

// carriers are the kinds of file that a work can be named in.
const carriers = ".go .txt .csv .toml .tmpl .md"

// TestEveryWorkIsUsed is met by the key of the work, as a word, anywhere in the tree outside
// works.txt: in a table of constants, in a published table, or in a comment beside a number.
func TestEveryWorkIsUsed(t *testing.T) {
	unused := cite.Works()
	files(t, func(name string, text []byte) {
		if name == "cite/works.txt" || !among(carriers, path.Ext(name)) {
			return
		}
		for key := range unused {
			if hasWord(string(text), key) {
				delete(unused, key)
			}
		}
	})
	for key, work := range unused {
		t.Errorf("cite/works.txt: nothing names %s (%s): write the key beside the number that comes from it, or take the line out", key, work.Reference)
	}
}

// hasWord finds key where neither side of it goes on as a word.
func hasWord(text, key string) bool {
	goesOn := func(r rune) bool { return unicode.IsLetter(r) || unicode.IsDigit(r) }
	for {
		before, after, found := strings.Cut(text, key)
		if !found {
			return false
		}
		last, _ := utf8.DecodeLastRuneInString(before)
		first, _ := utf8.DecodeRuneInString(after)
		if !goesOn(last) && !goesOn(first) {
			return true
		}
		text = after
	}
}

// Tables of constants need no test here: cite.MustParse refuses them at the start of the program.
func TestEveryPublishedTableNamesAWork(t *testing.T) {
	for _, table := range published.ReadAll(t, "*") {
		for _, key := range strings.FieldsFunc(table.Work(), func(r rune) bool { return r == ',' || r == ' ' }) {
			if _, ok := cite.Lookup(key); !ok {
				t.Errorf("testdata/published/%s.txt: work %q is not in cite/works.txt", table.Name, key)
			}
		}
	}
}
