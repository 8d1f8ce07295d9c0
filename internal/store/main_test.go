package store

import (
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
)

// Some tests need a process of their own, to be killed or to have fewer rights: the test binary runs
// itself with the name of one of these.
var children = map[string]func(path string) error{
	"write until killed": writeUntilKilled,
	"try to write":       tryToWrite,
}

const childEnv = "HALFWATER_STORE_TEST_CHILD"

func TestMain(m *testing.M) {
	if name := os.Getenv(childEnv); name != "" {
		if err := children[name](os.Args[len(os.Args)-1]); err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(1)
		}
		return
	}
	os.Exit(m.Run())
}

func child(binary, name, path string) *exec.Cmd {
	cmd := exec.Command(binary, path)
	cmd.Env = append(os.Environ(), childEnv+"="+name)
	return cmd
}

func self(t *testing.T) string {
	t.Helper()
	binary, err := os.Executable()
	must(t, err)
	return binary
}

func copyFile(t *testing.T, from, to string, mode os.FileMode) {
	t.Helper()
	in, err := os.Open(from)
	must(t, err)
	defer in.Close()
	out, err := os.OpenFile(to, os.O_CREATE|os.O_TRUNC|os.O_WRONLY, mode)
	must(t, err)
	_, err = io.Copy(out, in)
	must(t, err)
	must(t, out.Close())
	must(t, os.Chmod(to, mode)) // whatever the umask
}

// folder is a folder for many small files: in memory where there is one.
func folder(t *testing.T) string {
	t.Helper()
	if dir, err := os.MkdirTemp("/dev/shm", "halfwater-"); err == nil {
		t.Cleanup(func() { _ = os.RemoveAll(dir) })
		return dir
	}
	return filepath.Clean(t.TempDir())
}
