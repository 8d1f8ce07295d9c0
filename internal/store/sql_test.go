package store

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// The SQL keeps to what SQLite and PostgreSQL both read. This test holds it to a list of words: a new
// word is looked up in the manuals of both before it joins the list.

// common are the words of SQL that mean the same in both.
const common = `
	CREATE TABLE IF NOT EXISTS INDEX ON PRIMARY KEY REFERENCES NULL TEXT BIGINT BOOLEAN DOUBLE PRECISION
	INSERT INTO VALUES CONFLICT DO NOTHING UPDATE SET excluded RETURNING
	SELECT FROM WHERE AND IN ORDER BY max count
`

var (
	quoted   = regexp.MustCompile(`'[^']*'`)
	wordsIn  = regexp.MustCompile(`[A-Za-z_]+|\$[0-9]+|\?`)
	typeOf   = regexp.MustCompile(`(?m)^\s+([a-z_]+)\s+([A-Z]+(?: PRECISION)?)`)
	sqlBegin = regexp.MustCompile(`^\s*(SELECT|INSERT|UPDATE|DELETE|CREATE|ALTER|DROP|WITH|AND|ORDER|ON) `)
)

// texts are all texts of SQL in this package: the migrations and the strings of the Go files.
func texts(t *testing.T) map[string]string {
	t.Helper()
	out := map[string]string{}
	for _, m := range migrations {
		for _, st := range statements(m.text) {
			out[m.name+": "+st] = st
		}
	}
	files, err := filepath.Glob("*.go")
	must(t, err)
	for _, name := range files {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		file, err := parser.ParseFile(token.NewFileSet(), name, nil, 0)
		must(t, err)
		ast.Inspect(file, func(n ast.Node) bool {
			if lit, ok := n.(*ast.BasicLit); ok && lit.Kind == token.STRING {
				if text, err := strconv.Unquote(lit.Value); err == nil && sqlBegin.MatchString(text) {
					out[name+": "+text] = text
				}
			}
			return true
		})
	}
	if len(out) < 10 {
		t.Fatalf("only %d texts of SQL were found", len(out))
	}
	return out
}

// uncommon are the words of a text that are neither in the common list nor names of ours.
func uncommon(text string, names map[string]bool) []string {
	var out []string
	for _, w := range wordsIn.FindAllString(quoted.ReplaceAllString(text, ""), -1) {
		if !strings.HasPrefix(w, "$") && !names[w] && !slices.Contains(strings.Fields(common), w) {
			out = append(out, w)
		}
	}
	return out
}

func TestSQLIsCommon(t *testing.T) {
	names := namesOfTheSchema(t)
	for where, text := range texts(t) {
		if strings.Contains(text, "sqlite_master") { // SQLite's own list of tables; see version
			continue
		}
		for _, w := range uncommon(text, names) {
			t.Errorf("%s\nhas %s, which is not in the common list (bind with $1)", where, w)
		}
	}
}

func TestWordsThatAreNotCommon(t *testing.T) {
	names := namesOfTheSchema(t)
	for text, want := range map[string]string{
		"INSERT OR REPLACE INTO line":                              "OR REPLACE",
		"SELECT body FROM line WHERE id = ?":                       "?",
		"SELECT ifnull(at, id) FROM line":                          "ifnull",
		"CREATE TABLE line (id INTEGER PRIMARY KEY AUTOINCREMENT)": "INTEGER AUTOINCREMENT",
	} {
		if got := strings.Join(uncommon(text, names), " "); got != want {
			t.Errorf("in %q %q is not common, not %q", text, got, want)
		}
	}
}

// namesOfTheSchema are the tables, columns and indexes that the migrations make.
func namesOfTheSchema(t *testing.T) map[string]bool {
	t.Helper()
	out := map[string]bool{"migration": true, "number": true, "taken": true}
	made := regexp.MustCompile(`CREATE (?:TABLE|INDEX) ([a-z_]+)`)
	for _, m := range migrations {
		for _, hit := range made.FindAllStringSubmatch(m.text, -1) {
			out[hit[1]] = true
		}
		for _, hit := range typeOf.FindAllStringSubmatch(m.text, -1) {
			out[hit[1]] = true
		}
	}
	return out
}

// Types are the four that both databases have, and every table leads with the enclosure, in its
// columns and in its key.
func TestTablesLeadWithTheEnclosure(t *testing.T) {
	tables := 0
	for _, m := range migrations {
		for _, st := range statements(m.text) {
			for _, hit := range typeOf.FindAllStringSubmatch(st, -1) {
				switch hit[2] {
				case "TEXT", "BIGINT", "BOOLEAN", "DOUBLE PRECISION":
				default:
					t.Errorf("%s: column %s has type %s", m.name, hit[1], hit[2])
				}
			}
			switch {
			case strings.HasPrefix(st, "CREATE TABLE enclosure "):
				tables++
			case strings.HasPrefix(st, "CREATE TABLE"):
				tables++
				if hit := typeOf.FindStringSubmatch(st); hit == nil || hit[1] != "enclosure" {
					t.Errorf("%s: a table does not lead with the enclosure:\n%s", m.name, st)
				}
				if !strings.Contains(st, "PRIMARY KEY (enclosure, ") {
					t.Errorf("%s: a key does not lead with the enclosure:\n%s", m.name, st)
				}
			case strings.HasPrefix(st, "CREATE INDEX"):
				if !strings.Contains(st, "(enclosure, ") {
					t.Errorf("%s: an index does not lead with the enclosure:\n%s", m.name, st)
				}
			}
		}
	}
	if tables == 0 {
		t.Fatal("no table was seen")
	}
}

// A book kept from every version of the schema opens, with what was in it.
func TestBooksOfEveryVersion(t *testing.T) {
	kept, err := fs.Glob(osDir("testdata"), "schema-*.sqlite")
	must(t, err)
	if len(kept) != schema() {
		t.Fatalf("testdata keeps %d books for %d versions of the schema; write the newest with -keep and never change it again", len(kept), schema())
	}
	for _, name := range kept {
		path := filepath.Join(t.TempDir(), name)
		copyFile(t, filepath.Join("testdata", name), path, 0o600)
		s, err := Open(path, Options{})
		must(t, err)
		lines, err := s.Lines(ctx, "riverbank")
		must(t, err)
		if len(lines) != keptLines {
			t.Errorf("%s has %d lines, not %d", name, len(lines), keptLines)
		}
		checkKept(t, name, lines)
		must(t, s.Append(ctx, "riverbank", noteNow()))
		intact(t, s)
		must(t, s.Close())
	}
}
