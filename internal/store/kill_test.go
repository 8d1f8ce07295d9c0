package store

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"halfwater/book"
	"halfwater/internal/files"
	"halfwater/internal/store/storetest"
)

// batch is how many rows an import of these tests has.
const batch = 40

// writeUntilKilled appends single lines and imports files of rows in turn, and says on its standard
// output what was acknowledged, a name a line.
func writeUntilKilled(path string) error {
	s, err := Open(path, Options{})
	if err != nil {
		return err
	}
	var have int
	if err := s.read.QueryRowContext(ctx, "SELECT count(*) FROM line").Scan(&have); err != nil {
		return err
	}
	fmt.Println("open", have)
	for n := have; ; n++ {
		if n%4 != 0 {
			id := fmt.Sprintf("single-%d-%d", os.Getpid(), n)
			if err := s.Append(ctx, "e", storetest.NoteAt(id, storetest.Day(0), storetest.Day(0))); err != nil {
				return err
			}
			fmt.Println(id)
			continue
		}
		name := fmt.Sprintf("import-%d-%d", os.Getpid(), n)
		var csv strings.Builder
		csv.WriteString("id,at,kind,text\n")
		for i := range batch {
			fmt.Fprintf(&csv, "%s/%d,2026-03-01,note,row %d\n", name, i, i)
		}
		im, err := files.ReadBook(strings.NewReader(csv.String()), files.Options{Now: storetest.Day(9)})
		if err == nil {
			err = im.Err()
		}
		if err == nil {
			err = s.Append(ctx, "e", im.Lines...)
		}
		if err != nil {
			return err
		}
		fmt.Println(name)
	}
}

// A process killed in the middle of appends and imports loses no acknowledged line and leaves no half
// import. (It proves nothing about a cut of the power: the kernel lives on. See TestCutLog for that.)
func TestKills(t *testing.T) {
	kills := 200
	if testing.Short() {
		kills = 20
	}
	path := filepath.Join(t.TempDir(), "book.sqlite")
	random := rand.New(rand.NewPCG(1, 2))
	acknowledged := map[string]bool{}
	inTheMiddle := 0
	for k := range kills {
		cmd := child(self(t), "write until killed", path)
		var stderr bytes.Buffer
		cmd.Stderr = &stderr
		out, err := cmd.StdoutPipe()
		must(t, err)
		must(t, cmd.Start())
		r := bufio.NewReader(out)
		first, err := r.ReadString('\n')
		if err != nil || !strings.HasPrefix(first, "open ") {
			_ = cmd.Process.Kill()
			t.Fatalf("kill %d: the child said %q (%v) %s", k, first, err, stderr.String())
		}
		if n, _ := strconv.Atoi(strings.TrimSpace(strings.TrimPrefix(first, "open "))); n < len(acknowledged) {
			t.Fatalf("kill %d: the child found %d lines, at least %d were acknowledged", k, n, len(acknowledged))
		}
		// Some acknowledgements in, and a moment later, whatever it is doing then.
		var said strings.Builder
		for range random.IntN(8) {
			name, err := r.ReadString('\n')
			if err != nil {
				t.Fatalf("kill %d: the child said %q (%v) %s", k, name, err, stderr.String())
			}
			said.WriteString(name)
		}
		time.Sleep(time.Duration(random.IntN(3000)) * time.Microsecond)
		must(t, cmd.Process.Kill())
		rest, err := io.ReadAll(r)
		must(t, err)
		_ = cmd.Wait() // "signal: killed"
		if state := cmd.ProcessState.String(); !strings.Contains(state, "killed") {
			t.Fatalf("kill %d: the child ended by itself: %s %s", k, state, stderr.String())
		}
		// A last name without its newline was not wholly said.
		for _, name := range strings.SplitAfter(said.String()+string(rest), "\n") {
			if strings.HasSuffix(name, "\n") {
				acknowledged[strings.TrimSpace(name)] = true
				inTheMiddle++
			}
		}
	}
	if inTheMiddle < kills {
		t.Errorf("only %d acknowledgements in %d runs: the kills came before the work", inTheMiddle, kills)
	}
	s, err := Open(path, Options{})
	must(t, err)
	defer s.Close()
	lines, err := s.Lines(ctx, "e")
	must(t, err)
	there := map[string]int{}
	for _, l := range lines {
		name, _, _ := strings.Cut(string(l.ID), "/")
		there[name]++
	}
	imports := 0
	for name, n := range there {
		if strings.HasPrefix(name, "import") {
			if imports++; n != batch {
				t.Errorf("%s is there with %d of %d rows", name, n, batch)
			}
		}
	}
	for name := range acknowledged {
		if there[name] == 0 {
			t.Errorf("%s was acknowledged and is lost", name)
		}
	}
	if imports == 0 {
		t.Error("no import was ever done")
	}
	t.Logf("%d kills, %d acknowledged appends and imports, %d lines", kills, len(acknowledged), len(lines))
	intact(t, s)
}

// intact asks SQLite whether the file is whole.
func intact(t *testing.T, s *Store) {
	t.Helper()
	var verdict string
	must(t, s.read.QueryRowContext(ctx, "PRAGMA integrity_check").Scan(&verdict))
	if verdict != "ok" {
		t.Errorf("the file is not whole: %s", verdict)
	}
}

// TestCutLog cuts the write-ahead log at each byte of its last commits, as a crash of the machine may,
// and opens the book again: every line whose commit is whole is there, the one that was cut is not,
// and the file opens.
func TestCutLog(t *testing.T) {
	dir := folder(t)
	path := filepath.Join(dir, "book.sqlite")
	s, err := Open(path, Options{})
	must(t, err)
	defer s.Close()
	var ends []int64 // of the log after each append
	const appends = 6
	for i := range appends {
		must(t, s.Append(ctx, "e", storetest.NoteAt(fmt.Sprint(i), storetest.Day(i), storetest.Day(i))))
		info, err := os.Stat(path + "-wal")
		must(t, err)
		ends = append(ends, info.Size())
	}
	database, err := os.ReadFile(path)
	must(t, err)
	log, err := os.ReadFile(path + "-wal")
	must(t, err)
	if int64(len(log)) != ends[appends-1] {
		t.Fatalf("the log has %d bytes, not %d", len(log), ends[appends-1])
	}
	// Every byte of the last frame, every byte around the ends of the two last commits and of their
	// frames, and one in 61 of the others.
	const frame = 4096 + 24
	last := ends[appends-2]
	var cuts []int64
	for c := ends[appends-3]; c <= int64(len(log)); c++ {
		near := c >= int64(len(log))-frame || (c >= last-64 && c <= last+64) || (c-32)%frame < 32 || (c-32)%frame > frame-32
		if (near && !testing.Short()) || c%61 == 0 || (c-32)%frame == 0 || c == int64(len(log)) {
			cuts = append(cuts, c)
		}
	}
	for _, c := range cuts {
		there := 0
		for _, end := range ends {
			if end <= c {
				there++
			}
		}
		cut := filepath.Join(dir, "cut.sqlite")
		for _, end := range []string{"-wal", "-shm"} {
			if err := os.Remove(cut + end); err != nil && !errors.Is(err, os.ErrNotExist) {
				t.Fatal(err)
			}
		}
		must(t, os.WriteFile(cut, database, 0o600))
		must(t, os.WriteFile(cut+"-wal", log[:c], 0o600))
		s, err := Open(cut, Options{})
		if err != nil {
			t.Fatalf("cut at %d of %d: %v", c, len(log), err)
		}
		lines, err := s.Lines(ctx, "e")
		if err != nil || len(lines) != there {
			t.Errorf("cut at %d of %d: %d lines, not %d (%v)", c, len(log), len(lines), there, err)
		}
		for i, l := range lines {
			if want := book.ID(fmt.Sprint(i)); l.ID != want {
				t.Errorf("cut at %d: line %s, not %s", c, l.ID, want)
			}
		}
		must(t, s.Close())
	}
	t.Logf("%d cuts of the last %d bytes", len(cuts), int64(len(log))-ends[appends-3])
}
