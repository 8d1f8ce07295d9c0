package arch

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"halfwater/internal/published"
)

const module = "halfwater"

// source is one Go file of the module.
type source struct {
	name    string // from the root, with slashes
	lines   int
	imports []string
	file    *ast.File
}

func (s source) pkg() string { return path.Dir(s.name) } // "." for the root

func (s source) test() bool { return strings.HasSuffix(s.name, "_test.go") }

// ours cuts the module's name off an import path.
func ours(imported string) (string, bool) { return strings.CutPrefix(imported, module+"/") }

// sources parses every Go file of the module.
func sources(t *testing.T) []source {
	t.Helper()
	var out []source
	files(t, func(name string, text []byte) {
		if path.Ext(name) == ".go" {
			out = append(out, read(t, name, text))
		}
	})
	if len(out) < 10 {
		t.Fatalf("only %d Go files found: the walk is broken", len(out))
	}
	return out
}

func read(t *testing.T, name string, text []byte) source {
	t.Helper()
	file, err := parser.ParseFile(token.NewFileSet(), name, text, parser.ParseComments)
	if err != nil {
		t.Fatal(err)
	}
	s := source{name: name, lines: strings.Count(string(text), "\n"), file: file}
	for _, i := range file.Imports {
		imported, err := strconv.Unquote(i.Path.Value)
		if err != nil {
			t.Fatal(err)
		}
		s.imports = append(s.imports, imported)
	}
	return s
}

// files shows every file of the tree, with its path from the root; not what others brought
// (node_modules) and not what begins with a dot or an underscore.
func files(t *testing.T, show func(name string, text []byte)) {
	t.Helper()
	root := published.Root(t)
	err := filepath.WalkDir(root, func(full string, d fs.DirEntry, err error) error {
		if err != nil || full == root {
			return err
		}
		if hidden := strings.HasPrefix(d.Name(), ".") || strings.HasPrefix(d.Name(), "_"); hidden || d.Name() == "node_modules" {
			if d.IsDir() {
				return filepath.SkipDir
			}
			return nil
		}
		if !d.Type().IsRegular() {
			return nil
		}
		text, err := os.ReadFile(full)
		if err != nil {
			return err
		}
		name, err := filepath.Rel(root, full)
		show(filepath.ToSlash(name), text)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
}

func among(list, word string) bool {
	for _, w := range strings.Fields(list) {
		if w == word {
			return true
		}
	}
	return false
}

// under says whether an import path is that tree or lies in it.
func under(imported, tree string) bool {
	return imported == tree || strings.HasPrefix(imported, tree+"/")
}
