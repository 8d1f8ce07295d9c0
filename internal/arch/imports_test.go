package arch

import (
	"fmt"
	"strings"
	"testing"
)

// height is the place of a package in rows, counted from the lowest; -1 when it has none.
func height(pkg string) int {
	for i, r := range rows {
		if among(r.packages, pkg) {
			return len(rows) - 1 - i
		}
	}
	return -1
}

func scienceHeight() int {
	for i, r := range rows {
		if r.name == science {
			return len(rows) - 1 - i
		}
	}
	panic("arch: science names no row")
}

// rowOf names the row of a package for a sentence.
func rowOf(pkg string) string { return rows[len(rows)-1-height(pkg)].name }

// mayImport says in a sentence why a file of package pkg may not import this; "" when it may.
func mayImport(pkg, imported string) string {
	if among(onlyEmbed, pkg) {
		if !among("embed time", imported) {
			return "it is data for others to read, and imports embed and time only"
		}
		return ""
	}
	if mine, ok := ours(imported); ok {
		return mayKnow(pkg, mine)
	}
	if first, _, _ := strings.Cut(imported, "/"); strings.Contains(first, ".") {
		return mayInvite(pkg, imported)
	}
	if height(pkg) <= scienceHeight() {
		for _, tree := range technology {
			if under(imported, tree) && imported != excused[pkg] && imported != "math/rand/v2" {
				return fmt.Sprintf("rows up to %s know no technology (%s)", science, tree)
			}
		}
	}
	return ""
}

// mayKnow is the rule within the module.
func mayKnow(pkg, other string) string {
	switch {
	case among(forTests, other):
		return "only tests may import it"
	case height(other) < 0:
		return fmt.Sprintf("%s stands in no row of internal/arch/rows_test.go", other)
	case height(other) == height(pkg):
		return fmt.Sprintf("both stand in row %s: let one of them be handed what it needs, or move the border", rowOf(pkg))
	case height(other) > height(pkg):
		return fmt.Sprintf("imports point down: %s is row %s, %s is row %s", pkg, rowOf(pkg), other, rowOf(other))
	}
	for _, b := range apart {
		if among(b.packages, pkg) && among(b.mayNotImport, other) {
			return b.because
		}
	}
	return ""
}

// mayInvite is the rule for modules that are not ours.
func mayInvite(pkg, imported string) string {
	for _, g := range guests {
		if under(imported, g.module) {
			if among(g.packages, pkg) {
				return ""
			}
			return fmt.Sprintf("%s is for %s; say in internal/arch/rows_test.go why it is needed here too", g.module, g.packages)
		}
	}
	return "it is none of the guests in internal/arch/rows_test.go: do without it, or add it there with the packages that may import it"
}

func TestImportsPointDown(t *testing.T) {
	homeless := map[string]bool{}
	for _, s := range sources(t) {
		pkg := s.pkg()
		if pkg == "." {
			if len(s.imports) > 0 && !s.test() {
				t.Errorf("%s: the root package is the map; it imports nothing", s.name)
			}
			continue
		}
		if s.test() || among(forTests, pkg) {
			continue
		}
		if height(pkg) < 0 {
			homeless[pkg] = true
			continue
		}
		for _, imported := range s.imports {
			if why := mayImport(pkg, imported); why != "" {
				t.Errorf("%s imports %s: %s", s.name, imported, why)
			}
		}
	}
	for pkg := range homeless {
		t.Errorf("package %s has no place: add it to a row of internal/arch/rows_test.go (what it may import stands below it, who may import it above), and say why in the commit", pkg)
	}
}

func TestNoPackageStandsTwice(t *testing.T) {
	seen := map[string]bool{}
	for _, r := range append(rows, row{"for tests", forTests}) {
		for _, pkg := range strings.Fields(r.packages) {
			if seen[pkg] {
				t.Errorf("%s stands in two rows", pkg)
			}
			seen[pkg] = true
		}
	}
	for _, b := range apart {
		for _, pkg := range strings.Fields(b.packages + " " + b.mayNotImport) {
			if !seen[pkg] {
				t.Errorf("apart names %s, which stands in no row", pkg)
			}
		}
	}
	for _, g := range guests {
		for _, pkg := range strings.Fields(g.packages) {
			if !seen[pkg] {
				t.Errorf("guests names %s, which stands in no row", pkg)
			}
		}
	}
}

// The rule itself, on imports that must not pass and on some that must.
func TestTheRuleBites(t *testing.T) {
	for _, c := range []struct{ pkg, imported, why string }{
		{"water", "halfwater/quantity", ""},
		{"plan", "halfwater/infer", ""},
		{"internal/keeper", "log/slog", ""},
		{"internal/say", "text/template", ""},
		{"infer", "math/rand/v2", ""},
		{"infer", "gonum.org/v1/gonum/mat", ""},
		{"demo", "embed", ""},
		{"water", "halfwater/kit", "both stand in row 1a"},
		{"quantity", "halfwater/cite", "both stand in row 0"},
		{"quantity", "halfwater/water", "imports point down"},
		{"infer", "halfwater/internal/keeper", "imports point down"},
		{"dynamics", "halfwater/husbandry", "what an animal wants"},
		{"infer", "halfwater/husbandry", "what an animal wants"},
		{"emergency", "halfwater/infer", "no belief"},
		{"emergency", "halfwater/load", "no belief"},
		{"plan", "halfwater/internal/published", "only tests"},
		{"plan", "halfwater/chemistry", "stands in no row"},
		{"demo", "io/fs", "embed and time only"},
		{"demo", "halfwater/quantity", "embed and time only"},
		{"water", "os/exec", "no technology"},
		{"plan", "net/http", "no technology"},
		{"book", "database/sql", "no technology"},
		{"audit", "log/slog", "no technology"},
		{"plan", "text/template", "no technology"},
		{"infer", "math/rand", "no technology"},
		{"internal/keeper", "modernc.org/sqlite", "is for internal/store"},
		{"internal/web", "example.org/router", "none of the guests"},
	} {
		got := mayImport(c.pkg, c.imported)
		if (c.why == "") != (got == "") || !strings.Contains(got, c.why) {
			t.Errorf("%s imports %s: said %q, want %q", c.pkg, c.imported, got, c.why)
		}
	}
}
