package arch

import (
	"fmt"
	"go/ast"
	"reflect"
	"strconv"
	"strings"
	"testing"
)

// clock are the doors of package time that read or wait for the wall clock.
const clock = "After AfterFunc NewTicker NewTimer Now Since Sleep Tick Until"

// seeded are the doors of math/rand/v2 that are given their seed.
const seeded = "ChaCha8 New NewChaCha8 NewPCG NewZipf PCG Rand Source Zipf"

// translations are struct tags of other people's formats; store, forms and files each have their
// own small translation.
var translations = []string{"csv", "db", "form", "json", "kong", "toml", "xml", "yaml"}

// impure tells what a file of science does that it must be handed instead.
func impure(s source) []string {
	var out []string
	local := map[string]string{} // name in this file -> import path
	for i, spec := range s.file.Imports {
		switch p := s.imports[i]; p {
		case "time", "math/rand/v2":
			name := map[string]string{"time": "time", "math/rand/v2": "rand"}[p]
			if spec.Name != nil {
				name = spec.Name.Name
			}
			local[name] = p
			if name == "." {
				out = append(out, fmt.Sprintf("%s: %s is imported into the file's own names, where no rule can see it", s.name, p))
			}
		}
	}
	ast.Inspect(s.file, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.SelectorExpr:
			x, ok := n.X.(*ast.Ident)
			if !ok || x.Obj != nil { // Obj: a local variable of that name
				return true
			}
			switch p := local[x.Name]; {
			case p == "time" && among(clock, n.Sel.Name):
				out = append(out, fmt.Sprintf("%s uses time.%s: time comes in as an argument", s.name, n.Sel.Name))
			case p == "math/rand/v2" && !among(seeded, n.Sel.Name):
				out = append(out, fmt.Sprintf("%s uses rand.%s, which nobody can repeat: a seed comes in as an argument", s.name, n.Sel.Name))
			}
		case *ast.StructType:
			for _, f := range n.Fields.List {
				if f.Tag == nil {
					continue
				}
				text, _ := strconv.Unquote(f.Tag.Value)
				for _, key := range translations {
					if _, ok := reflect.StructTag(text).Lookup(key); ok {
						out = append(out, fmt.Sprintf("%s has a %q tag: how a thing is written down is for the door that writes it", s.name, key))
					}
				}
			}
		}
		return true
	})
	return out
}

func TestScienceIsHandedTimeAndSeed(t *testing.T) {
	for _, s := range sources(t) {
		if h := height(s.pkg()); s.test() || h < 0 || h > scienceHeight() {
			continue
		}
		for _, fault := range impure(s) {
			t.Error(fault)
		}
	}
}

func TestImpurityIsSeen(t *testing.T) {
	const text = `package water
import ("time"; "math/rand/v2"; clock "time")
type A struct { B int ` + "`json:\"b\"`" + `; C int ` + "`note:\"fine\"`" + ` }
var now = time.Now
var since = clock.Since(time.Time{})
var fine = rand.New(rand.NewPCG(1, 2)).Float64()
var bad = rand.Float64()
func f(time struct{ Now int }) int { return time.Now }
`
	got := strings.Join(impure(read(t, "water/x.go", []byte(text))), "\n")
	want := `water/x.go has a "json" tag: how a thing is written down is for the door that writes it
water/x.go uses time.Now: time comes in as an argument
water/x.go uses time.Since: time comes in as an argument
water/x.go uses rand.Float64, which nobody can repeat: a seed comes in as an argument`
	if got != want {
		t.Errorf("saw:\n%s\nwant:\n%s", got, want)
	}
}
