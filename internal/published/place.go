package published

import (
	"os"
	"path/filepath"
	"testing"
)

// Root is the folder of go.mod, looked for upward from where the test runs.
func Root(t testing.TB) string {
	t.Helper()
	dir, err := os.Getwd()
	if err != nil {
		t.Fatal(err)
	}
	for {
		if _, err := os.Stat(filepath.Join(dir, "go.mod")); err == nil {
			return dir
		}
		up := filepath.Dir(dir)
		if up == dir {
			t.Fatal("published: no go.mod above the folder that the test runs in")
		}
		dir = up
	}
}

// Files gives the paths, relative to [Root], that fit a pattern of [filepath.Glob]. It ends the
// test when there are none: a corpus that went missing must not pass.
func Files(t testing.TB, pattern string) []string {
	t.Helper()
	root := Root(t)
	found, err := filepath.Glob(filepath.Join(root, filepath.FromSlash(pattern)))
	if err != nil {
		t.Fatalf("published: pattern %q: %v", pattern, err)
	}
	if len(found) == 0 {
		t.Fatalf("published: no file fits %q", pattern)
	}
	for i, f := range found {
		found[i], _ = filepath.Rel(root, f)
		found[i] = filepath.ToSlash(found[i])
	}
	return found
}

// Dataset gives the path of a file of measured data that is too large to carry in the project. It
// lies in shared/reference/datasets beside the project's folder; where it is absent the test is
// skipped, and says so.
func Dataset(t testing.TB, name string) string {
	t.Helper()
	path := filepath.Join(Root(t), "..", "shared", "reference", "datasets", filepath.FromSlash(name))
	if _, err := os.Stat(path); err != nil {
		t.Skipf("measured data %s is not beside the project; this check did not run", name)
	}
	return path
}
