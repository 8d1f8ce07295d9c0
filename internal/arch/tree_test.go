package arch

import (
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
