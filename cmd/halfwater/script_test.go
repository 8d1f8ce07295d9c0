package main

import (
	"context"
	"encoding/json"
	"fmt"
	"os"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/rogpeppe/go-internal/testscript"
)

// TestMain makes the program itself a command of the scripts. HALFWATER_TEST_NOW sets its clock.
func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){
		"halfwater": func() {
			now := time.Now
			if t := os.Getenv("HALFWATER_TEST_NOW"); t != "" {
				at, err := time.ParseInLocation("2006-01-02 15:04", t, time.Local)
				if err != nil {
					panic(err)
				}
				now = func() time.Time { return at }
			}
			os.Exit(run(context.Background(), os.Args[1:], os.Stdin, os.Stdout, os.Stderr, now))
		},
	})
}

// TestScripts runs the scripts that specify the commands. The questions among them are those that
// keepers ask, answered through the public door: files in, JSON out.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir: "testdata/script",
		Setup: func(e *testscript.Env) error {
			e.Setenv("HALFWATER_BOOK", e.WorkDir+"/book.sqlite")
			e.Setenv("TZ", "UTC")
			return nil
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			"answers": answers,
			"between": between,
			"code":    code,
		},
		UpdateScripts: os.Getenv("UPDATE") != "",
	})
}

// code N args...: the program ends with exit code N.
func code(ts *testscript.TestScript, neg bool, args []string) {
	want := args[0]
	got := "0"
	if err := ts.Exec(args[1], args[2:]...); err != nil {
		got = strings.TrimPrefix(err.Error(), "exit status ")
	}
	if (got == want) == neg {
		ts.Fatalf("exit code %s, want %s", got, want)
	}
}

// between FILE PATH LO HI: the number at a path of a JSON file lies between LO and HI. A path is
// names and indices with points between; a part like [of=kh] picks the element of a list in which
// that name has that value.
func between(ts *testscript.TestScript, neg bool, args []string) {
	if len(args) != 4 {
		ts.Fatalf("usage: between file path lo hi")
	}
	v, err := at(ts.ReadFile(args[0]), args[1])
	ts.Check(err)
	x, ok := v.(float64)
	if !ok {
		ts.Fatalf("%s is %v, not a number", args[1], v)
	}
	lo, err := strconv.ParseFloat(args[2], 64)
	ts.Check(err)
	hi, err := strconv.ParseFloat(args[3], 64)
	ts.Check(err)
	if (lo <= x && x <= hi) == neg {
		ts.Fatalf("%s is %v, want %v to %v (negated: %v)", args[1], x, lo, hi, neg)
	}
}

// answers FILE PATH [TEXT]: there is something at the path; its text is TEXT when one is given.
func answers(ts *testscript.TestScript, neg bool, args []string) {
	v, err := at(ts.ReadFile(args[0]), args[1])
	ok := err == nil
	if ok && len(args) > 2 {
		ok = strings.Contains(fmt.Sprint(v), args[2])
	}
	if ok == neg {
		ts.Fatalf("%s: %v, %v", args[1], v, err)
	}
}

func at(text, path string) (any, error) {
	var v any
	if err := json.Unmarshal([]byte(text), &v); err != nil {
		return nil, err
	}
	for _, p := range parts(path) {
		switch w := v.(type) {
		case map[string]any:
			next, ok := w[p]
			if !ok {
				return nil, fmt.Errorf("no %q of %q", p, path)
			}
			v = next
		case []any:
			next, err := pick(w, p)
			if err != nil {
				return nil, fmt.Errorf("%q: %w", path, err)
			}
			v = next
		default:
			return nil, fmt.Errorf("%q: %v has no %q", path, v, p)
		}
	}
	return v, nil
}

// parts splits a path at its points, but not within brackets.
func parts(path string) []string {
	var out []string
	depth, from := 0, 0
	for i, r := range path {
		switch {
		case r == '[':
			depth++
		case r == ']':
			depth--
		case r == '.' && depth == 0:
			out = append(out, path[from:i])
			from = i + 1
		}
	}
	return append(out, path[from:])
}

func pick(list []any, p string) (any, error) {
	if i, err := strconv.Atoi(p); err == nil {
		if i < 0 || i >= len(list) {
			return nil, fmt.Errorf("no element %d of %d", i, len(list))
		}
		return list[i], nil
	}
	name, value, ok := strings.Cut(strings.Trim(p, "[]"), "=")
	if !ok {
		return nil, fmt.Errorf("%q is neither an index nor [name=value]", p)
	}
	for _, e := range list {
		if m, ok := e.(map[string]any); ok && fmt.Sprint(m[name]) == value {
			return e, nil
		}
	}
	return nil, fmt.Errorf("no element with %s", p)
}
