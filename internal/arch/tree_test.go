package arch

import (
	"go/ast"
	"go/doc"
	"path"
	"strings"
	"testing"
)

const longestFile = 500

func TestFilesHoldOneIdea(t *testing.T) {
	for _, s := range sources(t) {
		if s.lines >= longestFile {
			t.Errorf("%s has %d lines: split it by its ideas before %d", s.name, s.lines, longestFile)
		}
	}
}

func TestPackagesAreNamedForWhatTheyGive(t *testing.T) {
	for _, s := range sources(t) {
		if among(leftovers, path.Base(s.pkg())) {
			t.Errorf("%s: %s is the name of a drawer; name the package for what it gives", s.name, path.Base(s.pkg()))
		}
	}
}

func TestEveryPackageSaysWhatItIs(t *testing.T) {
	said := map[string]bool{}
	for _, s := range sources(t) {
		comment := ""
		if path.Base(s.name) == "doc.go" {
			comment = s.file.Doc.Text()
		}
		main := s.file.Name.Name == "main" && comment != ""
		said[s.pkg()] = said[s.pkg()] || main || strings.HasPrefix(comment, "Package "+s.file.Name.Name+" ")
	}
	for pkg, ok := range said {
		if !ok {
			t.Errorf("%s has no doc.go with a comment that begins \"Package %s \"", pkg, path.Base(pkg))
		}
	}
}

// shownElsewhere are packages whose use is shown by other means than an Example: the scripts of the
// command line, the pages in the browser, files.
const shownElsewhere = "cmd/halfwater internal/web demo"

func TestEveryPackageShowsItsUse(t *testing.T) {
	shown := map[string]bool{}
	for _, s := range sources(t) {
		pkg := s.pkg()
		if height(pkg) < 0 || among(shownElsewhere, pkg) {
			continue
		}
		shown[pkg] = shown[pkg] || s.test() && hasRunnableExample(s.file)
	}
	for pkg, ok := range shown {
		if !ok {
			t.Errorf("%s has no Example with an Output, to show how it is used and to be run", pkg)
		}
	}
}

func hasRunnableExample(file *ast.File) bool {
	for _, e := range doc.Examples(file) {
		if e.Output != "" || e.EmptyOutput {
			return true
		}
	}
	return false
}

func TestTheMapNamesEveryPackage(t *testing.T) {
	told := ""
	packages := map[string]bool{}
	for _, s := range sources(t) {
		if s.name == "doc.go" {
			told = s.file.Doc.Text()
		} else if height(s.pkg()) >= 0 {
			packages[s.pkg()] = true
		}
	}
	for pkg := range packages {
		if !hasWord(told, pkg) {
			t.Errorf("the map in doc.go does not name %s", pkg)
		}
	}
}
